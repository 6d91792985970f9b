using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// The combination wave of IEC 61000-4-5 from a network such as a generator has: a charged capacitor into R1, then L and R2,
/// with R3 across the output. Open it gives 1.2/50 µs, shorted 8/20 µs, and the ratio of the two peaks is 2 ohm.
/// Coupling adds resistance, 10 ohm to ground (12 ohm in all), 40 ohm on signal lines (42 ohm in all), and where one is named a
/// capacitor in series, which keeps the line's own voltage and ends the current early; from memory. The generator stays connected.
/// </summary>
public sealed record CombinationWave : Disturbance
{
    /// <summary>Open-circuit peak over short-circuit peak of the generator alone, ohm.</summary>
    public const double GeneratorOhms = 2;

    /// <summary>The test levels 1 to 4, V.</summary>
    public static ImmutableArray<double> Levels { get; } = [500, 1e3, 2e3, 4e3];

    // Fitted with SciPy to both waves, with the undershoot of the current held below the 30 % that the standard allows
    // (tests/reference/combination_wave.py); tests measure both waves on the network.
    private const double Farads = 6.36e-6, R1 = 18.26, Henries = 10.53e-6, R2 = 0.899, R3 = 25.22;
    private const double PeakOfCharge = 0.93881;

    /// <summary>A combination wave.</summary>
    /// <param name="peakVolts">Open-circuit peak, V, of either sign.</param>
    /// <param name="sourceOhms">Generator and coupling, ohm: 2 ohm or more.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <param name="couplingFarads">Coupling capacitor in series, F, above zero; null for none.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public CombinationWave(double peakVolts, double sourceOhms = GeneratorOhms, double startSeconds = 10e-6, double? couplingFarads = null)
    {
        PeakVolts = NotZero("The peak of a combination wave", peakVolts);
        SourceOhms = double.IsFinite(sourceOhms) && sourceOhms >= GeneratorOhms ? sourceOhms : throw new ArgumentException(
            $"The generator alone has {SiText.Format(GeneratorOhms, "ohm")}, so the source of a combination wave cannot have {SiText.Format(sourceOhms, "ohm")}.");
        StartSeconds = Positive("The start of a combination wave", startSeconds, "s");
        CouplingFarads = couplingFarads is { } farads ? Positive("The coupling capacitor of a combination wave", farads, "F") : null;
    }

    /// <summary>A combination wave through one of the standard's coupling networks.</summary>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public static CombinationWave Through(SurgeCoupling coupling, double peakVolts, double startSeconds = 10e-6) =>
        new(peakVolts, coupling.SourceOhms, startSeconds, coupling.Farads);

    /// <summary>Open-circuit peak, V.</summary>
    public double PeakVolts { get; }

    /// <summary>Generator and coupling, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>Coupling capacitor in series, F; null for none.</summary>
    public double? CouplingFarads { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => 
        $"combination wave 1.2/50 and 8/20 of {V(PeakVolts)} behind {Ohm(SourceOhms)}{Coupling} (IEC 61000-4-5)";

    private FormattableString Coupling => CouplingFarads is { } farads ? $" and {F(farads)}" : (FormattableString)$"";

    // Twenty half-value times bring the open-circuit voltage below a millionth of its peak. A coupling capacitor that was charged
    // through a clamp then drives the line the other way: ten milliseconds show that.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (CouplingFarads is null ? 1e-3 : 10e-3);

    /// <inheritdoc/>
    public override double? DriveVolts => PeakVolts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new CombinationWave(factor * PeakVolts, SourceOhms, StartSeconds, CouplingFarads);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        string charged = name + ".charged", shaped = name + ".shaped", output = name + ".output", coupled = name + ".coupled";
        return
        [
            .. PulseNetwork.Charge(name, charged, shaped, new Step(0, PeakVolts / PeakOfCharge, StartSeconds), Farads, R1),
            new Inductor(name + ".L", shaped, output, Henries) { SeriesOhms = R2 },
            new Resistor(name + ".R3", output, Circuit.Ground, R3),
            .. CouplingFarads is { } farads
                ? [PulseNetwork.Output(name, output, coupled, SourceOhms - GeneratorOhms, StartSeconds), new Capacitor(name + ".coupling capacitor", coupled, node, farads)]
                : new Element[] { PulseNetwork.Output(name, output, node, SourceOhms - GeneratorOhms, StartSeconds) },
        ];
    }
}

/// <summary>A coupling network of IEC 61000-4-5, from the generator to the lines; the decoupling coils behind it are not part of it.</summary>
/// <param name="Name">Name in the circuit file: "line-to-ground".</param>
/// <param name="SourceOhms">Generator and coupling resistor, ohm.</param>
/// <param name="Farads">Coupling capacitor, F.</param>
/// <param name="What">Where it is used, in a few words.</param>
public sealed record SurgeCoupling(string Name, double SourceOhms, double Farads, string What)
{
    /// <summary>The networks that can be named; values from memory.</summary>
    public static ImmutableArray<SurgeCoupling> Known { get; } =
    [
        new("line-to-line", CombinationWave.GeneratorOhms, 18e-6, "supply port, between its lines"),
        new("line-to-ground", CombinationWave.GeneratorOhms + 10, 9e-6, "supply port, from a line to ground"),
        new("signal-line", CombinationWave.GeneratorOhms + 40, 0.5e-6, "unshielded signal and control lines"),
    ];

    /// <summary>The network of that name, or null.</summary>
    public static SurgeCoupling? Find(string name) => Known.FirstOrDefault(c => c.Name == name);
}
