using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>
/// Single faults in the manner of IEC 60812: breaks one thing at a time and looks at what reaches each pin, at both ends of
/// the span and in every event.
/// </summary>
public static class FaultsStudy
{
    /// <summary>Runs all single faults on all cores. The result does not depend on their number.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The whole circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found for the whole circuit.</exception>
    /// <exception cref="StudyProblemException">The front end has no pin, or an event cannot happen in it.</exception>
    public static FaultsResult Run(FrontEnd frontEnd, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, IProgress{StudyProgress}, CancellationToken)"/>
    public static FaultsResult Run(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        if (frontEnd.Pins.IsEmpty)
            throw new StudyProblemException(new(ProblemKind.NoPin));
        SingleFault?[] faults = [null, .. SingleFault.Of(frontEnd)];
        int runs = 1 + frontEnd.Events.Length, done = 0;
        long longest = 0; // run so far, in steps times elements
        // One job is one run of the solver, so that the cores stay busy to the end.
        var outcomes = new Outcome[faults.Length * runs];
        OnAllCores.For(outcomes.Length, cancel, job =>
        {
            var fault = faults[job / runs];
            outcomes[job] = Solve(solved, fault, job % runs, ref longest, cancel);
            progress?.Report(new((double)Interlocked.Increment(ref done) / outcomes.Length, fault?.Text ?? "nothing broken"));
        });
        var rows = faults.SelectMany((fault, f) => frontEnd.OwnPins.Select((pin, p) =>
            Row(frontEnd, fault, pin.Name, p, outcomes.AsSpan(f * runs, runs)))).ToArray();
        return new FaultsResult(frontEnd.Title, [.. rows.Where(r => r.Fault is null)], [.. rows.Where(r => r.Fault is not null)],
            frontEnd.Cautions);
    }

    // A pin that may stand so far apart by what its loose ends leak, of all that supplies reach, is held by nothing.
    private const double FloatingShare = 0.5;

    /// <summary>What one run found: exposures of each pin at the lower end and the upper end, or in an event (twice the same).</summary>
    private readonly record struct Outcome(ImmutableArray<PinExposure> Low, ImmutableArray<PinExposure> High, Problem? Problem);

    private static Outcome Solve(SolvedFrontEnd whole, SingleFault? fault, int run, ref long longest, CancellationToken cancel)
    {
        try
        {
            var broken = fault is null ? whole : whole.Broken(fault, null, cancel);
            if (run == 0)
            {
                SolvedFrontEnd[] all = [broken, .. (fault?.Leaking(whole.FrontEnd) ?? []).Select(f => new SolvedFrontEnd(f))];
                return new(AtRest(all, SpanPlace.Low, cancel), AtRest(all, SpanPlace.High, cancel), null);
            }
            var happens = whole.FrontEnd.Events[run - 1];
            double? seconds = fault is null ? null : whole.FollowedSeconds(happens, cancel);
            using var room = RunRoom.Enter(Interlocked.Read(ref longest), cancel);
            var (pins, stepElements) = EventStudy.Pins(broken, happens, seconds, cancel);
            InterlockedMax(ref longest, stepElements);
            return new(pins, pins, null);
        }
        // What is broken may have no solution; the whole circuit must have one.
        catch (Exception e) when (fault is not null && e is SolveException or CircuitException)
        {
            return new([], [], Problem.Of(e));
        }
    }

    private static void InterlockedMax(ref long most, long value)
    {
        for (long before = Interlocked.Read(ref most); value > before;)
            before = Interlocked.CompareExchange(ref most, value, before) is var seen && seen == before ? value : seen;
    }

    /// <summary>What each pin stands at its worst, and from where to where it may stand.</summary>
    private static ImmutableArray<PinExposure> AtRest(SolvedFrontEnd[] all, SpanPlace place, CancellationToken cancel)
    {
        var points = all.Select(s => (s.FrontEnd, Point: s.Rest(place, cancel))).ToArray();
        return
        [
            .. all[0].FrontEnd.OwnPins.Select(pin =>
            {
                PinExposure[] each = [.. points.Select(p => PinExposures.AtRest(p.FrontEnd, pin, p.Point))];
                return each.MinBy(e => e.Tightness)! with
                {
                    LowestVolts = each.Min(e => e.LowestVolts),
                    HighestVolts = each.Max(e => e.HighestVolts),
                };
            }),
        ];
    }

    /// <summary>Whether a pin may stand nearly anywhere between the supplies.</summary>
    private static bool Floats(FrontEnd frontEnd, PinExposure exposure)
    {
        double[] supplies = [0, .. frontEnd.Rails.Where(r => exposure.Pin.ClampRail is null || r.Name == exposure.Pin.ClampRail)
            .Select(r => r.Volts.Value)];
        return exposure.HighestVolts - exposure.LowestVolts > FloatingShare * (supplies.Max() - supplies.Min());
    }

    private static FaultRow Row(FrontEnd frontEnd, SingleFault? fault, string pin, int place, ReadOnlySpan<Outcome> outcomes)
    {
        var row = new FaultRow(fault, pin);
        var problem = outcomes[0].Problem is { } atRest ? new NotComputed(null, atRest) : null;
        if (problem is null)
        {
            var (low, high) = (outcomes[0].Low[place], outcomes[0].High[place]);
            row = row with { AtLowEnd = low, AtHighEnd = high, Floats = Floats(frontEnd, low) || Floats(frontEnd, high) };
        }
        for (int e = 0; e + 1 < outcomes.Length; e++)
        {
            if (outcomes[e + 1].Problem is { } unsolved)
            {
                problem ??= new(new() { Event = frontEnd.Events[e].Name, Sensors = SpanPlace.Middle }, unsolved);
                continue;
            }
            var exposure = outcomes[e + 1].Low[place];
            if (row.InWorstEvent is null || Worse(exposure, row.InWorstEvent))
                row = row with { WorstEvent = frontEnd.Events[e], InWorstEvent = exposure };
        }
        if (problem is not null)
            return row with { Survives = false, Problem = problem };
        var (lower, upper) = (row.AtLowEnd!, row.AtHighEnd!);
        var atEnd = Worse(upper, lower) ? (Where: new Occasion { Sensors = SpanPlace.High }, Exposure: upper)
            : (Where: new Occasion { Sensors = SpanPlace.Low }, Exposure: lower);
        // What breaks without any event is the graver finding.
        var decisive = row.InWorstEvent is { } inEvent && atEnd.Exposure.IsInside && Worse(inEvent, atEnd.Exposure)
            ? (Where: new Occasion { Event = row.WorstEvent!.Name, Sensors = SpanPlace.Middle }, Exposure: inEvent) : atEnd;
        return row with
        {
            Survives = lower.IsInside && upper.IsInside && row.InWorstEvent is null or { IsInside: true },
            Where = decisive.Where,
            Deciding = decisive.Exposure,
        };
    }

    private static bool Worse(PinExposure a, PinExposure b) => a.Tightness < b.Tightness;
}
