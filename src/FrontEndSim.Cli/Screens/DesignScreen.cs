using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The candidates in a table, the picked one in full, and why the others cannot be.</summary>
internal static class DesignScreen
{
    /// <param name="result">The candidates.</param>
    /// <param name="proposal">The one that is completed; null if there is none.</param>
    /// <param name="source">The circuit file that it started from, or null.</param>
    /// <param name="taken">What was taken from that.</param>
    /// <param name="target">The file to be written, or null.</param>
    public static IEnumerable<IRenderable> Of(DesignResult result, DesignProposal? proposal, string? source, IReadOnlyList<string> taken, string? target)
    {
        var complete = proposal?.Complete;
        var wish = result.Wish;
        yield return Blocks.Title($"{Span(wish.Sensor.Span)} behind {SiText.Format(wish.Sensor.SourceOhms, "ohm")} onto {Span(wish.Onto)} of {wish.Pin.Converter!.Bits} bits, "
            + $"with {string.Join(", ", wish.Rails.Select(r => $"{r.Name} {Blocks.Volts(r.Volts.Value)}"))}");
        yield return Blocks.Blank;
        if (source is not null)
        {
            yield return Blocks.Margin(taken.Select((t, k) => ((IRenderable)Blocks.Word(k == 0 ? "Taken" : ""), (IRenderable)new Text((k == 0 ? $"from {source}: " : "") + t))));
            yield return Blocks.Blank;
        }
        if (complete is null)
            yield return Blocks.Margin([(Blocks.Verdict(false), Blocks.Word("No stage is possible."))]);
        else
        {
            yield return Table(result);
            yield return Blocks.Blank;
            yield return Blocks.Margin(Choices(result));
            yield return Blocks.Blank;
            foreach (var block in Picked(proposal!, wish, source is not null))
                yield return block;
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin(
        [
            .. result.Refusals.GroupBy(r => r.Kind).SelectMany(g => g.Take(3).Select(r =>
                ((IRenderable)Blocks.Word("Not"), (IRenderable)new Text($"{r.Kind}: {r.Reason} {r.Change}")))),
            .. result.Assumptions.Select(a => ((IRenderable)Blocks.Word("Assumed"), (IRenderable)new Text(a))),
            .. complete is null ? [] : new[] { ((IRenderable)Blocks.Word("Ranking"), (IRenderable)new Text("Cost adds, lowest best: worst error in % of full scale, loading in %, "
                + "headroom short of 0.5 V, noise in counts, power over 100 mW, 0.1 a part, 0.05 a different value.")) },
            .. target is null || complete is null ? [] : new[]
            {
                complete.Check.AllMet ? ((IRenderable)Blocks.Word("Written"), (IRenderable)new Text($"{target}; next: frontendsim check {target}"))
                    : (Blocks.Word("Kept back"), new Text($"{target} is not written, as it would not pass check: ease what is required, or design for other parts.")),
            },
        ]);
    }

    private static Table Table(DesignResult result) => Blocks.Table(
        ["", "stage", "series", "worst", "nominal", "headroom", "input", "parts", "noise", "power", "cost"], [0, 3, 4, 5, 6, 7, 8, 9, 10],
        result.Candidates.Select((c, k) => (string[])
        [
            (k + 1).ToString(), c.Stage.Kind, c.Series.Name, SiText.Plain(c.WorstErrorCounts, "", 3), SiText.Signed(c.Mapping.Worst.ErrorCounts),
            c.HeadroomVolts is { } h ? SiText.Format(h, "V", 2) : "-", Ohms(c.InputOhms), $"{c.PartCount}/{c.DistinctValues}",
            SiText.Format(c.NoiseVolts, "V", 2), SiText.Format(c.SupplyWatts, "W", 2), SiText.Plain(c.Cost, "", 3),
        ]));

    /// <summary>What the table has no room for: op amps and references, by the numbers of their candidates.</summary>
    private static IEnumerable<(IRenderable, IRenderable)> Choices(DesignResult result)
    {
        var numbered = result.Candidates.Select((c, k) => (Number: k + 1, Candidate: c)).ToArray();
        string Numbers(IEnumerable<(int Number, DesignCandidate)> of) => string.Join(", ", of.Select(n => n.Number));
        yield return (Blocks.Word("Op amp"), new Text(string.Join("; ", numbered.GroupBy(n => n.Candidate.OpAmp?.Name ?? "none").Select(g => $"{g.Key} in {Numbers(g)}"))));
        if (numbered.Any(n => n.Candidate.Reference is not null))
            yield return (Blocks.Word("Shift"), new Text(string.Join("; ", numbered.GroupBy(n => n.Candidate.Reference ?? "none").Select(g => $"from {g.Key} in {Numbers(g)}"))));
        yield return (Blocks.Word("Columns"), new Text("worst and nominal error in counts; headroom to swing and common-mode limits; what the sensor sees; parts and different resistor values; "
            + "noise from 1 Hz to 100 kHz"));
    }

    private static IEnumerable<IRenderable> Picked(DesignProposal proposal, DesignWish wish, bool isOfFile)
    {
        var design = proposal.Complete;
        var c = design.Candidate;
        yield return Blocks.Title($"Number {proposal.Number}: {c.Stage.Kind}"
            + (c.OpAmp is { } type ? $", {type.Name}" : "") + (c.Reference is { } reference ? $", shifted from {reference}" : ""));
        yield return Blocks.Margin(
        [
            .. isOfFile ? proposal.Chosen.Select((t, k) => ((IRenderable)Blocks.Word(k == 0 ? "Chosen" : ""), (IRenderable)new Text(t))) : [],
            .. proposal.PassedOver.Select(p => ((IRenderable)Blocks.Word("Skipped"), (IRenderable)new Text(p))),
            (Blocks.Word("Parts"), new Text(string.Join(", ", design.FrontEnd.AllParts.Select(p => $"{p.Name} {p.ValueText}")))),
            (Blocks.Word("Error"), new Text($"at worst {Counts(c.WorstErrorCounts)} ({SiText.Format(c.WorstErrorCounts / wish.Pin.Converter!.Codes, "%", 3)} of full scale) {(c.Stage.Parts.Any(p => p is PotentiometerPart) ? "once the potentiometer is turned" : "before calibration")}, "
                + (c.IsWorstExact ? "over every corner" : "the largest contributions over every corner and the others added")
                + $"; {Counts(Math.Abs(c.Mapping.Worst.ErrorCounts))} with nominal parts, {Counts(Math.Abs(c.Mapping.CurvatureCounts))} of them bent, which no two-point calibration takes out")),
            (Blocks.Word("Loading"), new Text($"the sensor sees {Ohms(c.InputOhms)}: {SiText.Format(c.Loading, "%", 3)} of its voltage stays in its source resistance, and is counted in")),
            .. References(design),
            .. Guard(design, wish),
            (Blocks.Verdict(design.Check.AllMet), new Text(string.Join("; ", design.Check.Requirements.Select(r => $"{r.Requirement.Text} ({RequirementWords.Found(r)})")))),
            .. design.Check.Warnings.Select(WarningWords.Of).Concat(design.Notes).Select(n => ((IRenderable)Blocks.Warning("! Note"), (IRenderable)new Text(n))),
        ]);
        yield return Blocks.Blank;
        yield return Blocks.Table(["hand math", "formula", "with numbers", "result"], [3], c.Stage.HandMath.Concat(design.Guard?.HandMath ?? [])
            .Select(s => (string[])[s.What, s.Formula, s.Substitution, s.Unit == "" ? SiText.Plain(s.Result, "") : SiText.Format(s.Result, s.Unit)]));
    }

    private static IEnumerable<(IRenderable, IRenderable)> References(CompleteDesign design)
    {
        foreach (var reference in design.References)
        {
            string kind = reference.Kind switch
            {
                ReferenceKind.Rail => $"{design.Candidate.Reference} itself",
                ReferenceKind.Potentiometer => $"a potentiometer across {design.Candidate.Reference}",
                _ => $"a divider of {design.Candidate.Reference} behind a follower",
            };
            yield return (Blocks.Word(reference == design.References[0] ? "Reference" : ""), new Text($"{(reference == design.Reference ? "taken" : "not taken")}"
                + (double.IsInfinity(reference.Cost) ? "" : $" (cost {SiText.Plain(reference.Cost, "", 3)})") + $": {kind}: {reference.Words}"));
        }
    }

    private static IEnumerable<(IRenderable, IRenderable)> Guard(CompleteDesign design, DesignWish wish)
    {
        if (design.Guard is not { } g)
            yield break;
        var l = g.Levels;
        yield return (Blocks.Word("Guard"), new Text($"{SiText.Format(g.SeriesOhms, "ohm")} in series"
            + (g.Clamp is { } clamp ? $" with {clamp} to {wish.Pin.ClampRail} and from ground" : ", the pin's own clamps do the rest")
            + $": the events reach {Blocks.Volts(l.Low)} .. {Blocks.Volts(l.High)} ahead of it, {Blocks.Volts(l.LowOff)} .. {Blocks.Volts(l.HighOff)} with the supplies off, "
            + $"and push {SiText.Format(g.InjectionAmps, "A", 3)} through the pin's clamps"
            + (wish.Pin.InjectionAmps is { } allowed ? $" ({SiText.Format(allowed, "A")} allowed)" : "")
            + $"; nearest to a rating comes \"{g.WorstEvent}\" with the supplies {(g.IsWorstOff ? "off" : "on")}"));
        yield return (Blocks.Word("Its price"), new Text($"up to {Counts(g.CostCounts)}, hot (85 °C) up to {Counts(g.HotCostCounts)}, with {SiText.Format(Math.Abs(wish.Pin.LeakageAmps), "A")} of leakage of the pin; "
            + $"the resistor takes {SiText.Format(g.SeriesWatts, "W", 3)} averaged by its heat, {SiText.Format(g.SeriesPeakWatts, "W", 3)} at the peak, {SiText.Format(g.SeriesJoules, "J", 3)} in one event"));
    }

    private static string Counts(double counts) => counts < 1e-3 ? "0 counts" : SiText.Plain(counts, "counts", 3);

    private static string Ohms(double ohms) => double.IsInfinity(ohms) ? "∞" : SiText.Format(ohms, "ohm", 3);

    private static string Span(Span span) => $"{Blocks.Volts(span.Low)} .. {Blocks.Volts(span.High)}";
}
