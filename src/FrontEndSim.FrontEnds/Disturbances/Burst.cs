using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// Electrical fast transients, IEC 61000-4-4: bursts of impulses of 5 ns by 50 ns from a 50 ohm generator with a blocking capacitor, at
/// 5 kHz for 15 ms or at 100 kHz for 0.75 ms, every 300 ms. The peak is that of the open circuit: into 50 ohm half of it remains.
/// It is coupled by 33 nF to a supply, whose source stands behind the network's inductance, and by the 100 pF of the clamp to a signal
/// line. All numbers from memory.
/// </summary>
public sealed record Burst : Disturbance
{
    /// <summary>Source resistance of the generator, ohm.</summary>
    public const double SourceOhms = FastPulses.SourceOhms;

    /// <summary>From one burst to the next, s.</summary>
    public const double BurstPeriod = 0.3;

    /// <summary>Coupling of the network to a supply line, and of the clamp to a signal line, F.</summary>
    public const double SupplyFarads = 33e-9, ClampFarads = 100e-12;

    /// <summary>The test levels 1 to 4 on signal ports, V.</summary>
    public static ImmutableArray<double> Levels { get; } = [250, 500, 1e3, 2e3];

    /// <summary>The test levels 1 to 4 on supply ports, V.</summary>
    public static ImmutableArray<double> SupplyLevels { get; } = [500, 1e3, 2e3, 4e3];

    // Both repetition rates give 75 impulses a burst: 15 ms · 5 kHz = 0.75 ms · 100 kHz.
    private const int ImpulsesInBurst = 75;

    /// <summary>A burst.</summary>
    /// <param name="volts">Open-circuit peak, V, of either sign.</param>
    /// <param name="hertz">Repetition within a burst, Hz: above zero, 1 MHz at most.</param>
    /// <param name="bursts">Number of bursts, at least 1.</param>
    /// <param name="startSeconds">When the first impulse strikes, s, above zero.</param>
    /// <param name="couplingFarads">Coupling capacitor, F, above zero; null for that of the standard, by the kind of node.</param>
    /// <param name="strays">Leads and stray capacitance of parts; null for the usual ones.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Burst(double volts, double hertz = 5e3, int bursts = 1, double startSeconds = 1e-6, double? couplingFarads = null,
        Strays? strays = null)
    {
        Volts = NotZero("The peak of a burst", volts);
        Hertz = Positive("The repetition rate of a burst", hertz, "Hz");
        if (hertz > 1e6)
            throw new ArgumentException(
                $"The impulses of a burst last 50 ns and may repeat at 1 MHz at most, but {SiText.Format(hertz, "Hz")} is given.");
        if (ImpulsesInBurst / hertz > BurstPeriod)
            throw new ArgumentException(
                $"The {ImpulsesInBurst} impulses of a burst must fit into {SiText.Format(BurstPeriod, "s")}: the rate must be "
                + $"{SiText.Format(ImpulsesInBurst / BurstPeriod, "Hz")} or more, but {SiText.Format(hertz, "Hz")} is given.");
        if (bursts is < 1 or > 20)
            throw new ArgumentException($"The number of bursts must be 1 to 20, but is {bursts}.");
        Bursts = bursts;
        StartSeconds = Positive("The start of a burst", startSeconds, "s");
        CouplingFarads = couplingFarads is { } farads ? Positive("The coupling capacitor of a burst", farads, "F") : null;
        Strays = strays ?? Strays.Usual;
    }

    /// <summary>Open-circuit peak, V.</summary>
    public double Volts { get; }

    /// <summary>Repetition within a burst, Hz.</summary>
    public double Hertz { get; }

    /// <summary>Number of bursts.</summary>
    public int Bursts { get; }

    /// <summary>When the first impulse strikes, s.</summary>
    public double StartSeconds { get; }

    /// <summary>Coupling capacitor, F; null for that of the standard.</summary>
    public double? CouplingFarads { get; }

    /// <inheritdoc/>
    public override Strays Strays { get; }

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"{Counted} of {ImpulsesInBurst} impulses of {V(Volts)} at {Hz(Hertz)} behind {Ohm(SourceOhms)} (IEC 61000-4-4)";

    private string Counted => Bursts == 1 ? "burst" : $"{Bursts} bursts";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (Bursts - 1) * BurstPeriod + ImpulsesInBurst / Hertz;

    /// <inheritdoc/>
    public override double? DriveVolts => Volts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new Burst(factor * Volts, Hertz, Bursts, StartSeconds, CouplingFarads, Strays);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    // The network wants more than 100 uH.
    private protected override double? DecouplingHenries => 100e-6;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        .. Generator(name, name + ".output"),
        new Capacitor(name + ".coupling", name + ".output", node, CouplingFarads ?? (isRail ? SupplyFarads : ClampFarads)),
        // Between the two capacitors nothing else holds the node.
        new Resistor(name + ".insulation", name + ".output", Circuit.Ground, 1e9),
    ];

    /// <summary>The generator alone, as the standard verifies it.</summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="output">Its output.</param>
    public IEnumerable<Element> Generator(string name, string output) =>
        FastPulses.Burst.Elements(name, output, Volts, StartSeconds, 1 / Hertz, ImpulsesInBurst, BurstPeriod, Bursts);
}
