namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A coupling network of IEC 61000-4-5, from the generator to the lines.</summary>
/// <param name="Name">Name in the circuit file: "line-to-ground".</param>
/// <param name="SourceOhms">Generator and coupling resistor, ohm.</param>
/// <param name="Farads">Coupling capacitor, F; null for none.</param>
/// <param name="What">Where it is used, in a few words.</param>
public sealed record SurgeCoupling(string Name, double SourceOhms, double? Farads, string What)
{
    // 1.5 mH for each supply line (from memory).
    internal const double DecouplingHenries = 1.5e-3;

    /// <summary>
    /// What the wave must reach for an arrester to fire, V; null where none couples. A fired one carries the wave like a wire, a worst case
    /// by the 10 V to 20 V of its arc, and lets go after it.
    /// </summary>
    public double? FiresAtVolts { get; init; }

    /// <summary>
    /// The networks that can be named; values from memory. Below about 300 V no surge can be specified through a 90 V arrester, since
    /// it does not fire on a front of a microsecond (a test house's page on the standard).
    /// </summary>
    public static ImmutableArray<SurgeCoupling> Known { get; } =
    [
        new("line-to-line", CombinationWave.GeneratorOhms, 18e-6, "supply port, between its lines"),
        new("line-to-ground", CombinationWave.GeneratorOhms + 10, 9e-6, "supply port, from a line to ground"),
        new("signal-line", CombinationWave.GeneratorOhms + 40, 0.5e-6, "unshielded signal and control lines"),
        new("arrester", CombinationWave.GeneratorOhms
            + 40, null, "signal and control lines, through a 90 V gas arrester") { FiresAtVolts = 300 },
    ];

    /// <summary>The network of that name, or null.</summary>
    public static SurgeCoupling? Find(string name) => Known.FirstOrDefault(c => c.Name == name);
}
