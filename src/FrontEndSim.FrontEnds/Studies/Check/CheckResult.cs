using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>Whether a front end fulfils its requirements, with all that was computed to find out.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Requirements">A result for each requirement, in the order written.</param>
/// <param name="Mappings">A result for each converting pin that a sensor reaches.</param>
/// <param name="Logic">A result for each logic pin that a sensor reaches.</param>
/// <param name="Events">A result for each event, in the order written.</param>
/// <param name="Warnings">What a person should know though no requirement asks for it: parts beyond their ratings, for example.</param>
/// <param name="Cautions">Cautions of the events, each once.</param>
public sealed record CheckResult(string Title, ImmutableArray<RequirementResult> Requirements, ImmutableArray<MappingResult> Mappings,
    ImmutableArray<LogicResult> Logic, ImmutableArray<EventResult> Events, ImmutableArray<Warning> Warnings,
        ImmutableArray<string> Cautions)
{
    /// <summary>What the protection of each mapped pin costs, in the order of the mappings.</summary>
    public ImmutableArray<ProtectionCosts> Costs { get; init; } = [];

    /// <summary>A result for each requirement that holds of every circuit and that nothing written covers: ratings of pins and parts,
    /// ranges of op amps.</summary>
    public ImmutableArray<RequirementResult> Implied { get; init; } = [];

    /// <summary>What the file accepts beyond its rating, with the most that it bears.</summary>
    public ImmutableArray<AcceptedLoad> Accepted { get; init; } = [];

    /// <summary>What could not be computed, each once.</summary>
    public ImmutableArray<NotComputed> Problems { get; init; } = [];

    /// <summary>What the verdict covers.</summary>
    public VerdictScope? Scope { get; init; }

    /// <summary>What the searches for the worst circumstances ran, in steps times elements.</summary>
    internal long StepElements { get; init; }

    /// <summary>What was written and what holds of every circuit.</summary>
    public IEnumerable<RequirementResult> Judged() => Requirements.Concat(Implied);

    /// <summary>Not met if one requirement is not; else not known if one is not or something could not be computed; else met.</summary>
    public Verdict Verdict => Judged().Any(r => r.Verdict == Verdict.NotMet) ? Verdict.NotMet
        : !Problems.IsEmpty || Judged().Any(r => r.Verdict == Verdict.NotKnown) ? Verdict.NotKnown : Verdict.Met;

    /// <summary>Whether every requirement is met. True if there are none.</summary>
    public bool AllMet => Verdict == Verdict.Met;

    /// <summary>Largest Kirchhoff residual of all solutions, A.</summary>
    public double KirchhoffAmps => Mappings.Select(m => m.Audit.KirchhoffAmps).Concat(Events.Select(e => e.Audit.KirchhoffAmps))
        .Concat(Logic.Select(l => l.KirchhoffAmps)).DefaultIfEmpty(0).Max();

    /// <summary>Largest Kirchhoff residual of all solutions, each against its largest current.</summary>
    public double KirchhoffShare => Mappings.Select(m => m.Audit.KirchhoffShare).Concat(Events.Select(e => e.Audit.KirchhoffShare))
        .Concat(Logic.Select(l => l.KirchhoffShare)).DefaultIfEmpty(0).Max();

    /// <summary>Largest energy imbalance of all transients, relative.</summary>
    public double EnergyImbalance => Events.Select(e => e.Audit.EnergyImbalance)
        .Concat(Logic.Select(l => l.EnergyImbalance)).DefaultIfEmpty(0).Max();
}

/// <summary>Something accepted beyond its rating.</summary>
/// <param name="Acceptance">What the file says.</param>
/// <param name="Load">The most that it bears; null where nothing was computed.</param>
/// <param name="Where">Where that is.</param>
public sealed record AcceptedLoad(AcceptedStress Acceptance, PartLoad? Load, Occasion? Where);

/// <summary>What a verdict covers.</summary>
/// <param name="Celsius">Temperatures that everything was judged at, °C.</param>
/// <param name="IsTemperatureGiven">Whether the file gives a range; else it is one temperature.</param>
/// <param name="Rails">Rails taken at both ends of their tolerance, for ratings.</param>
/// <param name="Spreads">Parts taken at both ends of the spread that decides an event, for ratings.</param>
/// <param name="Events">Events looked at, sensors at both ends and the middle of their spans.</param>
public sealed record VerdictScope(ImmutableArray<double> Celsius, bool IsTemperatureGiven,
    ImmutableArray<string> Rails, ImmutableArray<string> Spreads,
    ImmutableArray<string> Events)
{
    /// <summary>Pins whose reading was judged on every board, all tolerances in their worst case together; other readings are those
    /// of nominal parts.</summary>
    public ImmutableArray<string> OnEveryBoard { get; init; } = [];

    /// <summary>Pins whose reading was judged on a share of the boards alone.</summary>
    public ImmutableArray<string> OnMostBoards { get; init; } = [];

    /// <summary>How far the other readings may be off on any board, though nobody required it; without those of which it is not
    /// known.</summary>
    public ImmutableArray<BoardBound> Boards { get; init; } = [];

    /// <summary>Pins whose converter measures against plain volts and of which no gain error is given: nothing says how far that reference
    /// strays, so it is exact.</summary>
    public ImmutableArray<string> ExactReferences { get; init; } = [];

    /// <summary>Whether no event takes a supply away, so that everything was judged with the supplies on.</summary>
    public bool AreSuppliesOn { get; init; }

    /// <summary>Whether everything was judged with the supplies off as well.</summary>
    public bool AreSuppliesOff { get; init; }

    /// <summary>Rails without a tolerance of their own, for which the usual one was taken.</summary>
    public ImmutableArray<string> RailsTaken { get; init; } = [];

    /// <summary>The usual tolerance of a rail, as a fraction either way.</summary>
    public double RailTolerance { get; init; }

    /// <summary>The rating that a pin uses most with the supplies off and nothing else happening, where that was not judged; null where
    /// it was, or where it is not known.</summary>
    public UnpoweredPin? Unpowered { get; init; }

    /// <summary>The sensor whose output carries most in an event, where nothing says what it withstands; null where none carries
    /// much.</summary>
    public SensorDriven? Driven { get; init; }

    /// <summary>Whether readings are looked at while the circuit's own sources and switches stand still, though they move.</summary>
    public bool LeavesOutCourse { get; init; }

    /// <summary>The largest current of a supply, coil or contact of which nothing says what it may carry; null where none carries
    /// much.</summary>
    public UnlimitedCurrent? Unlimited { get; init; }

    /// <summary>Parts whose own noise is not in what is required of noise; empty where nothing is.</summary>
    public ImmutableArray<string> NoiseUncounted { get; init; } = [];

    /// <summary>Parts of which it is not known what the cold of this circuit does to them.</summary>
    public ImmutableArray<string> ColdUnknown { get; init; } = [];

    /// <summary>Regulators whose sheets ask for a capacitor at their output, of which the series resistance is not judged.</summary>
    public ImmutableArray<string> SeriesUnjudged { get; init; } = [];

    /// <summary>Contacts that a logic pin reads and of which nothing says for how long they bounce: the usual time is taken.</summary>
    public ImmutableArray<string> BounceTaken { get; init; } = [];

    /// <summary>That time, s.</summary>
    public double BounceSeconds => Sensors.Contact.UsualBounceSeconds;

    /// <summary>Lead inductance and stray capacitances that parts have in discharges and bursts; null where there is none.</summary>
    public Strays? Strays { get; init; }
}

/// <summary>What a pin stands with all supplies off and its sensors at an end of their spans, against the rating that it uses
/// most.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Found">What stands at it.</param>
/// <param name="Limit">The rating.</param>
public sealed record UnpoweredPin(string Pin, Quantity Found, Quantity Limit);

/// <summary>A current that no rating limits, as nothing says what carries it may carry.</summary>
/// <param name="Part">The rail or part.</param>
/// <param name="Amps">Its effective value over a tenth of a second, A.</param>
/// <param name="Event">Name of the event; null at the operating point.</param>
public sealed record UnlimitedCurrent(string Part, double Amps, string? Event);

/// <summary>What is driven through a sensor's own output.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Amps">The largest current, A, as a magnitude.</param>
/// <param name="Event">Name of the event.</param>
public sealed record SensorDriven(string Sensor, double Amps, string? Event);

/// <summary>How far a reading may be off on every board: all tolerances of the file in their worst case together, and half a
/// count.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Largest">The largest error, as a magnitude, in the sensor's unit.</param>
/// <param name="Unit">Symbol of that unit.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Span">Width of its span, in that unit.</param>
public sealed record BoardBound(string Pin, double Largest, string Unit, string Sensor, double Span)
{
    /// <summary>Whether the reading may be anywhere: beyond the span by all of it, as firmware has it of a pin that hardly moves.</summary>
    public bool IsAnywhere => !(Largest <= Span);
}

/// <summary>How far a study has come.</summary>
/// <param name="Fraction">0 to 1.</param>
/// <param name="Doing">What it does now, in a few words.</param>
public sealed record StudyProgress(double Fraction, string Doing);
