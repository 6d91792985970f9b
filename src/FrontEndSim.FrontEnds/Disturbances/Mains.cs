using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>The mains are put on the node, from a phase on, and stay: a miswired terminal. On a rail they take the place of what feeds
/// it.</summary>
public sealed record Mains : Disturbance
{
    // Ten periods show the settled state of anything that a mains filter settles to; a study runs on while a mean power still rises.
    private const int Periods = 10;

    /// <summary>Mains on a node.</summary>
    /// <param name="rmsVolts">Voltage, V rms, above zero.</param>
    /// <param name="hertz">Frequency, Hz, above zero.</param>
    /// <param name="degrees">Phase at which it is connected, degrees: 0 at the zero crossing that rises, 90 at the peak.</param>
    /// <param name="sourceOhms">Resistance of the installation, ohm, above zero (0.5 ohm, common practice, no source).</param>
    /// <param name="startSeconds">When it is connected, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Mains(double rmsVolts = 230, double hertz = 50, double degrees = 90, double sourceOhms = 0.5, double startSeconds = 1e-3)
    {
        RmsVolts = Positive("The mains voltage", rmsVolts, "V");
        Hertz = Positive("The mains frequency", hertz, "Hz");
        Degrees = double.IsFinite(degrees) ? degrees : throw new ArgumentException("The phase of the mains must be a finite number.");
        SourceOhms = Positive("The resistance of the mains", sourceOhms, "ohm");
        StartSeconds = Positive("The start of the mains", startSeconds, "s");
    }

    /// <summary>Voltage, V rms.</summary>
    public double RmsVolts { get; }

    /// <summary>Frequency, Hz.</summary>
    public double Hertz { get; }

    /// <summary>Phase at which it is connected, degrees.</summary>
    public double Degrees { get; }

    /// <summary>Resistance of the installation, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>When it is connected, s.</summary>
    public double StartSeconds { get; }

    /// <summary>Whether what drives the node is torn off, as it is always on a rail.</summary>
    public bool TearsOff { get; init; }

    /// <inheritdoc/>
    public override Disturbance? TearOff(double sensorOhms) =>
        SourceOhms > WireOverSensor * sensorOhms ? null : this with { TearsOff = true };

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"mains of {V(RmsVolts)} rms at {Hz(Hertz)} behind {Ohm(SourceOhms)}, connected at {Degrees:0.###} degrees, lasting";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + Periods / Hertz;

    /// <inheritdoc/>
    public override bool IsLasting => true;

    /// <inheritdoc/>
    public override double? PeriodSeconds => 1 / Hertz;

    /// <inheritdoc/>
    public override double? DriveVolts => Math.Sqrt(2) * RmsVolts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) =>
        new Mains(Math.Abs(factor) * RmsVolts, Hertz, factor > 0 ? Degrees : (Degrees + 180) % 360, SourceOhms, StartSeconds);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => Warnings;

    /// <summary>What a person must be told wherever mains are.</summary>
    internal static ImmutableArray<string> Warnings =>
        ["Mains voltage kills: never put it on a bench without isolation, a fuse, a trained person and the local rules."];

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => isRail ? SourceEffect.Replaces : SourceEffect.None;

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        TearsOff || isRail(node)
        ? [.. Sources.ConnectedUntil(undisturbed, node, Text, StartSeconds, null), .. ToElements(name, node)]
        : base.Disturb(undisturbed, name, node, isRail);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        new VoltageSource(name, node, Circuit.Ground, new Sine(0, Math.Sqrt(2) * RmsVolts, Hertz, StartSeconds, Degrees * Math.PI / 180))
        {
            SeriesOhms = SourceOhms, Connected = new Step(0, 1, StartSeconds),
        },
    ];
}
