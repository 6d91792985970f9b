using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A sensor that drives a node with a voltage behind a source resistance.</summary>
/// <param name="Name">Name of the sensor.</param>
/// <param name="Node">The node that it drives.</param>
/// <param name="Span">Its voltage without load, V, over the range of use.</param>
/// <param name="SourceOhms">Source resistance, ohm; zero for none.</param>
public sealed record Sensor(string Name, string Node, Span Span, double SourceOhms)
{
    /// <summary>The longest that it takes from one end of its span to the other, s, above zero; null where that is not known.</summary>
    public double? EdgeSeconds { get; init; }

    /// <summary>Ripple that rides on its voltage; null for none.</summary>
    public Ripple? Ripple { get; init; }

    internal Element ToElement(double volts) => new VoltageSource(Name, Node, Circuit.Ground, volts) { SeriesOhms = SourceOhms };
}

/// <summary>A sine that rides on a voltage.</summary>
/// <param name="PeakToPeakVolts">From its lowest to its highest value, V, above zero.</param>
/// <param name="Hertz">Its frequency, Hz, above zero.</param>
public sealed record Ripple(double PeakToPeakVolts, double Hertz);
