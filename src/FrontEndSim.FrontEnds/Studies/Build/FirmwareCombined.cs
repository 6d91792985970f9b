using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What firmware computes from the codes of several pins, in floating point.</summary>
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

    /// <summary>The same in C, of x0, x1 and x2; empty without one.</summary>
    public string Expression { get; init; } = "";

    /// <summary>What is measured by the other pin of a cold junction, in a word; null with a formula.</summary>
    public string? JunctionQuantity { get; init; }

    /// <summary>The codes of its pins that are valid readings; empty for a cold junction, whose pins have firmware of their own.</summary>
    public ImmutableArray<ValidBand> Valid { get; init; } = [];

    /// <summary>The same as C, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    internal static FirmwareCombined Of(SolvedFrontEnd solved, CombinedReading reading, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var back = CombinedBack.Of(solved, reading, cancel);
        var sensor = frontEnd.FindSensor(reading.Sensor);
        return new(reading.Name, reading.Sensor, reading.Pins, sensor.Quantity, sensor.UnitText,
            [.. reading.Pins.Select(p => frontEnd.FindPin(p).Converter!.Bits)], back.Middle,
            back.Half, back.Coefficients, back.Residual)
        {
            Formula = reading.Formula,
            Expression = reading.C,
            JunctionQuantity = reading.Formula is null ? MappingStudy.SensorOf(frontEnd, frontEnd.FindPin(reading.Pins[1]))?.Quantity
                : null,
        };
    }
}
