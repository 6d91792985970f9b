using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>A candidate becomes a whole front end: what surrounds it, a guard where events need one, requirements.</summary>
public static class DesignCompletion
{
    /// <summary>Completes a candidate and checks it.</summary>
    /// <param name="wish">The wish that it was made for.</param>
    /// <param name="candidate">The candidate.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">No guard holds the events; the message says what to change.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static CompleteDesign Run(DesignWish wish, DesignCandidate candidate, CancellationToken cancel = default)
    {
        var around = wish.Surroundings;
        var references = DesignReferences.Of(wish, candidate, cancel);
        if (references.IsEmpty && wish.Reference is not null)
        {
            throw new StudyProblemException(candidate.Reference is null ? "The span needs no shift, so there is no reference to choose."
                : $"The reference of stage {wish.StageName} is decided already: leave its reference settings open, or do not ask for another.");
        }
        var reference = references.FirstOrDefault(r => wish.Reference is null || r.Kind == wish.Reference);
        if (reference is not null)
            candidate = reference.Candidate ?? throw new StudyProblemException($"The reference asked for is {reference.Words}");
        DesignGuard? guard = null;
        if (!wish.IsGuarded && IsRated(wish.Pin))
        {
            string level = FreeName(around, "LEVEL");
            var moved = WithOutput(candidate, level);
            guard = DesignGuarding.Choose(wish, moved, level, FreeName(around, "guard"), cancel);
            if (guard is not null)
                candidate = moved;
        }
        var frontEnd = around with
        {
            Stages = [.. around.Stages, candidate.Stage, .. guard is null ? [] : new[] { DesignGuarding.Build(guard.Request) }],
            Rails = [.. around.Rails.Where(r => candidate.FrontEnd.Rails.Contains(r) || around.Events.Any(e => e.Node == r.Name) || around.AllParts.Any(p => p.Nodes.Contains(r.Name)))],
        };
        if (wish.AddsRequirements)
            frontEnd = frontEnd with { Requirements = Requirements(wish, candidate, frontEnd, cancel) };
        var check = CheckStudy.Run(frontEnd, cancel: cancel);
        return new(candidate, frontEnd, guard, check, [.. Notes(wish, candidate, frontEnd, guard, check, cancel)]) { References = references, Reference = reference };
    }

    private static bool IsRated(Pin pin) => pin is not { RatedLow: null, RatedHigh: null, InjectionAmps: null };

    /// <summary>The candidate with its stage driving another node.</summary>
    private static DesignCandidate WithOutput(DesignCandidate candidate, string node)
    {
        var request = candidate.Request with { Values = new Dictionary<string, object>(candidate.Request.Values) { ["from.output"] = node } };
        var stage = StageKinds.Find(candidate.Stage.Kind)!.Build(request) with { HandMath = candidate.Stage.HandMath };
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

    /// <summary>What the design keeps, as requirements with something to spare; those of the events only if there are any.</summary>
    private static ImmutableArray<Requirement> Requirements(DesignWish wish, DesignCandidate candidate, FrontEnd frontEnd, CancellationToken cancel)
    {
        string pin = wish.Pin.Name, stage = wish.StageName;
        double error = Math.Abs(MappingStudy.Run(frontEnd, pin, points: 11, cancel: cancel).Worst.ErrorCounts);
        // What the nominal circuit keeps with a fifth to spare, on a round number.
        double limit = RoundUp(Math.Max(1, error * 1.2));
        var requirements = ImmutableArray.CreateBuilder<Requirement>();
        if (!frontEnd.Events.IsEmpty && IsRated(wish.Pin))
            requirements.Add(new InsideRating(pin, null, $"{pin} inside rating in every event"));
        requirements.Add(new MappingError(pin, limit, $"{pin} mapping error under {SiText.Format(limit, "counts")}"));
        if (candidate.HeadroomVolts is { } headroom)
        {
            double least = headroom > 0.6 ? 0.5 : Math.Floor(headroom * 50) / 100; // half of what there is, in steps of 10 mV
            requirements.Add(new Headroom(stage, least, $"{stage} headroom over {SiText.Format(least, "V")}"));
        }
        return requirements.ToImmutable();
    }

    private static IEnumerable<string> Notes(DesignWish wish, DesignCandidate candidate, FrontEnd frontEnd, DesignGuard? guard, CheckResult check, CancellationToken cancel)
    {
        double beyond = wish.Pin.RatedHigh?.Volts ?? 0.3;
        foreach (var result in check.Events)
        {
            foreach (var amp in candidate.Stage.Parts.OfType<OpAmpPart>())
            {
                foreach (string input in new[] { amp.Plus, amp.Minus })
                {
                    var at = result.Transient.Voltage(input);
                    double over = at.Maximum().Value - Highest(result, amp.PositiveRail), under = Lowest(result, amp.NegativeRail) - at.Minimum().Value;
                    if (Math.Max(over, under) > beyond)
                    {
                        yield return $"\"{result.Event.Name}\" takes an input of {amp.Name} {SiText.Format(Math.Max(over, under), "V", 3)} beyond its supply: "
                            + "its own protection then conducts, which this circuit does not model; add clamp diodes at that input, or a resistor that its data sheet allows.";
                    }
                }
            }
        }
        if (guard is { BleederOhms: { } bleeder })
            yield return $"The events push current into {wish.Pin.ClampRail}, which only delivers: a bleeder of {SiText.Format(bleeder, "ohm")} takes it. Leave it out if the rail feeds what always draws more, and declare that as its load.";
        if (guard is not null && DesignGuarding.Build(guard.Request).Parts.OfType<ResistorPart>().First() is var series && guard.SeriesWatts > series.RatedWatts / 2)
            yield return $"The guard's resistor takes {SiText.Format(guard.SeriesWatts, "W", 3)} averaged by its heat, more than half of the usual {SiText.Format(series.RatedWatts, "W")}: buy a larger one (frontendsim build says which).";
        if (guard is { Clamp: not null } && guard.HotCostCounts > wish.Pin.Converter!.Codes / 100)
        {
            yield return $"Hot, the leakage of {guard.Clamp} in the resistance ahead of it costs up to {SiText.Plain(guard.HotCostCounts, "counts", 3)}: a pin that stands more beyond its rails "
                + "lets a clamp do that leaks less, and a stage with an op amp or less resistance makes the same leakage matter less.";
        }
        if (guard is not null && wish.Pin.LeakageAmps == 0)
            yield return $"Pin {wish.Pin.Name} is taken to leak nothing: give its leakage, each 100 nA of which cost {SiText.Format(100e-9 * guard.SeriesOhms, "V", 3)} in the guard's series resistor.";
        if (guard is null && IsRated(wish.Pin))
        {
            foreach (var (off, fault, _) in DesignGuarding.Runs(frontEnd).Where(r => r.IsOff))
            {
                if (EventStudy.Pins(new SolvedFrontEnd(off), fault, cancel).First(p => p.Pin.Name == wish.Pin.Name) is { IsInside: false } exposure)
                    yield return $"With the supplies off, \"{fault.Name}\" takes pin {wish.Pin.Name} to {SiText.Format(exposure.LowestVolts, "V", 3)} .. "
                        + $"{SiText.Format(exposure.HighestVolts, "V", 3)} and {SiText.Format(Math.Max(exposure.UpperInjectionAmps, exposure.LowerInjectionAmps), "A", 3)} "
                        + "into its clamps, beyond its ratings.";
            }
        }
    }

    private static double Highest(EventResult result, string rail) => result.Transient.Voltage(rail).Maximum().Value;

    private static double Lowest(EventResult result, string rail) => result.Transient.Voltage(rail).Minimum().Value;

    /// <summary>The wanted name for something new, or that with a number, whichever the front end does not use.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="wanted">The name.</param>
    public static string FreeName(FrontEnd frontEnd, string wanted)
    {
        HashSet<string> taken =
        [
            .. frontEnd.AllParts.SelectMany(p => p.Nodes.Append(p.Name)), .. frontEnd.Stages.Select(s => s.Name), .. frontEnd.Sensors.SelectMany(s => new[] { s.Name, s.Node }),
            .. frontEnd.Pins.SelectMany(p => new[] { p.Name, p.Node }), .. frontEnd.Rails.Select(r => r.Name),
        ];
        return Enumerable.Range(1, taken.Count + 1).Select(k => k == 1 ? wanted : wanted + k).First(n => !taken.Contains(n));
    }

    /// <summary>The next of 1, 2, 5, 10, 20 … at or above a value.</summary>
    private static double RoundUp(double value)
    {
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value)));
        return decade * new[] { 1.0, 2, 5, 10 }.First(m => m * decade >= value * (1 - 1e-12));
    }
}
