using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>A thermistor whose resistance falls with temperature, by its B: R = R0·exp(B·(1/T − 1/T0)), T in kelvin (IEC 60539-1, from
/// memory).</summary>
/// <param name="Ohms">Resistance R0, ohm, with its tolerance.</param>
/// <param name="AtCelsius">Temperature T0 at which it has that, °C.</param>
/// <param name="B">B, K, with its tolerance.</param>
public sealed record ThermistorLaw(Toleranced Ohms, double AtCelsius, Toleranced B) : SensorLaw
{
    /// <inheritdoc/>
    public override Unit Output => Unit.Ohm;

    /// <inheritdoc/>
    public override bool IsOfTemperature => true;

    /// <summary>As far as thermistors are used, °C (−55 .. 300, glass; from memory).</summary>
    public override Span? Validity => new(-55, 300);

    /// <inheritdoc/>
    public override InverseFormula WayBack => new(InverseKind.Beta, [Ohms.Value, AtCelsius + Constants.ZeroCelsius, B.Value]);

    /// <inheritdoc/>
    public override string Text =>
        $"thermistor of {SiText.Format(Ohms.Value, "ohm")} at {SiText.Format(AtCelsius, "°C")}, B {SiText.Plain(B.Value, "K")}";

    private protected override ImmutableArray<(string Name, double Limit)> Tolerances =>
        [("R0 tolerance", Ohms.Tolerance), ("B tolerance", B.Tolerance)];

    private protected override double Value(double quantity, double celsius, double first, double second) =>
        Ohms.Value * (1 + first) * Math.Exp(B.Value * (1 + second)
            * (1 / (quantity + Constants.ZeroCelsius) - 1 / (AtCelsius + Constants.ZeroCelsius)));
}

/// <summary>
/// A thermistor by the equation of J. S. Steinhart and S. R. Hart, "Calibration curves for thermistors", Deep-Sea Research 15 (1968):
/// 1/T = a + b·ln R + c·(ln R)³, T in kelvin, R in ohm.
/// </summary>
/// <param name="A">a, 1/K.</param>
/// <param name="B">b, 1/K, above zero.</param>
/// <param name="C">c, 1/K, zero or more.</param>
public sealed record SteinhartHartLaw(double A, double B, double C) : SensorLaw
{
    /// <summary>Largest relative error of its resistance either way, a fraction.</summary>
    public double OhmsTolerance { get; init; }

    /// <inheritdoc/>
    public override Unit Output => Unit.Ohm;

    /// <inheritdoc/>
    public override bool IsOfTemperature => true;

    /// <summary>As far as thermistors are used, °C (−55 .. 300, glass; from memory).</summary>
    public override Span? Validity => new(-55, 300);

    /// <inheritdoc/>
    public override InverseFormula WayBack => new(InverseKind.SteinhartHart, [A, B, C]);

    /// <inheritdoc/>
    public override string Text => "thermistor by Steinhart-Hart";

    private protected override ImmutableArray<(string Name, double Limit)> Tolerances => [("R0 tolerance", OhmsTolerance)];

    private protected override double Value(double quantity, double celsius, double first, double second)
    {
        double rest = 1 / (quantity + Constants.ZeroCelsius) - A;
        // The cubic c·y³ + b·y = rest has one root (Cardano), as b and c are positive; with c = 0 it is a line.
        double y = rest / B;
        if (C > 0)
        {
            double p = B / (3 * C), half = rest / (2 * C), root = Math.Sqrt(p * p * p + half * half);
            // Of the two cube roots the larger is taken and the other follows from their product, so that nothing cancels.
            double large = Math.Cbrt(Math.Abs(half) + root);
            y = Math.CopySign(large - p / large, half);
        }
        return (1 + first) * Math.Exp(y);
    }
}
