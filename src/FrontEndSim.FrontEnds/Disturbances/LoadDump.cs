using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// The battery comes off while the alternator charges it, ISO 16750-2: without central suppression (test A) or cut off by it
/// (test B). The generator takes the place of what drives the node. All numbers from memory: 12 V systems 79 V to 101 V
/// behind 0.5 to 4 ohm for 40 to 400 ms, 24 V systems 151 V to 202 V behind 1 to 8 ohm for 100 to 350 ms; suppressed to 35 V or 65 V.
/// </summary>
public sealed record LoadDump : Disturbance
{
    // 10 ms (-5 ms) in the standard; the shorter end keeps the shortest duration into a load right.
    private const double RiseSeconds = 5.5e-3;

    // What is left of the wave above the suppressed voltage: nothing that a meter would see.
    private const double SuppressorShare = 1e-5;

    /// <summary>A load dump.</summary>
    /// <param name="peakVolts">Peak with the circuit open and without suppression, V, against ground; above the supply.</param>
    /// <param name="supplyVolts">Voltage of the supply before, V, at least 0.</param>
    /// <param name="sourceOhms">Source resistance, ohm, above zero.</param>
    /// <param name="seconds">Duration from 10 % to 10 % of the rise above the supply, s: 30 ms or more.</param>
    /// <param name="suppressedVolts">What central suppression leaves, V, above the supply and below the peak; null for none.</param>
    /// <param name="startSeconds">When the battery comes off, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public LoadDump(double peakVolts, double supplyVolts, double sourceOhms, double seconds,
        double? suppressedVolts = null, double startSeconds = 10e-3)
    {
        SupplyVolts = double.IsFinite(supplyVolts) && supplyVolts >= 0 ? supplyVolts : throw new ArgumentException(
            $"The supply of a load dump must be at least 0 V, but is {SiText.Format(supplyVolts, "V")}.");
        PeakVolts = double.IsFinite(peakVolts) && peakVolts > supplyVolts ? peakVolts : throw new ArgumentException(
            $"The peak of a load dump must be above its supply of {SiText.Format(supplyVolts, "V")}, but is "
                + $"{SiText.Format(peakVolts, "V")}.");
        SourceOhms = Positive("The source resistance of a load dump", sourceOhms, "ohm");
        Seconds = seconds >= 4 * RiseSeconds && double.IsFinite(seconds) ? seconds : throw new ArgumentException(
            $"A load dump must last {SiText.Format(4 * RiseSeconds, "s")} or more, but {SiText.Format(seconds, "s")} is given.");
        if (suppressedVolts is { } s && !(s > supplyVolts && s < peakVolts))
            throw new ArgumentException(
                $"Suppression must leave a voltage between the supply of {SiText.Format(supplyVolts, "V")} and the peak of "
                + $"{SiText.Format(peakVolts, "V")}, but {SiText.Format(s, "V")} is given.");
        SuppressedVolts = suppressedVolts;
        StartSeconds = Positive("The start of a load dump", startSeconds, "s");
    }

    /// <summary>Peak without suppression, V, against ground.</summary>
    public double PeakVolts { get; }

    /// <summary>Voltage of the supply before, V.</summary>
    public double SupplyVolts { get; }

    /// <summary>Source resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>Duration, s.</summary>
    public double Seconds { get; }

    /// <summary>What central suppression leaves, V; null for none.</summary>
    public double? SuppressedVolts { get; }

    /// <summary>When the battery comes off, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"load dump to {V(SuppressedVolts ?? PeakVolts)} behind {Ohm(SourceOhms)} for {S(Seconds)}, supply {V(SupplyVolts)} ({Standard})";

    private string Standard => $"ISO 16750-2, {(SuppressedVolts is null ? "no" : "with")} central suppression";

    // The discharge falls to a tenth within the duration, and to a hundredth within twice that.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 2 * Seconds;

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => SourceEffect.Replaces;

    /// <inheritdoc/>
    public override Disturbance? Scaled(double factor) =>
        factor * (PeakVolts - SupplyVolts) + SupplyVolts is var peak && peak > (SuppressedVolts ?? SupplyVolts)
        ? new LoadDump(peak, SupplyVolts, SourceOhms, Seconds, SuppressedVolts, StartSeconds) : null;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
    [
        "A load dump carries tens of joules and can burst parts: leave tests to trained people, and follow local rules and the test "
            + "standard.",
        GeneratorCautions[1],
    ];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        [.. Sources.Removed(undisturbed, node, "A load dump"), .. ToElements(name, node)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        string below = name + ".below", output = name + ".output";
        return
        [
            // The battery feeds the node at rest; the alternator stands ready at the same voltage and takes over when it comes off.
            PulseNetwork.Supply(name, node, SupplyVolts),
            new VoltageSource(below, below, Circuit.Ground, SupplyVolts),
            .. SuppressedVolts is { } suppressed ? Suppressed(name, below, node, suppressed) :
            [
                .. PulseNetwork.Discharging(name, below, output, PeakVolts - SupplyVolts, RiseSeconds,
                    Seconds, 0.5, SourceOhms, StartSeconds),
                PulseNetwork.Output(name, output, node, 0, StartSeconds),
            ],
        ];
    }

    // The alternator's field decays as it will, whatever its suppressors take: a wave behind its resistance. They sit across its output and
    // take what the resistance lets through above their voltage, so that a load sees that voltage however much it draws.
    private Element[] Suppressed(string name, string below, string node, double suppressed) =>
    [
        new VoltageSource(name, node, below, new DoubleExponential(PeakVolts - SupplyVolts,
            RiseSeconds / Math.Log(9), Seconds / Math.Log(10), StartSeconds))
        {
            SeriesOhms = SourceOhms, Connected = new Step(0, 1, StartSeconds),
        },
        new VoltageSource(name + ".suppressor", Circuit.Ground, node, -suppressed) { SeriesOhms = SuppressorShare * SourceOhms,
            SourceOnly = true },
    ];
}
