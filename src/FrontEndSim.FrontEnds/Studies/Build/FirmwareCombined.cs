using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What firmware computes from the codes of several pins.</summary>
/// <param name="Reading">Name of the reading.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pins">Names of the pins.</param>
/// <param name="Quantity">What is measured, in a word.</param>
/// <param name="Unit">Symbol of its unit.</param>
/// <param name="Bits">Resolution of each pin's converter.</param>
/// <param name="Middle">What is taken from the number that the formula gives.</param>
/// <param name="Half">What that is divided by.</param>
/// <param name="Coefficients">The polynomial that follows, lowest power first; empty for a cold junction.</param>
/// <param name="Residual">Largest departure of the nominal circuit over the span, in the sensor's unit.</param>
public sealed record FirmwareCombined(string Reading, string Sensor, ImmutableArray<string> Pins,
    string Quantity, string Unit, ImmutableArray<int> Bits, double Middle, double Half,
    ImmutableArray<double> Coefficients, double Residual)
{
    /// <summary>The formula, in which each pin stands for its share of the range of its converter; null for a cold junction.</summary>
    public string? Formula { get; init; }

    /// <summary>The same as data; null for a cold junction.</summary>
    public ShareExpression? Shares { get; init; }

    /// <summary>The same in C, of x0, x1 and x2, where somebody wrote it; else empty.</summary>
    public string Expression { get; init; } = "";

    /// <summary>Below it a number that the formula gives is taken as this, as it is beyond the span.</summary>
    public double LowestNumber { get; init; }

    /// <summary>Above it a number is taken as this.</summary>
    public double HighestNumber { get; init; }

    /// <summary>The same in whole numbers; null for a cold junction, and where its formula has what only floating point computes.</summary>
    public WholeReading? Whole { get; init; }

    /// <summary>What in the formula only floating point computes; null where nothing is in the way.</summary>
    public CalculationKind? InTheWay { get; init; }

    /// <summary>The cold junction; null with a formula.</summary>
    public FirmwareJunction? Junction { get; init; }

    /// <summary>The codes of its pins that are valid readings; empty for a cold junction, whose pins have firmware of their own.</summary>
    public ImmutableArray<ValidBand> Valid { get; init; } = [];

    /// <summary>The same as C, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    /// <summary>Of a reading and of what each pin has by itself.</summary>
    internal static FirmwareCombined Of(SolvedFrontEnd solved, CombinedReading reading, ImmutableArray<FirmwareConstants> alone,
        CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var back = CombinedBack.Of(solved, reading, cancel);
        var sensor = frontEnd.FindSensor(reading.Sensor);
        Converter[] converters = [.. reading.Pins.Select(p => frontEnd.FindPin(p).Converter!)];
        var made = new FirmwareCombined(reading.Name, reading.Sensor, reading.Pins, sensor.Quantity, sensor.UnitText,
            [.. converters.Select(c => c.Bits)], back.Middle, back.Half, back.Coefficients, back.Residual)
        {
            Formula = reading.Formula,
            Shares = reading.Expression,
        };
        if (reading.Expression is not { } expression)
            return made with { Junction = FirmwareJunction.Of(reading, alone) };
        double[] codes = [.. converters.Select(c => c.Codes)];
        double step = Enumerable.Range(0, codes.Length).Select(k => back.Counts.Max(c => back.Step(c, codes, k))).Where(s => s > 0)
            .DefaultIfEmpty(sensor.Span.Width).Min();
        return made with
        {
            LowestNumber = back.Numbers.Low,
            HighestNumber = back.Numbers.High,
            Whole = WholeReading.Of(back, expression, made.Bits, step, out var inTheWay),
            InTheWay = inTheWay,
        };
    }
}
