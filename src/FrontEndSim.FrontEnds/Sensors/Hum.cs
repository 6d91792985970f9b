using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>What the mains beside a sensor's line bring into it: a voltage in series with the line, as a magnetic field induces it in the
/// loop, or one that reaches the line through a capacitance.</summary>
/// <param name="RmsVolts">Its root mean square, V, above zero.</param>
/// <param name="Hertz">Its frequency, Hz, above zero.</param>
/// <param name="Tolerance">How far that may be off, a fraction either way: firmware samples by its own clock.</param>
/// <param name="Farads">The capacitance, F; null for a voltage in series.</param>
public sealed record Hum(double RmsVolts, double Hertz, double Tolerance, double? Farads)
{
    /// <summary>Its crest: the voltage in series, V, or what a capacitance lets through into a line that stands still, A.</summary>
    internal double Crest => Math.Sqrt(2) * RmsVolts * (Farads is { } farads ? 2 * Math.PI * Hertz * farads : 1);

    /// <summary>Name of the source that stands for the hum of a sensor.</summary>
    internal static string SourceOf(Sensor sensor) => sensor.Name + ".hum";

    /// <summary>A front end in which the source is there, at the operating point, and its elements.</summary>
    internal (FrontEnd With, ImmutableArray<Element> Added) Beside(FrontEnd frontEnd, Sensor sensor)
    {
        string line = sensor.Name + ".line", source = SourceOf(sensor);
        if (Farads is { } farads)
            return (frontEnd,
                [new VoltageSource(source, line, Circuit.Ground, 0), new Capacitor(source + " capacitance", line, sensor.Node, farads)]);
        var inner = sensor.Rewired(sensor.Node, line);
        return (frontEnd with { Sensors = frontEnd.Sensors.Replace(sensor, inner) }, [new VoltageSource(source, sensor.Node, line, 0)]);
    }
}
