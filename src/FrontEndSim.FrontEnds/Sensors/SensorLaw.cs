using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using MathNet.Numerics.RootFinding;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>
/// How a sensor turns what it measures into volts, ohm or amperes, and what it may be off by. Over the span of a sensor it rises or falls
/// without turning, so that the way back has one answer.
/// </summary>
public abstract record SensorLaw : Characteristic
{
    /// <summary>What it gives: volts, ohm or amperes.</summary>
    public abstract Unit Output { get; }

    /// <summary>Where it holds, in the quantity's unit; null for anywhere.</summary>
    public virtual Span? Validity => null;

    /// <summary>Whether it holds of temperatures in °C alone.</summary>
    public virtual bool IsOfTemperature => false;

    /// <summary>Whether it is a straight line, so that a factor and an offset lead back to the quantity.</summary>
    public virtual bool IsStraight => false;

    /// <summary>Whether what it gives hangs on the circuit's own temperature too, which firmware then has to know.</summary>
    public virtual bool NeedsAmbient => false;

    /// <summary>The way back from what it gives as a formula that firmware can compute; null where there is none in closed form.</summary>
    public virtual InverseFormula? WayBack => null;

    /// <summary>What it is, in a few words: "platinum, 100 Ω".</summary>
    public abstract string Text { get; }

    /// <summary>Largest error either way in the quantity's unit, wherever it stands.</summary>
    public double OffsetError { get; init; }

    /// <summary>What is added to it for each unit of the quantity's magnitude, as in classes of IEC 60751; a fraction.</summary>
    public double ProportionalError { get; init; }

    /// <summary>What it gives where nothing is off.</summary>
    /// <param name="quantity">What is measured, in its own unit.</param>
    /// <param name="celsius">Temperature of the circuit, °C.</param>
    public double At(double quantity, double celsius = 25) => Of(quantity, celsius, []);

    /// <inheritdoc/>
    public sealed override double Of(double quantity, double celsius, ReadOnlySpan<double> errors)
    {
        double off = errors.IsEmpty ? 0 : errors[0] * (OffsetError + ProportionalError * Math.Abs(quantity));
        return Value(quantity + off, celsius, errors.IsEmpty ? 0 : errors[1], errors.IsEmpty ? 0 : errors[2]);
    }

    /// <summary>What it gives, with its own two numbers off by so much.</summary>
    private protected abstract double Value(double quantity, double celsius, double first, double second);

    /// <summary>What its own two numbers may be off by, each with its name; a tolerance of zero is none.</summary>
    private protected virtual ImmutableArray<(string Name, double Limit)> Tolerances => [];

    /// <summary>Name of the source of error that a sensor is by itself.</summary>
    internal static string OwnError(string sensor) => sensor + " own error";

    /// <summary>What a sensor of this law may be off by.</summary>
    /// <param name="sensor">Name of the sensor, which is that of its element.</param>
    internal IEnumerable<ErrorSource> ErrorSources(string sensor)
    {
        if (OffsetError > 0 || ProportionalError > 0)
            yield return new(OwnError(sensor), ErrorSource.Limits(1), ErrorKind.Sensor, [new(sensor, Errors[0])], (_, x, _) => x);
        var own = Tolerances;
        for (int k = 0; k < own.Length; k++)
        {
            if (own[k].Limit > 0)
                yield return new($"{sensor} {own[k].Name}", ErrorSource.Limits(own[k].Limit),
                    ErrorKind.Sensor, [new(sensor, Errors[k + 1])], (_, x, _) => x);
        }
    }

    /// <summary>The quantity at which it gives a value, by Brent's method over a span that holds it; the nearer end of the span where the
    /// value lies beyond.</summary>
    /// <param name="output">Volts, ohm or amperes.</param>
    /// <param name="span">Where to look, in the quantity's unit.</param>
    /// <param name="celsius">Temperature of the circuit, °C.</param>
    public double Inverse(double output, Span span, double celsius = 25)
    {
        double Off(double quantity) => At(quantity, celsius) - output;
        double low = Off(span.Low), high = Off(span.High);
        if (low * high < 0)
            return Brent.FindRoot(Off, span.Low, span.High, Rounding * Math.Max(Math.Abs(span.Low), Math.Abs(span.High)), MostSteps);
        return Math.Abs(low) <= Math.Abs(high) ? span.Low : span.High;
    }

    // No nearer than numbers of the span's size lie to each other.
    private const double Rounding = 1e-15;
    private const int MostSteps = 200;

    /// <summary>Where over a span it turns back or stands still, in the quantity's unit; null where it only rises or only falls.</summary>
    /// <param name="span">The span.</param>
    public double? TurnsAt(Span span)
    {
        const int steps = 400;
        double before = At(span.Low), whole = At(span.High) - before;
        if (!double.IsFinite(whole) || whole == 0)
            return span.Low;
        for (int k = 1; k <= steps; k++)
        {
            double here = At(span.At((double)k / steps));
            if (!((here - before) * Math.Sign(whole) > 0))
                return span.At((k - 0.5) / steps);
            before = here;
        }
        return null;
    }
}
