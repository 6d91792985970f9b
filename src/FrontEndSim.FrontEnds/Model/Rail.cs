using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>A supply rail against ground. Its name is also its node.</summary>
/// <param name="Name">Name of the rail and of its node.</param>
/// <param name="Volts">Voltage, V, of either sign, with its tolerance.</param>
public sealed record Rail(string Name, Toleranced Volts)
{
    /// <summary>
    /// Whether the supply can only deliver current, as most regulators do; current that a clamp pushes into it then lifts it.
    /// Needs <see cref="SeriesOhms"/> above zero.
    /// </summary>
    public bool SourceOnly { get; init; }

    /// <summary>Source resistance, ohm; zero for an ideal supply.</summary>
    public double SeriesOhms { get; init; }

    internal Element ToElement() =>
        new VoltageSource(Name, Name, Circuit.Ground, Volts.Value) { SeriesOhms = SeriesOhms, SourceOnly = SourceOnly };
}
