using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What a design came to.</summary>
/// <param name="Result">The candidates.</param>
/// <param name="Picked">The completed one; null if there is none.</param>
public sealed record DesignAnswer(DesignResult Result, CompleteDesign? Picked)
{
    /// <summary>The best of each kind of stage and series, best first.</summary>
    public ImmutableArray<DesignCandidate> Candidates => Result.Candidates;

    /// <summary>The kinds that are not possible.</summary>
    public ImmutableArray<DesignRefusal> Refusals => Result.Refusals;

    /// <summary>What was taken for granted.</summary>
    public ImmutableArray<DesignAssumption> Assumptions => Result.Assumptions;

    /// <summary>Number of the picked candidate, from 1; 0 for none.</summary>
    public int Number { get; init; }

    /// <summary>The circuit file that it started from; null for none.</summary>
    public string? Source { get; init; }

    /// <summary>What was taken from that file, in the words of a circuit file.</summary>
    public ImmutableArray<string> Taken { get; init; } = [];

    /// <summary>What was chosen, in the words of a circuit file.</summary>
    public ImmutableArray<string> Chosen { get; init; } = [];

    /// <summary>Why better candidates were not taken.</summary>
    public ImmutableArray<PassedOver> PassedOver { get; init; } = [];

    /// <summary>The file to be written; null for none.</summary>
    public string? WrittenTo { get; init; }
}

/// <summary>A candidate that ranks higher than the picked one and was not taken.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="Misses">What is required and it does not meet.</param>
/// <param name="Problem">Why it could not be completed at all; null where it could.</param>
public sealed record PassedOver(int Number, ImmutableArray<RequirementResult> Misses, string? Problem);

/// <summary>The candidates in a table, the picked one in full, and why the others cannot be.</summary>
public static class DesignPage
{
    /// <summary>The page.</summary>
    public static Page Of(DesignAnswer answer)
    {
        var (result, design, target) = (answer.Result, answer.Picked, answer.Result.Target);
        return new(
            $"{Figures.Range(target.Sensor.Span)} behind {Figures.Of(target.Sensor.SourceOhms, "ohm")} onto {Figures.Range(target.Onto)} "
            + $"of {target.Pin.Converter!.Bits} bits, "
            + $"with {string.Join(", ", target.Rails.Select(r => $"{r.Name} {Figures.Volts(r.Volts.Value)}"))}",
            [
                new Lines([.. answer.Taken.Select((t, k) =>
                    new Line(k == 0 ? "Taken" : "", (k == 0 ? $"from {answer.Source}: " : "") + t))]),
                .. design is null ? [new Lines([new("", "No stage is possible.") { Standing = Standing.NotMet }])] : new Block[]
                {
                    Candidates(result),
                    new Lines([.. Choices(result)]),
                    new Section("picked",
                        $"Number {answer.Number}: {design.Candidate.Stage.Kind}"
                        + (design.Candidate.OpAmp is { } type ? $", {type.Name}" : "")
                        + (design.Candidate.Reference is { } reference ? $", shifted from {reference}" : ""), Picked(answer, design)),
                },
                new Lines([.. Ending(answer)]),
            ])
        {
            Data = Data(result),
        };
    }

    private static Table Candidates(DesignResult result) => new("",
        [
            new("", ColumnKind.Plain), new("stage"), new("series"), new("worst", ColumnKind.Plain) { Digits = 3 },
                new("nominal", ColumnKind.Signed),
            new("headroom", ColumnKind.Number, "V") { Digits = 2 }, new("input", ColumnKind.Number, "ohm") { Digits = 3 },
                new("parts", ColumnKind.Number),
            new("noise", ColumnKind.Number, "V") { Digits = 2 }, new("power", ColumnKind.Number, "W") { Digits = 2 },
                new("cost", ColumnKind.Plain) { Digits = 3 },
        ],
        [
            .. result.Candidates.Select((c, k) => (ImmutableArray<Cell>)
            [
                k + 1.0, c.Stage.Kind, c.Series.Name, c.WorstErrorCounts, c.NominalErrorCounts, c.HeadroomVolts is { } h
                    ? h : "-", c.InputOhms,
                $"{c.PartCount}/{c.DistinctValues}", c.NoiseVolts, c.SupplyWatts, c.Cost,
            ]),
        ]);

    /// <summary>What the table has no room for: op amps and references, by the numbers of their candidates.</summary>
    private static IEnumerable<Line> Choices(DesignResult result)
    {
        var numbered = result.Candidates.Select((c, k) => (Number: k + 1, Candidate: c)).ToArray();
        string Numbers(IEnumerable<(int Number, DesignCandidate)> of) => string.Join(", ", of.Select(n => n.Number));
        yield return new("Op amp", string.Join("; ", numbered.GroupBy(n => n.Candidate.OpAmp?.Name ?? "none")
            .Select(g => $"{g.Key} in {Numbers(g)}")));
        if (numbered.Any(n => n.Candidate.Reference is not null))
            yield return new("Shift", string.Join("; ", numbered.GroupBy(n => n.Candidate.Reference ?? "none")
                .Select(g => $"from {g.Key} in {Numbers(g)}")));
        yield return new("Columns", "worst and nominal error in counts; headroom to swing and common-mode limits; what the sensor sees; "
            + "parts and different resistor values; "
            + "noise from 1 Hz to 100 kHz; power from the rails at mid-span");
    }

    private static ImmutableArray<Block> Picked(DesignAnswer answer, CompleteDesign design)
    {
        var (c, target) = (design.Candidate, answer.Result.Target);
        return
        [
            new Lines(
            [
                .. answer.Source is null ? [] : answer.Chosen.Select((t, k) => new Line(k == 0 ? "Chosen" : "", t)),
                .. answer.PassedOver.Select(p => new Line("Skipped", DesignWords.Of(p))),
                new("Parts", string.Join(", ", design.PartValues.Select(p => $"{p.Key} {p.Value}"))),
                new("Error",
                    $"worst case {Amounts.Counts(c.WorstErrorCounts)} "
                    + $"({Figures.Percent(c.WorstErrorCounts / target.Pin.Converter!.Codes, 3)} of full scale) "
                    + $"{(c.Stage.Parts.Any(p => p.IsTrimmed) ? "once the potentiometer is turned" : "before calibration")}, "
                    + (c.IsWorstExact ? "over every corner" : "the largest contributions over every corner and the others added")
                    + $"; {Amounts.Counts(Math.Abs(c.NominalErrorCounts))} with nominal parts, "
                        + $"{Amounts.Counts(Math.Abs(c.Mapping.NonlinearityCounts))} of them nonlinearity, which no two-point "
                        + "calibration takes out"),
                new("Loading", $"the sensor sees {Figures.Of(c.InputOhms, "ohm", 3)}: {Figures.Percent(c.Loading, 3)} of its voltage "
                    + $"stays in its source resistance, and is counted in"),
                .. References(design), .. Guard(design, target),
                new("", string.Join("; ", design.Check.Requirements.Concat(design.Check.Implied.Where(r => !r.Met))
                    .Select(DesignWords.Found))) { Standing =
                    Standings.Of(design.Check.Verdict) },
                .. design.Notes.Select(n => new Line("! Note", DesignWords.Of(n)) { Standing = Standing.Warning }),
            ]),
            new Table("", [new("hand calculation"), new("formula"), new("with numbers"), new("result", ColumnKind.Number)],
                [
                    .. c.Stage.HandMath.Concat(design.Guard?.HandCalculation ?? [])
                        .Select(s =>
                            (ImmutableArray<Cell>)[s.What, s.Formula, s.Substitution, new Cell { Number = s.Result, Unit = s.Unit }]),
                ]),
        ];
    }

    private static IEnumerable<Line> References(CompleteDesign design)
    {
        foreach (var reference in design.References)
        {
            string kind = reference.Kind switch
            {
                ReferenceKind.Rail => $"{design.Candidate.Reference} itself",
                ReferenceKind.Potentiometer => $"a potentiometer across {design.Candidate.Reference}",
                _ => $"a divider of {design.Candidate.Reference} behind a follower",
            };
            yield return new(reference == design.References[0] ? "Reference"
                : "", $"{(reference == design.Reference ? "taken" : "not taken")}"
                + (double.IsInfinity(reference.Cost) ? "" : $" (cost {Figures.Plain(reference.Cost, "", 3)})")
                    + $": {kind}: {DesignWords.Of(reference, design.Candidate.Reference)}");
        }
    }

    private static IEnumerable<Line> Guard(CompleteDesign design, DesignTarget target)
    {
        if (design.Guard is not { } g)
            yield break;
        var l = g.Levels;
        yield return new("Guard", $"{Figures.Of(g.SeriesOhms, "ohm")} in series"
            + (g.Clamp is { } clamp ? $" with {clamp} to {target.Pin.ClampRail} and from ground" : ", the pin's own clamps do the rest")
            + (g.BleederOhms is { } bleeder ? $", {Figures.Of(bleeder, "ohm")} from {target.Pin.ClampRail} to ground" : "")
            + $": the events reach {Figures.Range(l.Low, l.High, "V")} ahead of it, {Figures.Range(l.LowOff, l.HighOff, "V")} with the "
                + $"supplies off, "
            + $"and push {Figures.Of(g.InjectionAmps, "A", 3)} through the pin's clamps"
            + (target.Pin.InjectionAmps is { } allowed ? $" ({Figures.Of(allowed, "A")} allowed)" : "")
            + $"; nearest to a rating comes \"{g.WorstEvent}\" with the supplies {(g.IsWorstOff ? "off" : "on")}");
        yield return new("Its price",
            $"up to {Amounts.Counts(g.CostCounts)}, hot (85 °C) up to {Amounts.Counts(g.HotCostCounts)}, with "
            + $"{Figures.Of(Math.Abs(target.Pin.LeakageAmps), "A")} of leakage of the pin; "
            + $"the resistor dissipates {Figures.Of(g.SeriesWatts, "W", 3)} averaged by its heat, {Figures.Of(g.SeriesPeakWatts, "W", 3)} "
                + $"at the peak, {Figures.Of(g.SeriesJoules, "J", 3)} in one event");
    }

    private static IEnumerable<Line> Ending(DesignAnswer answer)
    {
        foreach (var refusal in answer.Result.Refusals.GroupBy(r => r.Stage).SelectMany(g => g.Take(3)))
            yield return new("Not", $"{refusal.Stage}: {DesignWords.Of(refusal)}");
        foreach (var assumption in answer.Result.Assumptions)
            yield return new("Assumed", DesignWords.Of(assumption));
        if (answer.Picked is not { } design)
            yield break;
        yield return new("Ranking", "Cost adds, lowest best: worst error in % of full scale, loading in %, noise "
            + "in counts, power over 100 mW, "
            + "0.1 a part, 0.05 a different value.");
        if (answer.WrittenTo is { } written)
        {
            yield return design.Check.AllMet ? new("Written", $"{written}; next: frontendsim check {written}")
                : new("Kept back",
                    $"{written} is not written, as it would not pass check: ease what is required, or design for other parts.");
        }
    }

    private static Table Data(DesignResult result) => new("",
        [
            new("rank", ColumnKind.Plain), new("stage"), new("series"), new("op amp"), new("reference"),
                new("worst error", ColumnKind.Plain, "counts"),
            new("nominal error", ColumnKind.Plain, "counts"), new("headroom", ColumnKind.Number, "V"),
                new("input resistance", ColumnKind.Number, "ohm"), new("loading", ColumnKind.Plain),
            new("parts", ColumnKind.Plain), new("different values", ColumnKind.Plain),
                new("noise", ColumnKind.Number, "V"), new("power", ColumnKind.Number, "W"), new("cost", ColumnKind.Plain),
            new("values"),
        ],
        [
            .. result.Candidates.Select((c, k) => (ImmutableArray<Cell>)
            [
                k + 1.0, c.Stage.Kind, c.Series.Name, c.OpAmp?.Name, c.Reference, c.WorstErrorCounts,
                    c.NominalErrorCounts, c.HeadroomVolts, c.InputOhms, c.Loading,
                (double)c.PartCount, (double)c.DistinctValues, c.NoiseVolts, c.SupplyWatts, c.Cost,
                string.Join("; ", c.Stage.Parts.Where(p => p.IsResistor).Select(r => $"{r.Name} {r.ValueText}")),
            ]),
        ]);
}
