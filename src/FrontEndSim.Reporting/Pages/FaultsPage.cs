using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What reaches the pins with one thing broken: the verdict, the table, and the reason for each fault that breaks a
/// rating.</summary>
public static class FaultsPage
{
    /// <summary>The page.</summary>
    public static Page Of(FaultsResult faults) => new(faults.Title, [.. Blocks(faults), new Cautions(faults.Cautions)])
    {
        Data = new Table("",
            [
                new("fault"), new("pin"), new("survives"), new("at lower end", ColumnKind.Number, "V"),
                    new("at upper end", ColumnKind.Number, "V"), new("worst event"),
                new("lowest", ColumnKind.Number, "V"), new("highest", ColumnKind.Number, "V"),
                    new("injection", ColumnKind.Number, "A"), new("reason"),
            ],
            [
                .. faults.Whole.Concat(faults.Faults).Select(r => (ImmutableArray<Cell>)
                [
                    r.Text, r.Pin, r.Survives ? "yes" : "no", r.AtLowEnd?.HighestVolts, r.AtHighEnd?.HighestVolts,
                        r.WorstEvent?.Name, r.InWorstEvent?.LowestVolts,
                    r.InWorstEvent?.HighestVolts, r.InWorstEvent?.InjectionAmps, FaultWords.Of(r),
                ]),
            ]),
    };

    /// <summary>The blocks, without cautions.</summary>
    public static ImmutableArray<Block> Blocks(FaultsResult faults)
    {
        var broken = faults.Faults.Where(f => !f.Survives).ToArray();
        var floating = faults.Faults.Where(f => f.Floats).ToArray();
        // The one pin of a circuit stands above the table, which has no room to name it in each row.
        string[] pins = [.. faults.Whole.Select(w => w.Pin).Distinct()];
        bool isOne = pins.Length == 1;
        string verdict = faults.Faults.IsEmpty ? "There is nothing that could be broken."
            : broken.Length == 0 ? $"The pins survive all {faults.Faults.Length} single faults."
            : $"{broken.Length} of {faults.Faults.Length} single faults break a pin's rating.";
        return
        [
            new Headline(Standings.Of(broken.Length == 0), verdict),
            new Table(isOne ? $"Pin {pins[0]}" : "",
                [
                    new("broken"), .. isOne ? Array.Empty<Column>() : [new("pin")], new("lower end", ColumnKind.Number, "V"),
                        new("upper end", ColumnKind.Number, "V"), new("in the worst event", ColumnKind.Number),
                    new("into clamps", ColumnKind.Number, "A") { Digits = 3 }, new("survival", ColumnKind.Standing),
                ],
                [
                    .. faults.Whole.Concat(faults.Faults).Select(r => (ImmutableArray<Cell>)
                    [
                        r.Text, .. isOne ? Array.Empty<Cell>() : [r.Pin], Stands(r.AtLowEnd, r), Stands(r.AtHighEnd, r),
                        r.InWorstEvent is { } e ? Figures.Range(e.LowestVolts, e.HighestVolts, "V") : "",
                        r.InWorstEvent?.InjectionAmps, new Cell { Standing = Standings.Of(r.Survives), Words = r.Survives
                            ? "survives" : "BREAKS" },
                    ]),
                ]),
            .. floating.Length == 0 ? [] : new[] { new Lines([new Line("Floats", FaultWords.Floating)]) },
            .. faults.Detection is { } seen ? DetectionBlocks.Of(seen) : [],
            new Lines(
                [.. broken.Select(f => new Line("- BREAKS", $"{f.Text}, pin {f.Pin}\n{FaultWords.Of(f)}") { Standing = Standing.NotMet })]),
        ];
    }

    // The leakage of an input ends within this of its supplies, V: a range as narrow says only that the pin stands there.
    private const double OneVoltage = 25e-3;
    private const int Digits = 3;

    private static Cell Stands(PinExposure? exposure, FaultRow row) => exposure is not { } e ? "no solution"
        : row.Floats ? "floats"
        : e.HighestVolts - e.LowestVolts > OneVoltage && Figures.Volts(e.LowestVolts, Digits) != Figures.Volts(e.HighestVolts, Digits)
            ? Figures.Range(e.LowestVolts, e.HighestVolts, "V", Digits)
        : Math.Abs(e.LowestVolts) > Math.Abs(e.HighestVolts) ? e.LowestVolts : e.HighestVolts;
}
