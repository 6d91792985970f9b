namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>A straight line over the span of the sensor: an output at each end, and beyond them on the same line.</summary>
/// <param name="Input">The span, in the quantity's unit.</param>
/// <param name="AtLow">What it gives at the lower end.</param>
/// <param name="AtHigh">What it gives at the upper end; below <paramref name="AtLow"/> for one that falls.</param>
/// <param name="Gives">What that is: volts, ohm, amperes, farads or coulombs.</param>
public sealed record StraightLaw(Span Input, double AtLow, double AtHigh, Unit Gives) : SensorLaw
{
    /// <summary>Largest relative error of its slope either way, a fraction, about 0 of the quantity, or the nearer end of the
    /// span.</summary>
    public double SensitivityError { get; init; }

    /// <summary>Largest dark current of a photodiode at 25 °C, A: what it gives without light. It doubles every 10 K (common practice, from
    /// memory).</summary>
    public double DarkAmps { get; init; }

    /// <inheritdoc/>
    public override Unit Output => Gives;

    /// <inheritdoc/>
    public override bool IsStraight => true;

    /// <inheritdoc/>
    public override string Text => $"{SiText.Format(AtLow, Gives.Symbol)} .. {SiText.Format(AtHigh, Gives.Symbol)}";

    /// <summary>What is measured where it gives so much, beyond the span on the same line.</summary>
    /// <param name="output">Volts, ohm, amperes or a share.</param>
    public double QuantityAt(double output) => Input.Low + (output - AtLow) / (AtHigh - AtLow) * Input.Width;

    /// <summary>The same line with what it gives in another measure.</summary>
    /// <param name="factor">What it gives is multiplied with this.</param>
    /// <param name="gives">What that makes of it.</param>
    public StraightLaw Scaled(double factor, Unit gives) => this with { AtLow = factor * AtLow, AtHigh = factor * AtHigh, Gives = gives };

    private double Pivot => Math.Clamp(0, Input.Low, Input.High);

    private protected override ImmutableArray<(string Name, double Limit)> Tolerances =>
        [("sensitivity", SensitivityError), ("dark current", DarkAmps)];

    private protected override double Value(double quantity, double celsius, double first, double second)
    {
        double slope = (AtHigh - AtLow) / Input.Width;
        return AtLow + slope * (quantity - Input.Low) + first * slope * (quantity - Pivot)
            + second * Math.Pow(2, (celsius - 25) / 10);
    }
}
