using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>A candidate becomes a whole front end: what surrounds it, a guard where events need one, requirements.</summary>
public static class DesignCompletion
{
    /// <summary>Completes a candidate and checks it.</summary>
    /// <param name="target">The target that it was made for.</param>
    /// <param name="candidate">The candidate.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">No guard holds the events; the message says what to change.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static CompleteDesign Run(DesignTarget target, DesignCandidate candidate, CancellationToken cancel = default)
    {
        var around = target.Surroundings;
        var references = DesignReferences.Of(target, candidate, cancel);
        if (references.IsEmpty && target.Reference is not null)
        {
            throw new StudyProblemException(candidate.Reference is null ? new(ProblemKind.NoShiftNeeded)
                : new Problem(ProblemKind.ReferenceDecided, target.StageName));
        }
        var reference = references.FirstOrDefault(r => target.Reference is null || r.Kind == target.Reference);
        if (reference is not null)
            candidate = reference.Candidate
                ?? throw new StudyProblemException(reference.Problem!);
        DesignGuard? guard = null;
        if (!target.IsGuarded && IsRated(target.Pin))
        {
            string level = FreeName(around, "LEVEL");
            var moved = WithOutput(candidate, level);
            guard = DesignGuarding.Choose(target, moved, level, FreeName(around, "guard"), cancel);
            if (guard is not null)
                candidate = moved;
        }
        var frontEnd = around with
        {
            Stages = [.. around.Stages, candidate.Stage, .. guard is null ? [] : new[] { guard.Request.Build() }],
            Rails = [.. around.Rails.Where(r => candidate.FrontEnd.Rails.Contains(r)
                || around.Events.Any(e => e.Node == r.Name) || around.AllParts.Any(p => p.Nodes.Contains(r.Name)))],
        };
        var solved = new SolvedFrontEnd(frontEnd);
        if (target.AddsRequirements)
            solved = solved.With(frontEnd = frontEnd with { Requirements = Requirements(target, solved, cancel) });
        var check = CheckStudy.Run(solved, cancel: cancel);
        return new(candidate, frontEnd, guard, check, [.. Notes(target, frontEnd, guard, cancel)])
        {
            References = references,
            Reference = reference
        };
    }

    private static bool IsRated(Pin pin) => pin is not { RatedLow: null, RatedHigh: null, InjectionAmps: null };

    /// <summary>The candidate with its stage driving another node.</summary>
    private static DesignCandidate WithOutput(DesignCandidate candidate, string node)
    {
        var request = candidate.Request.With(StageKind.Ends, (candidate.Request.Get(StageKind.Ends).Input, node));
        var stage = request.Build() with { HandMath = candidate.Stage.HandMath };
        return candidate with
        {
            Request = request,
            Stage = stage,
            FrontEnd = candidate.FrontEnd with
            {
                Stages = [.. candidate.FrontEnd.Stages.Select(s => s == candidate.Stage ? stage : s)],
                Pins = [.. candidate.FrontEnd.Pins.Select(p => p with { Node = node })],
            },
        };
    }

    /// <summary>What the design keeps, as requirements with something to spare and without words; those of the events only if there are
    /// any.</summary>
    private static ImmutableArray<Requirement> Requirements(DesignTarget target, SolvedFrontEnd solved,
        CancellationToken cancel)
    {
        string pin = target.Pin.Name;
        double error = Math.Abs(solved.Mapping(pin, cancel: cancel).Worst.ErrorCounts);
        // What the nominal circuit keeps with a fifth to spare, on a round number.
        double limit = RoundUp(Math.Max(1, error * 1.2));
        var requirements = ImmutableArray.CreateBuilder<Requirement>();
        if (!solved.FrontEnd.Events.IsEmpty && IsRated(target.Pin))
            requirements.Add(new InsideRating(pin, null, ""));
        requirements.Add(new MappingError(pin, limit, ""));
        return requirements.ToImmutable();
    }

    // A leakage that a person can scale: that of many converter pins (typical of the class, from memory).
    private const double UsualLeakageAmps = 100e-9;

    private static IEnumerable<DesignNote> Notes(DesignTarget target, FrontEnd frontEnd, DesignGuard? guard, CancellationToken cancel)
    {
        var pin = target.Pin;
        if (guard is { BleederOhms: { } bleeder })
            yield return new RailBled(pin.ClampRail!, bleeder, frontEnd.Rails.First(r => r.Name == pin.ClampRail).Volts.Value / bleeder);
        if (guard is { Clamp: { } clamp } && guard.HotCostCounts > pin.Converter!.Codes / 100)
            yield return new LeakyClamp(clamp, guard.HotCostCounts);
        if (guard is not null && guard.SeriesWatts > guard.SeriesRatedWatts / 2)
            yield return new LargeSeriesResistor(guard.SeriesWatts, guard.SeriesRatedWatts);
        if (guard is not null && pin.LeakageAmps == 0)
            yield return new LeakageUnknown(pin.Name, UsualLeakageAmps, UsualLeakageAmps * guard.SeriesOhms);
        if (guard is not null || !IsRated(pin))
            yield break;
        foreach (var (off, fault, _) in DesignGuarding.Runs(frontEnd).Where(r => r.IsOff))
        {
            var reached = EventStudy.Pins(new SolvedFrontEnd(off), fault, null, cancel).Pins;
            if (reached.First(p => p.Pin.Name == pin.Name) is { IsInside: false } exposure)
                yield return new BeyondRatingWhenOff(fault.Name, pin.Name, exposure.LowestVolts,
                    exposure.HighestVolts, exposure.InjectionAmps);
        }
    }

    /// <summary>The wanted name for something new, or that with a number, whichever the front end does not use.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="wanted">The name.</param>
    public static string FreeName(FrontEnd frontEnd, string wanted)
    {
        HashSet<string> taken =
        [
            .. frontEnd.AllParts.SelectMany(p => p.Nodes.Append(p.Name)), .. frontEnd.Stages.Select(s => s.Name),
                .. frontEnd.Sensors.SelectMany(s => new[] { s.Name, s.Node }),
            .. frontEnd.Pins.SelectMany(p => new[] { p.Name, p.Node }), .. frontEnd.Rails.Select(r => r.Name),
        ];
        return Enumerable.Range(1, taken.Count + 1).Select(k => k == 1 ? wanted : wanted + k).First(n => !taken.Contains(n));
    }

    /// <summary>The next of 1, 2, 5, 10, 20 … at or above a value.</summary>
    internal static double RoundUp(double value)
    {
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value)));
        return decade * new[] { 1.0, 2, 5, 10 }.First(m => m * decade >= value * (1 - 1e-12));
    }
}
