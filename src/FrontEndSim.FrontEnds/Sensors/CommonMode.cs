using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>What the other node of a differential sensor stands at against ground: anything in a range. Firmware is made for the middle,
/// and the rest is an error as far as the circuit does not reject it.</summary>
/// <param name="Volts">The range, V.</param>
public sealed record CommonMode(Span Volts)
{
    /// <summary>Where in it the node stands, V; null for the middle.</summary>
    public double? StandsAt { get; init; }

    private static readonly Span Unity = new(0, 1);

    private static string Name(string sensor) => sensor + ".common mode";

    internal Element ToElement(string sensor, string node) =>
        new VoltageSource(Name(sensor), node, Circuit.Ground, StandsAt ?? Volts.Middle)
        {
            // A straight line through nothing that may be off by half of the range.
            Law = new StraightLaw(Unity, 0, 1, Unit.Volts) { OffsetError = 0.5 * Volts.Width },
        };

    internal ErrorSource ErrorSource(string sensor) => new(sensor + " common mode", Parts.ErrorSource.Limits(1), ErrorKind.Sensor,
        [new(Name(sensor), Characteristic.Errors[0])], (_, x, _) => x);

    /// <summary>The same standing at an end of its range.</summary>
    /// <param name="high">At the upper end, else at the lower one.</param>
    public CommonMode At(bool high) => this with { StandsAt = high ? Volts.High : Volts.Low };
}
