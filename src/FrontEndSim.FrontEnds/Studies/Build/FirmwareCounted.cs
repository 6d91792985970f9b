using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What firmware makes of the pulses that it counts in a time.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Quantity">What is measured, in a word.</param>
/// <param name="Unit">Symbol of its unit.</param>
/// <param name="GateSeconds">For how long pulses are counted, s.</param>
/// <param name="Factor">What a pulse stands for, in that unit.</param>
/// <param name="Offset">What no pulse stands for, in that unit.</param>
/// <param name="MostCounts">The most pulses that come in that time.</param>
public sealed record FirmwareCounted(string Pin, string Sensor, string Quantity, string Unit, double GateSeconds,
    double Factor, double Offset,
    double MostCounts)
{
    // A count that is longer than twice what can come is no count.
    private const double MostOver = 2;

    // The widest count that firmware keeps.
    private const int MostBits = 32;

    /// <summary>The same in whole numbers, for up to <see cref="LastCount"/> pulses.</summary>
    public WholeNumberLine Whole => WholeNumberLine.For(Factor, Offset, Bits);

    /// <summary>The most pulses that are told apart: twice those that come, and up to the next power of two.</summary>
    public long LastCount => (1L << Bits) - 1;

    private int Bits => Math.Clamp((int)Math.Ceiling(Math.Log2(MostOver * MostCounts + 1)), 1, MostBits);

    /// <summary>The same as C, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    /// <summary>Of each pin that counts a sensor's pulses.</summary>
    internal static IEnumerable<FirmwareCounted> Of(FrontEnd frontEnd)
    {
        foreach (var pin in frontEnd.Pins)
        {
            if (pin.Counting is { } counting && SignalPath.SensorOf(frontEnd, pin) is { Pulses: { } train } sensor)
            {
                yield return new(pin.Name, sensor.Name, train.Quantity, train.UnitText, counting.GateSeconds,
                    train.UnitsPerHertz / counting.GateSeconds, train.Measured.Low - train.LowHertz * train.UnitsPerHertz,
                    Math.Ceiling(train.MostHertz * counting.GateSeconds));
            }
        }
    }
}
