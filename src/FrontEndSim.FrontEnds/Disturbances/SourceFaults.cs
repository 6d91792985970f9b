using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>Something that happens to whatever drives a node: a rail, a sensor or a source part between the node and ground.</summary>
public abstract record SourceFault : Disturbance
{
    /// <summary>A fault of a source.</summary>
    /// <param name="startSeconds">When it happens, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    private protected SourceFault(double startSeconds, double? durationSeconds)
    {
        StartSeconds = Positive("The start of a fault", startSeconds, "s");
        DurationSeconds = durationSeconds is { } d ? Positive("The duration of a fault", d, "s") : null;
    }

    /// <summary>When it happens, s.</summary>
    public double StartSeconds { get; }

    /// <summary>For how long, s; null for ever.</summary>
    public double? DurationSeconds { get; }

    // Without an end, 100 ms show what a filter of some milliseconds makes of it.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (DurationSeconds is { } d ? 1.5 * d : 0.1);

    /// <inheritdoc/>
    public override bool IsLasting => DurationSeconds is null;

    /// <summary>"for 5 ms" or "lasting".</summary>
    private protected string Lasts => DurationSeconds is { } d ? $" for {SiText.Format(d, "s")}" : ", lasting";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node) => [];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node)
    {
        PulseNetwork.WithoutSources(undisturbed, node, $"\"{Text}\"");
        return
        [
            .. undisturbed.Select(e => e is VoltageSource source && PulseNetwork.Drives(e, node) ? Fail(source) : e),
            .. ToElements(name, node),
        ];
    }

    /// <summary>The source as the fault leaves it.</summary>
    private protected abstract VoltageSource Fail(VoltageSource source);

    /// <summary>One value outside the fault and another inside.</summary>
    private protected Waveform During(double outside, double inside) => DurationSeconds is { } d
        ? new Pulse(outside, inside, StartSeconds, 0, d, 0)
        : new Step(outside, inside, StartSeconds);

    /// <summary>The voltage of a source that is steady without the fault, V.</summary>
    private protected double Steady(VoltageSource source) => source.Volts is Constant steady ? steady.Value : throw new StudyProblemException(
        $"\"{Text}\" can happen to a steady source only, but {source.Name} has a waveform of its own.");

    /// <summary>A source that is connected for a time needs a resistance; a milliohm changes nothing else.</summary>
    private protected static double Ohms(VoltageSource source) => Math.Max(source.SeriesOhms, 1e-3);
}

/// <summary>The wire from a sensor or supply breaks: its node is left to the circuit. Insulation of 1 Gohm remains.</summary>
/// <param name="startSeconds">When it breaks, s, above zero.</param>
/// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
public sealed record OpenSource(double startSeconds = 1e-3, double? durationSeconds = null) : SourceFault(startSeconds, durationSeconds)
{
    /// <inheritdoc/>
    public override string Text => "open" + Lasts;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node) => [new Resistor(name, node, Circuit.Ground, 1e9)];

    private protected override VoltageSource Fail(VoltageSource source) => source with { SeriesOhms = Ohms(source), Connected = During(1, 0) };
}

/// <summary>A sensor or supply is connected the wrong way round: its voltage changes sign.</summary>
/// <param name="startSeconds">When, s, above zero.</param>
/// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
public sealed record ReversedSource(double startSeconds = 1e-3, double? durationSeconds = null) : SourceFault(startSeconds, durationSeconds)
{
    /// <inheritdoc/>
    public override string Text => "reversed" + Lasts;

    // What can only deliver must sink when it is turned round, so that is given up.
    private protected override VoltageSource Fail(VoltageSource source) =>
        source with { SourceOnly = false, Volts = During(Steady(source), -Steady(source)) };
}

/// <summary>A supply is lost: it stands at 0 V behind its resistance, as a rail with other loads does. For a broken wire see <see cref="OpenSource"/>.</summary>
/// <param name="startSeconds">When, s, above zero.</param>
/// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
public sealed record LostSource(double startSeconds = 1e-3, double? durationSeconds = null) : SourceFault(startSeconds, durationSeconds)
{
    /// <inheritdoc/>
    public override string Text => "lost" + Lasts;

    private protected override VoltageSource Fail(VoltageSource source) => source with { SourceOnly = false, Volts = During(Steady(source), 0) };
}

/// <summary>A supply comes up after everything else: at time zero it stands at 0 V.</summary>
/// <param name="startSeconds">When it begins to rise, s, above zero.</param>
/// <param name="riseSeconds">How long it rises, s, at least 0.</param>
public sealed record LateSource(double startSeconds, double riseSeconds = 1e-3) : SourceFault(startSeconds, null)
{
    /// <summary>How long it rises, s.</summary>
    public double RiseSeconds { get; } = double.IsFinite(riseSeconds) && riseSeconds >= 0 ? riseSeconds
        : throw new ArgumentException($"The rise of a late supply must be at least 0 s, but is {SiText.Format(riseSeconds, "s")}.");

    /// <inheritdoc/>
    public override string Text => $"late by {SiText.Format(StartSeconds, "s")}, rising in {SiText.Format(RiseSeconds, "s")}";

    /// <inheritdoc/>
    public override double SuggestedSeconds => 1.5 * (StartSeconds + RiseSeconds) + 10e-3;

    /// <inheritdoc/>
    public override bool IsLasting => false;

    private protected override VoltageSource Fail(VoltageSource source) => source with { Volts = new Step(0, Steady(source), StartSeconds, RiseSeconds) };
}

/// <summary>A node touches ground, a rail or another node.</summary>
public sealed record ShortTo : Disturbance
{
    /// <summary>A short.</summary>
    /// <param name="other">The node that it touches.</param>
    /// <param name="ohms">Resistance of the contact, ohm, above zero.</param>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public ShortTo(string other, double ohms = 0.1, double startSeconds = 1e-3, double? durationSeconds = null)
    {
        Other = other;
        Ohms = Positive("The resistance of a short", ohms, "ohm");
        StartSeconds = Positive("The start of a short", startSeconds, "s");
        DurationSeconds = durationSeconds is { } d ? Positive("The duration of a short", d, "s") : null;
    }

    /// <summary>The node that it touches.</summary>
    public string Other { get; }

    /// <summary>Resistance of the contact, ohm.</summary>
    public double Ohms { get; }

    /// <summary>When, s.</summary>
    public double StartSeconds { get; }

    /// <summary>For how long, s; null for ever.</summary>
    public double? DurationSeconds { get; }

    /// <inheritdoc/>
    public override string Text => $"short to {Other} through {SiText.Format(Ohms, "ohm")}"
        + (DurationSeconds is { } d ? $" for {SiText.Format(d, "s")}" : ", lasting");

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (DurationSeconds is { } d ? 1.5 * d : 0.1);

    /// <inheritdoc/>
    public override bool IsLasting => DurationSeconds is null;

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node) =>
        Other == node ? throw new StudyProblemException($"A short joins two nodes, but both are {node}.")
        : Other == Circuit.Ground || undisturbed.Any(e => e.Terminals.Contains(Other)) ? base.Disturb(undisturbed, name, node)
        : throw new StudyProblemException($"There is no node {Other} that {node} could touch.");

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node) =>
    [
        new Switch(name, node, Other, DurationSeconds is { } d ? new Pulse(0, 1, StartSeconds, 0, d, 0) : new Step(0, 1, StartSeconds))
        {
            ClosedOhms = Ohms, OpenOhms = 1e12,
        },
    ];
}
