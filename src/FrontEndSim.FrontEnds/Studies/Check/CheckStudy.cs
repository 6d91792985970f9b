using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>The main job: whether a front end fulfils its requirements, each with margin, unit and reason.</summary>
public static class CheckStudy
{
    /// <summary>Runs the mappings and events of the front end and holds its requirements against them.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops between solver steps.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">A requirement names what is not there, or cannot be judged.</exception>
    public static CheckResult Run(FrontEnd frontEnd, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, IProgress{StudyProgress}, CancellationToken)"/>
    public static CheckResult Run(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var mapped = MappingStudy.Mapped(frontEnd).ToArray();
        var logic = frontEnd.Pins.Where(p => LogicStudy.Reads(frontEnd, p)).ToArray();
        double jobs = mapped.Length + logic.Length + frontEnd.Events.Length, done = 0;
        T Tell<T>(string doing, Func<T> result)
        {
            progress?.Report(new(done++ / Math.Max(1, jobs), doing));
            return result();
        }

        ImmutableArray<MappingResult> mappings = [.. mapped.Select(p => Tell($"mapping onto {p.Name}", () => solved.Mapping(p.Name, cancel: cancel)))];
        ImmutableArray<LogicResult> levels = [.. logic.Select(p => Tell($"levels at {p.Name}", () => solved.Logic(p.Name, cancel)))];
        ImmutableArray<EventResult> events = [.. frontEnd.Events.Select(e => Tell(e.Name, () => solved.Event(e, cancel)))];
        progress?.Report(new(1, "done"));
        ImmutableArray<RequirementResult> judged = [.. frontEnd.Requirements.Select(r => r.Judge(solved, progress, cancel))];
        return new CheckResult(frontEnd.Title, judged, mappings, levels, events,
            [.. frontEnd.Events.SelectMany(e => Swallowed(frontEnd, e)), .. Overstress(events), .. Driven(events, judged)],
            [.. frontEnd.Events.SelectMany(e => e.Disturbance.Cautions).Distinct()])
        {
            Costs = [.. mappings.Select(m => solved.Costs(m, cancel))],
        };
    }

    // What changes or replaces the source acts all the same; a generator beside an ideal source moves nothing.
    private static IEnumerable<Warning> Swallowed(FrontEnd frontEnd, FaultEvent fault) =>
        frontEnd.Rails.Where(r => r.Name == fault.Node && r.SeriesOhms == 0 && IsBeside(fault, true))
            .Select(r => new EventSwallowed(fault.Name, fault.Node, r.Name, false))
            .Concat(frontEnd.Sensors.Where(s => s.Node == fault.Node && s.SourceOhms == 0 && IsBeside(fault, false))
                .Select(s => new EventSwallowed(fault.Name, fault.Node, s.Name, true)));

    private static bool IsBeside(FaultEvent fault, bool isRail) => fault.Disturbance.OnSource(isRail) == SourceEffect.None;

    /// <summary>A warning a part that is beyond a rating: the event that is hardest on it, and how many others are beyond as well.</summary>
    private static IEnumerable<Warning> Overstress(ImmutableArray<EventResult> events) => events
        .SelectMany(e => e.Parts.Where(s => s.Share > 1).Select(s => (e.Event, Stress: s)))
        .GroupBy(x => x.Stress.Part.Name).Select(beyond =>
        {
            var (fault, worst) = beyond.MaxBy(x => x.Stress.Share);
            return new PartBeyondRating(worst.Load!, new() { Event = fault.Name, Sensors = SpanPlace.Middle }, beyond.Count() - 1);
        });

    // A tenth beyond the nominal voltage is where the absolute ratings of most logic begin to matter (common practice, no source).
    private const double LiftAllowed = 0.1;

    /// <summary>A warning a rail that is driven too far, unless a requirement that is not met has said so of the pin that it supplies.</summary>
    private static IEnumerable<Warning> Driven(ImmutableArray<EventResult> events, ImmutableArray<RequirementResult> judged) => events
        .SelectMany(e => e.Rails.Where(r => r.FurthestVolts > (1 + LiftAllowed) * Math.Abs(r.Rail.Volts.Value) && !IsSaid(e, r.Rail, judged))
            .Select(r => (e.Event, Rail: r)))
        .GroupBy(x => x.Rail.Rail.Name).Select(driven =>
        {
            var (fault, worst) = driven.MaxBy(x => x.Rail.FurthestVolts);
            return new RailDriven(worst.Rail.Name, worst.AtRest, Math.Abs(worst.HighestVolts) > Math.Abs(worst.LowestVolts) ? worst.HighestVolts : worst.LowestVolts,
                new() { Event = fault.Name, Sensors = SpanPlace.Middle }, driven.Count() - 1);
        });

    private static bool IsSaid(EventResult result, Rail rail, ImmutableArray<RequirementResult> judged) => result.Pins.Any(p =>
        p.Pin.ClampRail == rail.Name && p.SupplyMarginVolts < 0
        && judged.Any(j => !j.Met && j.Requirement is InsideRating inside && inside.Pin == p.Pin.Name && (inside.Event ?? result.Event.Name) == result.Event.Name));
}
