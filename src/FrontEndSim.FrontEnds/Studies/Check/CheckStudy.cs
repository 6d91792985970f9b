using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>The main job: whether a front end fulfils its requirements, each with margin, unit and reason.</summary>
public static class CheckStudy
{
    /// <summary>Runs the mappings and events of the front end and holds its requirements against them, and those that hold of every
    /// circuit. What
    /// cannot be solved is not known, and does not keep the rest from being judged.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops between solver steps.</param>
    /// <exception cref="StudyProblemException">A requirement names what is not there.</exception>
    public static CheckResult Run(FrontEnd frontEnd, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, IProgress{StudyProgress}, CancellationToken)"/>
    public static CheckResult Run(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        solved.Check(progress, cancel);

    internal static CheckResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var mapped = MappingStudy.Mapped(frontEnd).ToArray();
        var logic = frontEnd.LogicInputs.Where(p => LogicStudy.Reads(frontEnd, p)).ToArray();
        long workBefore = solved.Work.StepElements;
        double jobs = mapped.Length + logic.Length + frontEnd.Events.Length;
        int begun = 0;
        T Tell<T>(string doing, Func<T> result)
        {
            progress?.Report(new((Interlocked.Increment(ref begun) - 1) / Math.Max(1, jobs), doing));
            return result();
        }

        var problems = ImmutableArray.CreateBuilder<NotComputed>();
        ImmutableArray<MappingResult> mappings =
            [.. mapped.SelectMany(p => Tell($"mapping onto {p.Name}", () => Try(() => solved.MappingOf(p, cancel), problems)))
                .OfType<MappingResult>()];
        ImmutableArray<LogicResult> levels =
            [.. logic.SelectMany(p => Tell($"levels at {p.Name}", () => Try(() => LogicStudy.Following(solved, p.Name, cancel), problems)))
                .OfType<LogicResult>()];
        var survivals = new Survival[frontEnd.Events.Length];
        OnAllCores.For(survivals.Length, cancel, k =>
            survivals[k] = Tell(frontEnd.Events[k].Name, () => solved.Survival(frontEnd.Events[k], cancel)));
        problems.AddRange(survivals.Append(solved.AtRest(cancel)).Append(solved.InCourse(cancel)).OfType<Survival>()
            .SelectMany(s => s.Runs).Select(r => r.Problem).OfType<NotComputed>());
        ImmutableArray<EventResult> events = [.. survivals.Select(s => s.Deciding).OfType<EventResult>()];
        progress?.Report(new(1, "done"));
        Requirement[] required = [.. frontEnd.Requirements, .. Implied(frontEnd)];
        var results = new RequirementResult[required.Length];
        OnAllCores.For(required.Length, cancel, k => results[k] = Judge(required[k], solved, progress, cancel));
        ImmutableArray<RequirementResult> judged = [.. results[..frontEnd.Requirements.Length]];
        ImmutableArray<RequirementResult> implied = [.. results[frontEnd.Requirements.Length..]];
        return new CheckResult(frontEnd.Title, judged, mappings, levels, events,
            [
                .. frontEnd.Events.SelectMany(e => Swallowed(frontEnd, e)), .. Driven(events, [.. judged, .. implied]),
                .. Try(() => BackFed(solved, cancel), problems).SelectMany(w => w),
            ],
            frontEnd.Cautions)
        {
            Costs = [.. mappings.SelectMany(m => Try(() => solved.Costs(m, cancel), problems))],
            Implied = implied,
            Accepted = [.. frontEnd.Accepted.Select(a => Accepted(a, solved.Everywhere(cancel)))],
            // What was solved before counts as well: it is what a trial of a mend has to solve again.
            StepElements = Math.Max(solved.Work.StepElements - workBefore,
                survivals.Append(solved.InCourse(cancel)).OfType<Survival>().Sum(s => s.Runs.Sum(r => r.StepElements))),
            Problems = [.. problems.DistinctBy(p => (p.Where?.Event, p.Problem, p.Flaw))],
            Scope = ScopeOf(frontEnd) with
            {
                Boards = [.. mappings.SelectMany(m => Try(() => Bound(solved, m, cancel), problems)).OfType<BoardBound>()],
                Unpowered = Unpowered(solved, cancel),
                LeavesOutCourse = frontEnd.OwnCourse is not null && !mappings.IsEmpty,
                Driven = Driven(solved.Everywhere(cancel)),
                Unlimited = solved.Everywhere(cancel).Select(r => r.Unlimited)
                    .OfType<UnlimitedCurrent>().MaxBy(c => c.Amps),
            },
        };
    }

    // What must hold though nobody wrote it, unless something written covers it.
    private static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        new[]
        {
            InsideRating.Implied, PartsInsideRating.Implied, SuppliesInRange.Implied, TemperaturesInRange.Implied, SuppliesRegulate.Implied,
            RegulatorsStable.Implied, CurrentsDriven.Implied, RailsInRange.Implied, SampleSettles.Implied, FaultsDetectable.Implied,
            CleanEdges.Implied, NoiseMargin.Implied, LevelHeld.Implied, PulsesCounted.Implied, ContactWetted.Implied,
            OpAmpsInRange.Implied, ComparatorsInRange.Implied, OpAmpsStable.Implied, StagesAsAsked.Implied,
        }.SelectMany(kind => kind(frontEnd)).Where(implied => !frontEnd.Requirements.Any(r => r.Covers(implied)));

    /// <summary>At each temperature where that is not part of the judgement itself; the worst of them.</summary>
    internal static RequirementResult Judge(Requirement requirement, SolvedFrontEnd solved,
        IProgress<StudyProgress>? progress, CancellationToken cancel)
    {
        if (!requirement.IsOfOneTemperature)
            return One(solved);
        var temperatures = solved.Temperatures();
        var results = temperatures.Select(t => One(t) with { Celsius = temperatures.Length > 1 ? t.FrontEnd.Celsius : null }).ToArray();
        return results.MinBy(r => (r.Verdict switch { Verdict.NotMet => 0, Verdict.NotKnown => 1, _ => 2 }, r.Margin?.Value
            ?? double.NegativeInfinity))!;

        RequirementResult One(SolvedFrontEnd at)
        {
            try
            {
                var result = requirement.Judge(at, progress, cancel);
                return result is { Found.Value: double.NaN }
                    ? new(requirement, Verdict.NotKnown, new NotComputed(null, null) { Flaw = SolutionFlaw.NotFinite }) : result;
            }
            catch (Exception e) when (IsUnknown(e))
            {
                return new(requirement, Verdict.NotKnown, new NotComputed(null, Problem.Of(e)));
            }
        }
    }

    /// <summary>Whether an exception says that something cannot be computed of a circuit that has all that is named.</summary>
    private static bool IsUnknown(Exception e) => e is SolveException or CircuitException
        or StudyProblemException { Problem.Kind: not (ProblemKind.NoSuch or ProblemKind.NoneAtAll) };

    private static IEnumerable<T> Try<T>(Func<T> study, ImmutableArray<NotComputed>.Builder problems)
    {
        try
        {
            return [study()];
        }
        catch (Exception e) when (IsUnknown(e))
        {
            problems.Add(new(null, Problem.Of(e)));
            return [];
        }
    }

    private static AcceptedLoad Accepted(AcceptedStress accepted, ImmutableArray<SurvivalRun> runs) =>
        runs.SelectMany(r => r.Loads.Where(l => accepted.Covers(l.Part, l.Kind.Word, r.Where.Event)).Select(l => (r.Where, Load: l)))
            .MaxBy(x => x.Load.Share) is { Load: not null } worst
            ? new(accepted, worst.Load, worst.Where) : new(accepted, null, null);

    private static VerdictScope ScopeOf(FrontEnd frontEnd) => new(
        frontEnd.CelsiusRange is { } range ? [range.Low, range.Middle, range.High] : [frontEnd.Celsius], frontEnd.CelsiusRange is not null,
        [.. frontEnd.WithUsualTolerances().Rails.Where(r => r.Volts.Tolerance > 0).Select(r => r.Name)],
            [.. frontEnd.AllParts.Where(p => p.AtLimit(true) is not null).Select(p => p.Name)],
        [.. frontEnd.Events.Select(e => e.Name)])
    {
        OnEveryBoard = [.. OnBoards(frontEnd).Where(b => b.Share is null).Select(b => b.Pin).Distinct()],
        OnMostBoards = [.. OnBoards(frontEnd).GroupBy(b => b.Pin).Where(g => g.All(b => b.Share is not null)).Select(g => g.Key)],
        ExactReferences = [.. MappingStudy.Mapped(frontEnd).Where(p => p.Converter is { GainErrorCounts: null } c && !c.References.Any())
            .Select(p => p.Name)],
        AreSuppliesOff = frontEnd.AlsoUnpowered,
        RailsTaken = [.. frontEnd.Rails.Select(r => r.Name).Where(frontEnd.WithoutTolerance.Contains)],
        RailTolerance = UsualSpread.Rail.Amount,
        AreSuppliesOn = !frontEnd.AlsoUnpowered
            && frontEnd.Events.All(e => !e.Disturbance.Loses(e.Node).Any(n => frontEnd.Rails.Any(r => r.Name == n))),
        NoiseUncounted = frontEnd.Requirements.Any(r => r is NoiseUnder)
            ? [.. frontEnd.AllParts.Where(p => p.HasNoiseUncounted).Select(p => p.Name)] : [],
        ColdUnknown = [.. frontEnd.AllParts.Where(p => (frontEnd.CelsiusRange?.Low ?? frontEnd.Celsius) < p.KnownDownToCelsius)
            .Select(p => p.Name)],
        SeriesUnjudged = [.. frontEnd.AllParts.Where(p => p.AsksAtOutput is not null).Select(p => p.Name)],
        BounceTaken = [.. frontEnd.Pins.Where(p => LogicStudy.Reads(frontEnd, p)).Select(p => SignalPath.SensorOf(frontEnd, p)!)
            .Where(s => s.Contact is { IsBounceTaken: true }).Select(s => s.Name).Distinct()],
        Strays = frontEnd.Events.Select(e => e.Disturbance.Strays).FirstOrDefault(s => s is not null),
    };

    private static IEnumerable<(string Pin, double? Share)> OnBoards(FrontEnd frontEnd) =>
        frontEnd.Requirements.Where(r => r.OnBoards is not null).Select(r => r.OnBoards!.Value);

    private static BoardBound? Bound(SolvedFrontEnd solved, MappingResult mapping, CancellationToken cancel) =>
        OnBoards(solved.FrontEnd).Any(b => b.Pin == mapping.Pin && b.Share is null) ? null
        : solved.Spread(mapping, cancel: cancel) is { } spread
            ? new(mapping.Pin, spread.Largest, spread.Unit, mapping.Sensor, spread.Unit != mapping.SensorUnit ? double.PositiveInfinity
                : solved.FrontEnd.FindSensor(mapping.Sensor).Span.Width) : null;

    /// <summary>What is known of a scope that leaves the supplies on.</summary>
    private static UnpoweredPin? Unpowered(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        if (frontEnd.AlsoUnpowered || frontEnd.Rails.IsEmpty || frontEnd.OwnPins.All(p => p.RatedHigh is null && p.InjectionAmps is null))
            return null;
        var off = solved.With(frontEnd.WithRails(r => r.Off()));
        try
        {
            return new[] { SpanPlace.Low, SpanPlace.High }.Select(place => off.Rest(place, cancel))
                .SelectMany(point => frontEnd.OwnPins.Select(p => PinExposures.AtRest(off.FrontEnd, p, point)))
                .Where(p => p.Decisive is not null).MinBy(p => p.Tightness) is { } worst
                ? new(worst.Pin.Name, worst.Decisive!.Value.Found, worst.Decisive.Value.Limit) : null;
        }
        catch (Exception e) when (IsUnknown(e))
        {
            return null;
        }
    }

    // What the output of an amplifier withstands, typically (from memory), A.
    private const double UsualOutputAmps = 20e-3;

    /// <summary>The sensor of which nothing says what it withstands and that carries most, at the operating point or in an event;
    /// null where none carries much.</summary>
    private static SensorDriven? Driven(ImmutableArray<SurvivalRun> runs) =>
        runs.SelectMany(r => r.Driven).Where(d => d.Amps > UsualOutputAmps).MaxBy(d => d.Amps);

    // What changes or replaces the source acts all the same; a generator beside an ideal source moves nothing.
    private static IEnumerable<Warning> Swallowed(FrontEnd frontEnd, FaultEvent fault) =>
        frontEnd.Rails.Where(r => r.Name == fault.Node && r.SeriesOhms == 0
                && fault.Disturbance.OnSource(isRail: true) == SourceEffect.None)
            .Select(r => new EventSwallowed(fault.Name, fault.Node, r.Name, false))
            .Concat(frontEnd.Sensors.Where(s => EventStudy.IsStiff(s, fault))
                .Select(s => new EventSwallowed(fault.Name, fault.Node, s.Name, true)))
            .Concat<Warning>(fault.Disturbance.Silent is { } silent
                ? [new ArresterSilent(fault.Name, silent.FiresAtVolts, silent.PeakVolts)] : []);

    // A tenth beyond the nominal voltage is where the absolute ratings of most logic begin to matter (common practice, no source).
    private const double LiftAllowed = 0.1;

    /// <summary>A warning a rail that is driven too far, unless a requirement that is not met has said so of the pin that it
    /// supplies.</summary>
    private static IEnumerable<Warning> Driven(ImmutableArray<EventResult> events, ImmutableArray<RequirementResult> judged) => events
        .SelectMany(e => e.Rails.Where(r => r.FurthestVolts > (1 + LiftAllowed) * Math.Abs(r.Rail.Volts.Value)
            && !IsSaid(e, r.Rail, judged) && !judged.Any(j => j is { Met: false, Reason: RailLiftReason rail } && rail.Rail == r.Rail.Name))
            .Select(r => (Event: e, Rail: r)))
        .GroupBy(x => x.Rail.Rail.Name).Select(driven =>
        {
            var (fault, worst) = driven.MaxBy(x => x.Rail.FurthestVolts);
            return new RailDriven(worst.Rail.Name, worst.AtRest, Math.Abs(worst.HighestVolts) > Math.Abs(worst.LowestVolts)
                ? worst.HighestVolts : worst.LowestVolts,
                fault.Where ?? new() { Event = fault.Event.Name }, driven.Count() - 1);
        });

    // Below a tenth of its voltage nothing of what a supply feeds is taken to run (common practice, no source).
    private const double RunsFrom = 0.1;

    /// <summary>A warning a rail that is off in an event, left alone, and held up by sensors and other supplies.</summary>
    private static RailBackFed[] BackFed(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var found = new List<RailBackFed>();
        foreach (var fault in frontEnd.Events)
        {
            string[] lost = [.. fault.Disturbance.Loses(fault.Node).Where(n => frontEnd.Rails.Any(r => r.Name == n && r.SourceOnly))];
            if (lost.Length == 0)
                continue;
            var off = solved.With(frontEnd.WithRails(r => lost.Contains(r.Name) ? r with { PresentVolts = 0 } : r));
            var points = new[] { SpanPlace.Low, SpanPlace.High }.Select(place => off.Rest(place, cancel)).ToArray();
            found.AddRange(lost.Select(n => new RailBackFed(n, points.Select(p => p.Nodes[n]).MaxBy(Math.Abs), fault.Name))
                .Where(w => Math.Abs(w.Volts) > RunsFrom * Math.Abs(frontEnd.Rails.First(r => r.Name == w.Rail).Volts.Value)));
        }
        return [.. found.GroupBy(w => w.Rail).Select(g => g.MaxBy(w => Math.Abs(w.Volts))!)];
    }

    private static bool IsSaid(EventResult result, Rail rail, ImmutableArray<RequirementResult> judged) => result.Pins.Any(p =>
        p.Pin.ClampRail == rail.Name && p.SupplyMarginVolts < 0
        && judged.Any(j => !j.Met && j.Requirement.Covers(new InsideRating(p.Pin.Name, result.Event.Name, ""))));
}
