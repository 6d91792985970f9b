using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>Something that happens to whatever drives a node: a rail, a sensor or a source part between the node and ground.</summary>
public abstract record SourceFault : Fault
{
    private protected SourceFault(double startSeconds, double? durationSeconds) : base(startSeconds, durationSeconds)
    {
    }

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => SourceEffect.Alters;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) => [];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        [.. Sources.Changed(undisturbed, node, Text, s => [Fail(s)]), .. ToElements(name, node, isRail(node))];

    /// <summary>The source as the fault leaves it.</summary>
    private protected abstract VoltageSource Fail(VoltageSource source);

    /// <summary>The voltage of a source that is steady without the fault, V.</summary>
    private protected double Steady(VoltageSource source) =>
        source.Volts is Constant steady ? steady.Value : throw new StudyProblemException(
        $"\"{Text}\" can happen to a steady source only, but {source.Name} has a waveform of its own.");

    /// <summary>A source that is connected for a time needs a resistance; a milliohm changes nothing else.</summary>
    private protected static double Ohms(VoltageSource source) => Math.Max(source.SeriesOhms, 1e-3);
}

/// <summary>The wire from a sensor or supply breaks: its node is left to the circuit. Insulation of 1 Gohm remains.</summary>
public sealed record OpenSource : SourceFault
{
    /// <summary>A broken wire.</summary>
    /// <param name="startSeconds">When it breaks, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public OpenSource(double startSeconds = 1e-3, double? durationSeconds = null) : base(startSeconds, durationSeconds)
    {
    }

    /// <inheritdoc/>
    public override FormattableString Words => $"open{Lasts}";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        [new Resistor(name, node, Circuit.Ground, 1e9)];

    private protected override VoltageSource Fail(VoltageSource source) =>
        source with { SeriesOhms = Ohms(source), Connected = During(1, 0) };
}

/// <summary>A sensor or supply is connected the wrong way round: its voltage changes sign.</summary>
public sealed record ReversedSource : SourceFault
{
    /// <summary>A source turned round.</summary>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public ReversedSource(double startSeconds = 1e-3, double? durationSeconds = null) : base(startSeconds, durationSeconds)
    {
    }

    /// <inheritdoc/>
    public override FormattableString Words => $"reversed{Lasts}";

    // What can only deliver must sink when it is turned round, so that is given up.
    private protected override VoltageSource Fail(VoltageSource source) =>
        source with { SourceOnly = false, Volts = During(Steady(source), -Steady(source)) };
}

/// <summary>
/// A supply is lost: it stands at 0 V behind its resistance, as a rail with other loads does. For a broken wire see
/// <see cref="OpenSource"/>.
/// </summary>
public sealed record LostSource : SourceFault
{
    /// <summary>A lost supply.</summary>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public LostSource(double startSeconds = 1e-3, double? durationSeconds = null) : base(startSeconds, durationSeconds)
    {
    }

    /// <inheritdoc/>
    public override FormattableString Words => $"lost{Lasts}";

    /// <summary>
    /// How long it falls, s, at least 0: what its reservoir holds feeds the circuit for a while, and 10 µF at 10 mA lose 1 V in a
    /// millisecond (common practice, no source).
    /// </summary>
    public double FallSeconds { get; init; } = 1e-3;

    private protected override VoltageSource Fail(VoltageSource source) => source with
    {
        SourceOnly = false,
        Volts = DurationSeconds is { } d ? new Pulse(Steady(source), 0, StartSeconds, FallSeconds, d, FallSeconds)
            : new Step(Steady(source), 0, StartSeconds, FallSeconds),
    };
}

/// <summary>A supply comes up after everything else: at time zero it stands at 0 V.</summary>
public sealed record LateSource : SourceFault
{
    /// <summary>A late supply.</summary>
    /// <param name="startSeconds">When it begins to rise, s, above zero.</param>
    /// <param name="riseSeconds">How long it rises, s, at least 0.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public LateSource(double startSeconds, double riseSeconds = 1e-3) : base(startSeconds, null) =>
        RiseSeconds = NotNegative("The rise of a late supply", riseSeconds, "s");

    /// <summary>How long it rises, s.</summary>
    public double RiseSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"late by {S(StartSeconds)}, rising in {S(RiseSeconds)}";

    /// <inheritdoc/>
    public override double SuggestedSeconds => 1.5 * (StartSeconds + RiseSeconds) + 10e-3;

    /// <inheritdoc/>
    public override bool IsLasting => false;

    /// <inheritdoc/>
    public override double? LastsAt => null;

    private protected override VoltageSource Fail(VoltageSource source) =>
        source with { Volts = new Step(0, Steady(source), StartSeconds, RiseSeconds) };
}
