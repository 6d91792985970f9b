using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A line beside the mains: the mains voltage couples into it through the capacitance between the two.</summary>
public sealed record MainsPickUp : Disturbance
{
    // Ten periods show the settled state of anything that a mains filter settles to.
    private const int Periods = 10;

    /// <summary>Pick-up from the mains.</summary>
    /// <param name="rmsVolts">Mains voltage, V rms, above zero.</param>
    /// <param name="hertz">Its frequency, Hz, above zero.</param>
    /// <param name="farads">Coupling capacitance, F, above zero; a cable beside another has some 100 pF a metre (common practice, no
    /// source).</param>
    /// <param name="startSeconds">When it begins, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public MainsPickUp(double rmsVolts = 230, double hertz = 50, double farads = 100e-12, double startSeconds = 1e-3)
    {
        RmsVolts = Positive("The mains voltage", rmsVolts, "V");
        Hertz = Positive("The mains frequency", hertz, "Hz");
        Farads = Positive("The coupling capacitance", farads, "F");
        StartSeconds = Positive("The start of pick-up", startSeconds, "s");
    }

    /// <summary>Mains voltage, V rms.</summary>
    public double RmsVolts { get; }

    /// <summary>Frequency, Hz.</summary>
    public double Hertz { get; }

    /// <summary>Coupling capacitance, F.</summary>
    public double Farads { get; }

    /// <summary>When it begins, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"mains pick-up of {V(RmsVolts)} rms at {Hz(Hertz)} through {F(Farads)}";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + Periods / Hertz;

    /// <inheritdoc/>
    public override bool IsLasting => true;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
        ["Mains voltage kills: never couple it in on a bench without isolation, a trained person and the local rules."];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        new VoltageSource(name, name + ".mains", Circuit.Ground, new Sine(0, Math.Sqrt(2) * RmsVolts, Hertz, StartSeconds)),
        new Capacitor(name + ".C", name + ".mains", node, Farads),
    ];
}

/// <summary>
/// Radio frequency conducted along a cable, IEC 61000-4-6: an electromotive force behind 150 ohm, 0.15 MHz to 80 MHz, at the
/// crest of its modulation of 80 % held steady. All of it is taken to strike the node, which is the worst case; a coupling
/// capacitor of 100 nF keeps direct voltages out. Numbers from memory.
/// </summary>
public sealed record RadioPickUp : Disturbance
{
    /// <summary>Source impedance, ohm.</summary>
    public const double SourceOhms = 150;

    /// <summary>The test levels 1 to 3: electromotive force without modulation, V rms.</summary>
    public static ImmutableArray<double> Levels { get; } = [1, 3, 10];

    private const double CrestOfModulation = 1.8, CouplingFarads = 100e-9;

    /// <summary>Conducted radio frequency.</summary>
    /// <param name="rmsVolts">Electromotive force without modulation, V rms, above zero.</param>
    /// <param name="hertz">Frequency, Hz: 150 kHz to 80 MHz, both included.</param>
    /// <param name="startSeconds">When it begins, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public RadioPickUp(double rmsVolts, double hertz, double startSeconds = 1e-6)
    {
        RmsVolts = Positive("The level of radio-frequency pick-up", rmsVolts, "V");
        Hertz = hertz is >= 150e3 and <= 80e6 ? hertz : throw new ArgumentException(
            $"Conducted radio frequency runs from 150 kHz to 80 MHz, but {SiText.Format(hertz, "Hz")} is given.");
        StartSeconds = Positive("The start of pick-up", startSeconds, "s");
    }

    /// <summary>Electromotive force without modulation, V rms.</summary>
    public double RmsVolts { get; }

    /// <summary>Frequency, Hz.</summary>
    public double Hertz { get; }

    /// <summary>When it begins, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"radio-frequency pick-up of {Rms} at {Hz(Hertz)}, at the crest of 80 % modulation, behind {Ohm(SourceOhms)} (IEC 61000-4-6)";

    private FormattableString Rms => $"{V(RmsVolts)} rms";

    // A hundred periods, and long enough for what an input stage rectifies to build up.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + Math.Max(100 / Hertz, 50e-6);

    /// <inheritdoc/>
    public override bool IsLasting => true;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
    [
        "Radiating a test field or injecting radio frequency may need a shielded room and a licence: follow local rules.",
        "The models here are those of low frequency: above some megahertz, wiring and packages decide, and only a measurement tells.",
    ];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        new VoltageSource(name, name + ".source", Circuit.Ground,
            new Sine(0, Math.Sqrt(2) * CrestOfModulation * RmsVolts, Hertz, StartSeconds)) { SeriesOhms = SourceOhms },
        new Capacitor(name + ".C", name + ".source", node, CouplingFarads),
    ];
}
