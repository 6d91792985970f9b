using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Stages.Shifting;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>What a stage's shift may be taken from.</summary>
public enum ReferenceKind
{
    /// <summary>A rail, through a resistor that divides it in the stage.</summary>
    Rail,

    /// <summary>The wiper of a potentiometer from the rail to ground.</summary>
    Potentiometer,

    /// <summary>A divider of the rail behind a follower.</summary>
    Buffered,
}

/// <summary>A way to give a stage its reference, solved with the stage as its load.</summary>
public sealed record DesignReference
{
    /// <summary>What it is.</summary>
    public required ReferenceKind Kind { get; init; }

    /// <summary>The candidate with it; null where it is not possible.</summary>
    public DesignCandidate? Candidate { get; init; }

    /// <summary>Voltage of the reference alone, V.</summary>
    public double UnloadedVolts { get; init; }

    /// <summary>The same with the stage as its load, the sensor at mid-span, V.</summary>
    public double LoadedVolts { get; init; }

    /// <summary>How far the potentiometer is turned from ground, a share of its track; null without one.</summary>
    public double? Turn { get; init; }

    /// <summary>What a hundredth of the track moves the reading, counts; null without a potentiometer.</summary>
    public double? CountsPerHundredth { get; init; }

    /// <summary>What decides the choice, lowest best: the candidate's cost, and one for something that has to be turned by hand. Infinite
    /// where it is not possible.</summary>
    public double Cost => Candidate is null ? double.PositiveInfinity : Candidate.Cost + (Kind == ReferenceKind.Potentiometer ? 1 : 0);

    /// <summary>Why it is not possible, as the stage or the solver says it; null where it is.</summary>
    public Problem? Problem { get; init; }

    /// <summary>Number of the stage's parts with it; null where it is not possible.</summary>
    public int? PartCount => Candidate?.PartCount;

    /// <summary>Largest error with it, counts, as <see cref="DesignCandidate.WorstErrorCounts"/>; null where it is not possible.</summary>
    public double? WorstErrorCounts => Candidate?.WorstErrorCounts;

    /// <summary>Whether what the rail strays cancels, because the converter measures against it too.</summary>
    public bool IsRatiometric { get; init; }

    /// <summary>Track of the potentiometer, ohm; null without one.</summary>
    public double? TrackOhms { get; init; }

    /// <summary>What is left once the potentiometer is set as finely as one of one turn can be, counts; null without one.</summary>
    public double? SetCounts => CountsPerHundredth * DesignReferences.Settability / 0.01;

    /// <summary>Whether its values land better than those of the rail itself.</summary>
    public bool IsBetterThanRail { get; init; }
}

/// <summary>The ways to give a candidate its reference, the best first.</summary>
public static class DesignReferences
{
    /// <summary>Track of the potentiometer, ohm, a common value of trimmers; it takes a third of a milliampere from 3.3 V (common
    /// practice, no source).</summary>
    private const double TrackOhms = 10e3;

    /// <summary>How finely a trimmer of one turn can be set, a share of the voltage across it (typical of the class, from
    /// memory).</summary>
    public const double Settability = 0.0005;

    /// <summary>Solves a candidate with each reference. Empty if it has none, or if the target decides it.</summary>
    /// <param name="target">The target.</param>
    /// <param name="candidate">The candidate, its reference a rail.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static ImmutableArray<DesignReference> Of(DesignTarget target, DesignCandidate candidate, CancellationToken cancel = default)
    {
        // A resistor to the reference that is given goes with the reference it was chosen for.
        bool isDecided = target.Decided.Has(StageKind.Buffered) || target.Decided.Has(StageKind.Potentiometer)
            || target.Decided.Any(v => v.Setting.Name == "reference");
        if (candidate.Reference is not { } rail || isDecided)
            return [];
        return [.. Enum.GetValues<ReferenceKind>().Select(kind => Of(target, candidate, rail, kind, cancel)).OrderBy(r => r.Cost)];
    }

    private static DesignReference Of(DesignTarget target, DesignCandidate candidate, string rail,
        ReferenceKind kind, CancellationToken cancel)
    {
        var chosen = candidate;
        try
        {
            if (kind != ReferenceKind.Rail)
                chosen = Rebuilt(target, candidate, kind, cancel);
        }
        catch (StageProblemException e)
        {
            return new() { Kind = kind, Problem = e.Problem };
        }
        catch (SolveException e)
        {
            return new() { Kind = kind, Problem = Problem.Of(e) };
        }
        var reference = new DesignReference
        {
            Kind = kind,
            Candidate = chosen,
            IsRatiometric = kind == ReferenceKind.Rail && target.Pin.Converter!.Span.High.Rail == rail,
            IsBetterThanRail = chosen.WorstErrorCounts < candidate.WorstErrorCounts,
        };
        double volts = target.Rails.First(r => r.Name == rail).Volts.Value;
        if (kind == ReferenceKind.Rail)
            return reference with { UnloadedVolts = volts, LoadedVolts = volts };

        var made = ShiftTarget.Read(chosen.Request).Reference!;
        string node = made.Node;
        var alone = chosen.FrontEnd with
        {
            Stages = [],
            Parts = [.. chosen.Stage.Parts.IntersectBy(made.Parts.Select(p => p.Name), p => p.Name)],
        };
        reference = reference with { UnloadedVolts = At(alone, node, cancel), LoadedVolts = At(chosen.FrontEnd, node, cancel) };
        if (chosen.Stage.Parts.FirstOrDefault(p => p.Contact is not null) is not { Contact: { } contact } pot)
            return reference;
        double hundredth = Turned(target, chosen, pot, 0.005, cancel) - Turned(target, chosen, pot, -0.005, cancel);
        return reference with
        {
            Turn = contact.Position,
            TrackOhms = contact.Ohms,
            CountsPerHundredth = Math.Abs(hundredth) / chosen.Mapping.CountVolts,
        };
    }

    /// <summary>The candidate with another reference, its open resistors chosen anew.</summary>
    private static DesignCandidate Rebuilt(DesignTarget target, DesignCandidate candidate, ReferenceKind kind, CancellationToken cancel)
    {
        if (kind == ReferenceKind.Buffered && candidate.OpAmp is null)
            throw new StageProblemException("buffered", new(ProblemKind.NoOpAmpToShare, candidate.Stage.Kind));
        var request = candidate.Request;
        Setting[] open = [.. request.Kind.Settings.Where(s => s is PartSetting { Part: not null } && !target.Decided.Has(s))];
        request = request with { Values = request.Values.Without(open) };
        request = kind == ReferenceKind.Buffered ? request.With(StageKind.Buffered, true)
            : request.With(StageKind.Potentiometer, (TrackOhms, null));
        var seen = target.Gap.Seen(target.Surroundings, cancel);
        request = request with { Values = request.Values.With(DesignStudy.Chosen(request, seen)) };
        var (stage, _) = DesignStudy.Built(request, seen);
        var frontEnd = candidate.FrontEnd with { Stages = [.. candidate.FrontEnd.Stages.Select(s => s == candidate.Stage ? stage : s)] };
        return DesignMeasure.Closely(target, DesignMeasure.AtFirst(target, stage, request, frontEnd,
            candidate.Series, candidate.OpAmp, candidate.Reference, cancel), cancel);
    }

    private static double At(FrontEnd frontEnd, string node, CancellationToken cancel) =>
        new SolvedFrontEnd(frontEnd).Rest(cancel: cancel).Nodes[node];

    /// <summary>The output at mid-span with the potentiometer turned further by a share of its track, V.</summary>
    private static double Turned(DesignTarget target, DesignCandidate candidate, Part pot,
        double further, CancellationToken cancel)
    {
        var turned = candidate.Stage with
        {
            Parts = [.. candidate.Stage.Parts.Select(p => p == pot ? pot.SlidTo(pot.Contact!.Position + further) : p)],
        };
        return At(candidate.FrontEnd with { Stages = [.. candidate.FrontEnd.Stages.Select(s => s == candidate.Stage ? turned : s)] },
            target.Gap.Output, cancel);
    }
}
