using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

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

    /// <summary>What decides the choice, lowest best: the candidate's cost, and one for something that has to be turned by hand. Infinite where it is not possible.</summary>
    public double Cost => Candidate is null ? double.PositiveInfinity : Candidate.Cost + (Kind == ReferenceKind.Potentiometer ? 1 : 0);

    /// <summary>What speaks for it and against it, or why it is not possible, in sentences.</summary>
    public required string Words { get; init; }
}

/// <summary>The ways to give a candidate its reference, the best first.</summary>
public static class DesignReferences
{
    /// <summary>Track of the potentiometer, ohm, a common value of trimmers; it takes a third of a milliampere from 3.3 V (common practice, no source).</summary>
    private const double TrackOhms = 10e3;

    /// <summary>How finely a trimmer of one turn can be set, a share of the voltage across it (typical of the class, from memory).</summary>
    public const double Settability = 0.0005;

    /// <summary>Solves a candidate with each reference. Empty if it has none, or if the wish decides it.</summary>
    /// <param name="wish">The wish.</param>
    /// <param name="candidate">The candidate, its reference a rail.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static ImmutableArray<DesignReference> Of(DesignWish wish, DesignCandidate candidate, CancellationToken cancel = default)
    {
        bool isDecided = wish.Decided.Keys.Any(k => k is "buffered" || k.StartsWith("potentiometer.", StringComparison.Ordinal) || k.StartsWith("reference.", StringComparison.Ordinal));
        if (candidate.Reference is not { } rail || isDecided)
            return [];
        return [.. Enum.GetValues<ReferenceKind>().Select(kind => Of(wish, candidate, rail, kind, cancel)).OrderBy(r => r.Cost)];
    }

    private static DesignReference Of(DesignWish wish, DesignCandidate candidate, string rail, ReferenceKind kind, CancellationToken cancel)
    {
        var chosen = candidate;
        try
        {
            if (kind != ReferenceKind.Rail)
                chosen = Rebuilt(wish, candidate, kind, cancel);
        }
        catch (StageProblemException e)
        {
            return new() { Kind = kind, Words = $"not possible: {e.Message}" };
        }
        catch (SolveException e)
        {
            return new() { Kind = kind, Words = $"not possible: the engine finds no solution: {e.Message}" };
        }
        double volts = wish.Rails.First(r => r.Name == rail).Volts.Value;
        if (kind == ReferenceKind.Rail)
            return new() { Kind = kind, Candidate = chosen, UnloadedVolts = volts, LoadedVolts = volts, Words = RailWords(wish, rail, chosen) };

        string node = wish.StageName + ".REF";
        var pot = chosen.Stage.Parts.OfType<PotentiometerPart>().FirstOrDefault();
        var alone = chosen.FrontEnd with
        {
            Stages = [],
            Parts = [.. chosen.Stage.Parts.Where(p => p.Name == $"{wish.StageName}.P" || p.Name == $"{wish.StageName}.Ra" || p.Name == $"{wish.StageName}.Rb" || p.Name == $"{wish.StageName}.Ub")],
        };
        double unloaded = At(alone, node, cancel), loaded = At(chosen.FrontEnd, node, cancel);
        var reference = new DesignReference { Kind = kind, Candidate = chosen, UnloadedVolts = unloaded, LoadedVolts = loaded, Words = "" };
        if (pot is not null)
        {
            double hundredth = Turned(wish, chosen, pot, 0.005, cancel) - Turned(wish, chosen, pot, -0.005, cancel);
            reference = reference with { Turn = pot.Position, CountsPerHundredth = Math.Abs(hundredth) / chosen.Mapping.CountVolts };
        }
        return reference with { Words = pot is not null ? TurnWords(reference, pot) : BufferWords(reference, candidate) };
    }

    /// <summary>The candidate with another reference, its open resistors chosen anew.</summary>
    private static DesignCandidate Rebuilt(DesignWish wish, DesignCandidate candidate, ReferenceKind kind, CancellationToken cancel)
    {
        var stageKind = StageKinds.Find(candidate.Stage.Kind)!;
        if (kind == ReferenceKind.Buffered && candidate.OpAmp is null)
            throw new StageProblemException("buffered", $"A {candidate.Stage.Kind} has no op amp whose class and rails a buffer could share.", "");
        var values = new Dictionary<string, object>(candidate.Request.Values.Where(v => !DesignStudy.IsValue(candidate.Stage.Kind, v.Key) || wish.Decided.ContainsKey(v.Key)));
        if (kind == ReferenceKind.Buffered)
            values["buffered"] = true;
        else
            values["potentiometer.value"] = new Quantity(TrackOhms, Unit.Ohm);
        var seen = wish.Gap.Seen(wish.Surroundings, cancel);
        foreach (var (setting, value) in DesignStudy.Chosen(wish, stageKind, candidate.Request with { Values = values }, seen))
            values[setting] = value;
        var request = candidate.Request with { Values = values };
        var (stage, _) = DesignStudy.Built(wish, stageKind, request, seen);
        var frontEnd = candidate.FrontEnd with { Stages = [.. candidate.FrontEnd.Stages.Select(s => s == candidate.Stage ? stage : s)] };
        return DesignMeasure.Closely(wish, DesignMeasure.AtFirst(wish, stage, request, frontEnd, candidate.Series, candidate.OpAmp, candidate.Reference, cancel), cancel);
    }

    private static double At(FrontEnd frontEnd, string node, CancellationToken cancel) => frontEnd.ToCircuit().Compile().SolveOperatingPoint(cancel).Nodes[node];

    /// <summary>The output at mid-span with the potentiometer turned further by a share of its track, V.</summary>
    private static double Turned(DesignWish wish, DesignCandidate candidate, PotentiometerPart pot, double further, CancellationToken cancel)
    {
        var turned = candidate.Stage with { Parts = [.. candidate.Stage.Parts.Select(p => p == pot ? pot with { Position = pot.Position + further } : p)] };
        return At(candidate.FrontEnd with { Stages = [.. candidate.FrontEnd.Stages.Select(s => s == candidate.Stage ? turned : s)] }, wish.Gap.Output, cancel);
    }

    private static string RailWords(DesignWish wish, string rail, DesignCandidate candidate) =>
        $"{candidate.PartCount} parts in all, {Counts(candidate.WorstErrorCounts)} at worst; the resistor from {rail} is part of the stage's own values, so nothing loads it"
        + (wish.Pin.Converter!.Span.High.Rail == rail ? $"; what {rail} strays cancels, as the converter measures against it" : "") + ".";

    private static string TurnWords(DesignReference reference, PotentiometerPart pot)
    {
        double counts = reference.CountsPerHundredth!.Value;
        return $"{reference.Candidate!.PartCount} parts in all; {SiText.Format(pot.Ohms.Value, "ohm")} turned to {SiText.Format(reference.Turn!.Value, "%", 3)}, "
            + $"its wiper at {SiText.Format(reference.UnloadedVolts, "V", 4)} alone and {SiText.Format(reference.LoadedVolts, "V", 4)} under the stage. A hundredth of the track moves the reading "
            + $"{Counts(counts)}, so one count asks for {SiText.Format(0.01 / counts, "%", 2)} of it; set as finely as a trimmer of one turn allows ({SiText.Format(Settability, "%")}), "
            + $"{Counts(counts * Settability / 0.01)} are left. Once turned, {Counts(reference.Candidate.WorstErrorCounts)} at worst: it takes out the offset, as a calibration in firmware does without a part, and has to be turned by hand.";
    }

    private static string BufferWords(DesignReference reference, DesignCandidate rail)
    {
        double moved = reference.LoadedVolts - reference.UnloadedVolts;
        return $"{reference.Candidate!.PartCount} parts in all, {Counts(reference.Candidate.WorstErrorCounts)} at worst; {SiText.Format(reference.UnloadedVolts, "V", 4)}, which the stage's load moves by "
            + $"{SiText.Format(moved, "V", 2)}. It holds one reference for several stages and lets the reference resistor be small, but adds the tolerance of two resistors and the offset of an op amp"
            + (reference.Candidate.WorstErrorCounts < rail.WorstErrorCounts ? "; here the values land better all the same." : ".");
    }

    private static string Counts(double counts) => SiText.Plain(counts, "counts", 3);
}
