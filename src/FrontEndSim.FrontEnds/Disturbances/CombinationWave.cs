using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// The combination wave of IEC 61000-4-5 from a network such as a generator has: open it gives 1.2/50 µs, shorted 8/20 µs, and the ratio
/// of the two peaks is 2 ohm. It couples as the standard couples it, through a resistance and a capacitor or an arrester, which keep the
/// line's own voltage; a rail's source stands behind the inductance of the network. From memory.
/// </summary>
public sealed record CombinationWave : Disturbance
{
    /// <summary>Open-circuit peak over short-circuit peak of the generator alone, ohm.</summary>
    public const double GeneratorOhms = 2;

    /// <summary>The test levels 1 to 4, V.</summary>
    public static ImmutableArray<double> Levels { get; } = [500, 1e3, 2e3, 4e3];

    private static readonly SurgeShape Shape = SurgeShape.Find("1.2/50")!;

    /// <summary>A combination wave behind a resistance, and a capacitor where one is given. Without one the line is left alone after the
    /// wave.</summary>
    /// <param name="peakVolts">Open-circuit peak, V, of either sign.</param>
    /// <param name="sourceOhms">Generator and coupling, ohm: 2 ohm or more.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <param name="couplingFarads">Coupling capacitor in series, F, above zero; null for none.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public CombinationWave(double peakVolts, double sourceOhms = GeneratorOhms, double startSeconds = 10e-6, double? couplingFarads = null)
        : this(peakVolts, new SurgeCoupling("", Shape.Checked(sourceOhms, "combination wave"),
            couplingFarads is { } farads ? Positive("The coupling capacitor of a combination wave", farads, "F") : null, ""), startSeconds)
    {
    }

    private CombinationWave(double peakVolts, SurgeCoupling? coupling, double startSeconds)
    {
        PeakVolts = NotZero("The peak of a combination wave", peakVolts);
        Coupling = coupling;
        StartSeconds = Positive("The start of a combination wave", startSeconds, "s");
    }

    /// <summary>A combination wave through one of the standard's coupling networks.</summary>
    /// <param name="coupling">The network; null for line to ground on a rail and the one for signal lines elsewhere.</param>
    /// <param name="peakVolts">Open-circuit peak, V, of either sign.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public static CombinationWave Through(SurgeCoupling? coupling, double peakVolts, double startSeconds = 10e-6) =>
        new(peakVolts, coupling is null || coupling.FiresAtVolts is not null ? coupling
            : coupling with { Name = "", What = "" }, startSeconds);

    /// <summary>Open-circuit peak, V.</summary>
    public double PeakVolts { get; }

    /// <summary>What it goes through; null for the standard's own by the kind of node.</summary>
    public SurgeCoupling? Coupling { get; }

    /// <summary>Generator and coupling, ohm; null where the kind of node decides.</summary>
    public double? SourceOhms => Coupling?.SourceOhms;

    /// <summary>Coupling capacitor in series, F; null for none, or where the kind of node decides.</summary>
    public double? CouplingFarads => Coupling?.Farads;

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"combination wave 1.2/50 and 8/20 of {V(PeakVolts)}{CouplingWords} (IEC 61000-4-5)";

    private FormattableString CouplingWords => Coupling is null ? $" through the standard's coupling"
        : Coupling.FiresAtVolts is { } fires ? $" behind {Ohm(Coupling.SourceOhms)} and an arrester that fires at {V(fires)}"
        : Coupling.Farads is { } farads ? $" behind {Ohm(Coupling.SourceOhms)} and {F(farads)}"
            : (FormattableString)$" behind {Ohm(Coupling.SourceOhms)}";

    /// <inheritdoc/>
    public override SilentArrester? Silent =>
        Coupling?.FiresAtVolts is { } fires && Math.Abs(PeakVolts) < fires ? new(fires, Math.Abs(PeakVolts)) : null;

    // After ten half-value times a thousandth is left of the wave. A coupling capacitor that was charged through a clamp then drives the
    // line the other way: ten milliseconds show that.
    private const double WaveSeconds = 0.5e-3;

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (Coupling is { Farads: null } ? 2 * WaveSeconds : 10e-3);

    /// <inheritdoc/>
    public override double? DriveVolts => PeakVolts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new CombinationWave(factor * PeakVolts, Coupling, StartSeconds);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    private protected override double? DecouplingHenries => SurgeCoupling.DecouplingHenries;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        if (Silent is not null)
            return [];
        string output = name + ".output", coupled = name + ".coupled";
        var through = Coupling ?? SurgeCoupling.Find(isRail ? "line-to-ground" : "signal-line")!;
        double ohms = through.SourceOhms - GeneratorOhms;
        return
        [
            .. Shape.Elements(name, output, PeakVolts, StartSeconds),
            .. through.Farads is { } farads
                ? [PulseNetwork.Output(name, output, coupled, ohms, StartSeconds),
                    new Capacitor(name + ".coupling capacitor", coupled, node, farads)]
                : new Element[] { PulseNetwork.Output(name, output, node, ohms, StartSeconds, WaveSeconds) },
        ];
    }
}
