using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A quantity that is not known guaranteed, and the kind of error that it makes.</summary>
/// <param name="Name">The source: "shift.R1 tolerance".</param>
/// <param name="Distribution">What is known about its value.</param>
/// <param name="Kind">What kind of source it is.</param>
public record ErrorQuantity(string Name, InputDistribution Distribution, ErrorKind Kind) : InputQuantity(Name, Distribution)
{
    /// <summary>The reading of the calibration that it spoils; null for what spoils every reading.</summary>
    public CalibrationReading? Reading { get; init; }
}

/// <summary>The readings of a two-point calibration.</summary>
public enum CalibrationReading
{
    /// <summary>The lower one.</summary>
    Lower,

    /// <summary>The upper one.</summary>
    Upper,
}

/// <summary>A source of error that acts on numbers of the circuit.</summary>
/// <param name="Name">The source: "shift.R1 tolerance".</param>
/// <param name="Distribution">What is known about its value.</param>
/// <param name="Kind">What kind of source it is.</param>
/// <param name="Numbers">The numbers that it acts on.</param>
/// <param name="Apply">Gives the number, from the number so far, the source's value and the kelvins above 25 °C.</param>
public sealed record ErrorSource(string Name, InputDistribution Distribution, ErrorKind Kind, ImmutableArray<VariedNumber> Numbers,
    Func<double, double, double, double> Apply) : ErrorQuantity(Name, Distribution, Kind)
{
    /// <summary>Limits either way about zero: all that a tolerance says (JCGM 100:2008, 4.3.7).</summary>
    public static RectangularInput Limits(double either) => new(-Math.Abs(either), Math.Abs(either));

    /// <summary>A relative error of numbers; none if <paramref name="tolerance"/> is zero.</summary>
    public static IEnumerable<ErrorSource> Scale(string name, ErrorKind kind, double tolerance, params ImmutableArray<VariedNumber> numbers)
    {
        if (tolerance > 0)
            yield return new(name, Limits(tolerance), kind, numbers, (now, x, _) => now * (1 + x));
    }

    /// <summary>An error that adds to a number; none if <paramref name="most"/> is zero.</summary>
    public static IEnumerable<ErrorSource> Add(string name, ErrorKind kind, double most, VariedNumber number)
    {
        if (most > 0)
            yield return new(name, Limits(most), kind, [number], (now, x, _) => now + x);
    }

    /// <summary>A factor either way, evenly on a logarithmic scale.</summary>
    public static ErrorSource Factor(string name, ErrorKind kind, double factor, params ImmutableArray<VariedNumber> numbers) =>
        new(name, Limits(1), kind, numbers, (now, x, _) => now * Math.Pow(factor, x));

    /// <summary>Spread of the resistance of a fuse, or of a bead's wire.</summary>
    /// <param name="element">Name of the resistor that stands for it.</param>
    public static IEnumerable<ErrorSource> Wire(string element) => Scale(element + " resistance", ErrorKind.ResistorTolerance,
        UsualSpread.Wire.Amount, new VariedNumber(element, Resistor.Resistance));

    // 0.393 %/K of what it is at 20 °C (annealed copper, IEC 60028, from memory), about 25 °C.
    private const double CopperPerKelvin = 0.00393 / (1 + 5 * 0.00393);

    /// <summary>Tolerance and temperature coefficient of the resistance of copper.</summary>
    public static IEnumerable<ErrorSource> Copper(string name, double? tolerance, params ImmutableArray<VariedNumber> numbers) =>
        [
            .. Scale(name + " resistance" + (tolerance is null ? $" ({UsualSpread.Copper.Text} taken)" : ""), ErrorKind.ResistorTolerance,
                tolerance ?? UsualSpread.Copper.Amount, numbers),
            new(name + " copper", Limits(CopperPerKelvin), ErrorKind.ResistorTemperature, numbers, (now, x, kelvins) =>
                now * (1 + x * kelvins)),
        ];

    /// <summary>Tolerance and temperature coefficient of a resistance.</summary>
    public static IEnumerable<ErrorSource> Resistance(string name, Toleranced ohms, AssumedSpread assumed,
        params ImmutableArray<string> elements)
    {
        foreach (var source in Scale(name + " tolerance", ErrorKind.ResistorTolerance, ohms.Tolerance,
            [.. elements.Select(e => new VariedNumber(e, Resistor.Resistance))]))
            yield return source;
        double tempCo = ohms.TempCo ?? assumed.ResistorTempCo;
        if (tempCo != 0)
        {
            yield return new(name + " tempco", Limits(tempCo), ErrorKind.ResistorTemperature,
                [.. elements.Select(e => new VariedNumber(e, Resistor.TemperatureCoefficient))], (_, x, _) => x);
        }
    }
}

/// <summary>What is taken for the spread of a part where its own numbers say nothing.</summary>
public sealed record AssumedSpread
{
    /// <summary>Temperature coefficient of resistors, either way, 1/K.</summary>
    public double ResistorTempCo { get; init; } = UsualSpread.ResistorDrift.Amount;

    /// <summary>Temperature coefficient of rails, either way, 1/K.</summary>
    public double RailTempCo { get; init; } = UsualSpread.RailDrift.Amount;

    /// <summary>
    /// Open-loop gain of an op amp, of which a typical value is known, lies between that over this factor and that times it, evenly on
    /// a logarithmic scale (common practice, no source).
    /// </summary>
    public double GainFactor { get; init; } = UsualSpread.Gain.Amount;

    /// <summary>The same of a leakage of which a typical value is known (common practice, no source).</summary>
    public double LeakageFactor { get; init; } = UsualSpread.Leakage.Amount;

    /// <summary>
    /// Tolerance of a zener's voltage whose data sheet states none: the A suffix of the 1N4728A series, and the C of half-watt zeners
    /// (from memory).
    /// </summary>
    public double ZenerTolerance { get; init; } = UsualSpread.Zener.Amount;
}

/// <summary>Kinds of source of error.</summary>
public enum ErrorKind
{
    /// <summary>Tolerance of a resistor.</summary>
    ResistorTolerance,

    /// <summary>Temperature coefficient of a resistor.</summary>
    ResistorTemperature,

    /// <summary>The sensor's own error.</summary>
    Sensor,

    /// <summary>Voltage of a rail or reference, and its change with temperature.</summary>
    Rail,

    /// <summary>Offset voltage of an op amp, and its change with temperature.</summary>
    OffsetVoltage,

    /// <summary>Bias and offset current of an op amp.</summary>
    BiasCurrent,

    /// <summary>Open-loop gain of an op amp.</summary>
    Gain,

    /// <summary>Leakage of clamps and of the pin.</summary>
    Leakage,

    /// <summary>Offset, gain and linearity of the converter itself.</summary>
    Converter,

    /// <summary>The converter's step.</summary>
    Quantisation,

    /// <summary>What the sampling capacitor still lacks, or has too much, when it is disconnected.</summary>
    Settling,

    /// <summary>Where in the period the samples of what alternates fall.</summary>
    Sampling,

    /// <summary>What the circuit lets through of what alternates.</summary>
    Attenuation,

    /// <summary>Hum of a sensor's line.</summary>
    Hum,

    /// <summary>Noise of one reading.</summary>
    Noise,

    /// <summary>Step and noise of the two readings of the calibration.</summary>
    Calibration,
}
