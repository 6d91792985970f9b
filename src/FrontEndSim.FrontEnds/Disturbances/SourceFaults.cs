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
        !Sources.IsDriven(undisturbed, node) && Sources.SensorAt(undisturbed, node) is var (sensing, all)
            ? [.. undisturbed.Except(all), .. FailSensor(sensing, all, node), .. ToElements(name, node)]
            : [.. Sources.Changed(undisturbed, node, Text, s => [Fail(s)]), .. ToElements(name, node, isRail(node))];

    /// <summary>The elements of a sensor with a law of its own as the fault leaves them.</summary>
    /// <exception cref="StudyProblemException">It cannot happen to such a sensor.</exception>
    private protected abstract IEnumerable<Element> FailSensor(Element sensing, Element[] all, string node);

    /// <summary>A contact: next to nothing where it is closed, next to no leakage where it is open.</summary>
    private protected static Switch Contact(string name, string from, string to, Waveform closed) =>
        new(name, from, to, closed) { ClosedOhms = 1e-3, OpenOhms = 1e10 };

    private protected static IEnumerable<Element> Renamed(Element[] all, string node, string by) =>
        all.Select(e => e.Between(n => n == node ? by : n));

    private protected static double Resistance(Element sensing) => sensing switch
    {
        VoltageSource v => v.SeriesOhms,
        SensingShare s => s.SeriesOhms,
        _ => 0,
    };

    /// <summary>A sensor that stands at 0 V behind its resistance while it is off.</summary>
    private protected IEnumerable<Element> Switched(Element sensing, Element[] all, string node, Waveform on, Waveform off) =>
        sensing is not (VoltageSource or SensingShare or CurrentSource)
            ? throw new StudyProblemException(new(ProblemKind.SensorIsResistance, sensing.Name, Text))
            :
            [
                .. Renamed(all, node, sensing.Name + " wire"),
                Contact(sensing.Name + " on", node, sensing.Name + " wire", on),
                sensing is CurrentSource
                    ? Contact(sensing.Name + " off", sensing.Name + " wire", sensing.Terminals.First(t => t != node), off)
                    : Contact(sensing.Name + " off", node, sensing.Terminals[1],
                        off) with { ClosedOhms = Math.Max(1e-3, Resistance(sensing)) },
            ];

    /// <summary>The source as the fault leaves it.</summary>
    private protected abstract VoltageSource Fail(VoltageSource source);

    /// <summary>The voltage of a source that is steady without the fault, V.</summary>
    private protected double Steady(VoltageSource source) =>
        source.Volts is Constant steady ? steady.Value : throw new StudyProblemException(
            new(ProblemKind.SourceIsNotSteady, source.Name, Text));

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

    /// <summary>Name of the sensor whose wire to the node breaks; null for whatever drives the node.</summary>
    public string? Sensor { get; init; }

    /// <inheritdoc/>
    public override FormattableString Words => $"open{Lasts}";

    /// <inheritdoc/>
    public override IEnumerable<string> Loses(string node) => Sensor is null ? [node] : [];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        Sensor is { } wanted && !Sources.IsDrivenBy(undisturbed, node, wanted)
            && Sources.SensorAt(undisturbed, node, wanted) is var (sensing, all)
            ? [.. undisturbed.Except(all), .. FailSensor(sensing, all, node), .. isRail(node) ? [] : ToElements(name, node)]
            : base.Disturb(undisturbed, name, node, isRail);

    private protected override IEnumerable<Element> FailSensor(Element sensing, Element[] all, string node)
    {
        string inside = sensing.Name + " wire";
        if (sensing is SensingShare share && node != share.From)
        {
            // What the sensor itself draws takes it down without its supply and up without its ground.
            string kept = node == share.Whole ? share.To : share.Whole;
            return
            [
                .. Renamed(all, node, inside), Contact(inside, node, inside, During(1, 0)),
                Contact(sensing.Name + " own load", inside, kept, During(0, 1)) with { ClosedOhms = 1e3 },
            ];
        }
        // A current that finds no way out any more flows in the sensor itself.
        return
        [
            .. Renamed(all, node, inside), Contact(inside, node, inside, During(1, 0)),
            .. sensing is CurrentSource
                ? [Contact(sensing.Name + " inside", inside, sensing.Terminals.First(t => t != node), During(0, 1))]
                    : Array.Empty<Element>(),
        ];
    }

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
    public override ImmutableArray<string> Cautions =>
        ["A battery connected the wrong way round can burst parts and start a fire: fuse it."];

    /// <inheritdoc/>
    public override FormattableString Words => $"reversed{Lasts}";

    private protected override IEnumerable<Element> FailSensor(Element sensing, Element[] all, string node)
    {
        if (Sources.Ends(sensing, all) is not var (first, second))
            throw new StudyProblemException(new(ProblemKind.ReversedSupplyUnknown, sensing.Name));
        string one = sensing.Name + " first", other = sensing.Name + " second";
        return
        [
            .. all.Select(e => e.Between(n => n == first ? one : n == second ? other : n)),
            Contact(one + " right", first, one, During(1, 0)), Contact(other + " right", second, other, During(1, 0)),
            Contact(one + " wrong", second, one, During(0, 1)), Contact(other + " wrong", first, other, During(0, 1)),
        ];
    }

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

    private protected override IEnumerable<Element> FailSensor(Element sensing, Element[] all, string node) =>
        Switched(sensing, all, node, During(1, 0), During(0, 1));

    /// <summary>
    /// How long it falls, s, at least 0: what its reservoir holds feeds the circuit for a while, and 10 µF at 10 mA lose 1 V in a
    /// millisecond (common practice, no source).
    /// </summary>
    public double FallSeconds { get; init; } = 1e-3;

    /// <summary>Whether nothing holds it at 0 V: a supply that only delivers then floats up to what is fed into it backwards.</summary>
    public bool IsFloating { get; init; }

    /// <inheritdoc/>
    public override IEnumerable<string> Loses(string node) => [node];

    /// <inheritdoc/>
    public override Disturbance? Floating() => this with { IsFloating = true };

    private protected override VoltageSource Fail(VoltageSource source) => source with
    {
        SourceOnly = source.SourceOnly && IsFloating,
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

    /// <summary>Whether nothing holds it at 0 V until it comes: it then floats up to what is fed into it backwards.</summary>
    public bool IsFloating { get; init; }

    /// <inheritdoc/>
    public override IEnumerable<string> Loses(string node) => [node];

    /// <inheritdoc/>
    public override Disturbance? Floating() => this with { IsFloating = true };

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        isRail && !IsFloating ? [Contact(name + ", held", node, Circuit.Ground, new Step(1, 0, StartSeconds))] : [];

    private protected override VoltageSource Fail(VoltageSource source) =>
        source with { Volts = new Step(0, Steady(source), StartSeconds, RiseSeconds) };

    private protected override IEnumerable<Element> FailSensor(Element sensing, Element[] all, string node) =>
        Switched(sensing, all, node, new Step(0, 1, StartSeconds), new Step(1, 0, StartSeconds));
}
