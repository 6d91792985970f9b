using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What the design of a sensor-divider came to.</summary>
/// <param name="Design">The candidates.</param>
/// <param name="Number">Number of the picked one, from 1.</param>
/// <param name="Check">Its check.</param>
/// <param name="Source">The circuit file that it started from.</param>
/// <param name="Chosen">What was chosen, in the words of a circuit file.</param>
/// <param name="WrittenTo">The file to be written; null for none.</param>
public sealed record DividerAnswer(DividerDesign Design, int Number, CheckResult Check, string Source, ImmutableArray<string> Chosen,
    string? WrittenTo);

/// <summary>The resistors in a table, the best first, and the one that is taken.</summary>
public static class DividerDesignPage
{
    private const int MostRows = 8;

    /// <summary>The page.</summary>
    public static Page Of(DividerAnswer answer)
    {
        var design = answer.Design;
        string unit = design.SensorUnit;
        return new(
            $"A resistor for {design.Sensor}, {Figures.Range(design.Span.Low, design.Span.High, unit)}, read by pin {design.Pin}",
            [
                new Table("", Columns(unit), [.. design.Candidates.Take(MostRows).Select((c, k) => Row(c, k + 1))]),
                new Lines(
                [
                    new("Columns", "bend: how far the voltage strays from a straight line, of its change over the span; change: of the "
                        + "voltage at the pin; count: what one is, at most; error: of a reading on any board, all tolerances in their "
                        + "worst case"),
                    new("Ranked", design.Aim switch
                    {
                        DividerAim.Linearity => "by the least bend, as asked for",
                        DividerAim.Resolution => "by the largest change, as asked for",
                        _ => "by the least error of a reading; --aim linearity or --aim resolution asks for something else",
                    }),
                    .. answer.Chosen.Select((t, k) => new Line(k == 0 ? "Chosen" : "", t)),
                    new("", string.Join("; ", answer.Check.Requirements.Concat(answer.Check.Implied.Where(r => !r.Met))
                        .Select(DesignWords.Found)))
                    {
                        Standing = Standings.Of(answer.Check.Verdict),
                    },
                    .. answer.WrittenTo is not { } written ? [] : new[]
                    {
                        answer.Check.AllMet ? new Line("Written", $"{written}; next: frontendsim check {written}")
                            : new Line("Kept back", $"{written} is not written, as it would not pass check."),
                    },
                ]),
            ])
        {
            Data = new Table("", Columns(unit), [.. design.Candidates.Select((c, k) => Row(c, k + 1))]),
        };
    }

    private static ImmutableArray<Column> Columns(string unit) =>
    [
        new("", ColumnKind.Plain), new("best for"), new("series"), new("resistor", ColumnKind.Number, "ohm"), new("from"),
        new("bend", ColumnKind.Plain, "%") { Digits = 3 }, new("change", ColumnKind.Number, "V") { Digits = 3 },
        new("count", ColumnKind.Number, unit) { Digits = 3 }, new("at", ColumnKind.Number, unit),
        new("error", ColumnKind.Number, unit) { Digits = 3 }, new("at", ColumnKind.Number, unit),
        new("sensor's power", ColumnKind.Number, "W") { Digits = 2 },
    ];

    private static ImmutableArray<Cell> Row(DividerCandidate c, int number) =>
    [
        (double)number, c.Aim == DividerAim.Linearity ? "linearity" : "resolution", c.Series, c.Ohms, c.Rail, 100 * c.Bend, c.SpanVolts,
        c.Step, c.StepAt, c.LargestError, c.LargestErrorAt, c.SensorWatts,
    ];
}
