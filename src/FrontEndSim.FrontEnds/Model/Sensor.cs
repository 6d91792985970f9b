using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>A sensor that drives a node with a voltage behind a source resistance.</summary>
/// <param name="Name">Name of the sensor.</param>
/// <param name="Node">The node that it drives.</param>
/// <param name="Span">Its voltage without load, V, over the range of use.</param>
/// <param name="SourceOhms">Source resistance, ohm; zero for none.</param>
public sealed record Sensor(string Name, string Node, Span Span, double SourceOhms)
{
    internal Element ToElement(double volts) => new VoltageSource(Name, Node, Circuit.Ground, volts) { SeriesOhms = SourceOhms };
}
