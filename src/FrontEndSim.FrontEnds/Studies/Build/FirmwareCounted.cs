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
