using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A surge named by its wave, from the standard's generator behind a resistance (12 ohm to ground, 42 ohm on signal lines in
/// IEC 61000-4-5; from memory), as through an arrester: the line is connected while the wave lasts, and left alone before and after.
/// A rail's source stands behind the inductance of the network. For coupling through a capacitor see <see cref="CombinationWave"/>.
/// </summary>
public sealed record Surge : Disturbance
{
    /// <summary>A surge.</summary>
    /// <param name="shape">Shape of the open-circuit voltage.</param>
    /// <param name="peakVolts">Peak of the open-circuit voltage, V, of either sign.</param>
    /// <param name="sourceOhms">Generator and coupling resistance, ohm, at least that of the generator.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Surge(SurgeShape shape, double peakVolts, double sourceOhms, double startSeconds = 10e-6)
    {
        Shape = shape;
        PeakVolts = NotZero("The peak of a surge", peakVolts);
        SourceOhms = shape.Checked(sourceOhms, "surge " + shape.Name);
        StartSeconds = Positive("The start of a surge", startSeconds, "s");
    }

    /// <summary>Shape of the open-circuit voltage.</summary>
    public SurgeShape Shape { get; }

    /// <summary>Peak of the open-circuit voltage, V.</summary>
    public double PeakVolts { get; }

    /// <summary>Generator and coupling resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"surge {Shape.Name} with a peak of {V(PeakVolts)} behind {Ohm(SourceOhms)} (IEC 61000-4-5)";

    // After ten half-value times a thousandth of the peak is left.
    private double WaveSeconds => 10 * Shape.HalfValueSeconds;

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 2 * WaveSeconds;

    /// <inheritdoc/>
    public override double? DriveVolts => PeakVolts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new Surge(Shape, factor * PeakVolts, SourceOhms, StartSeconds);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    private protected override double? DecouplingHenries => SurgeCoupling.DecouplingHenries;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        .. Shape.Elements(name, name + ".output", PeakVolts, StartSeconds),
        PulseNetwork.Output(name, name + ".output", node, SourceOhms - Shape.GeneratorOhms, StartSeconds, WaveSeconds),
    ];
}
