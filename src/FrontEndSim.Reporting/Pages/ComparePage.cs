using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>Readings against prediction: the verdict first, then each reading beside its limits, then what fits.</summary>
public static class ComparePage
{
    private const int MostExplanations = 8;

    /// <summary>The page.</summary>
    public static Page Of(CompareResult result) => new(result.Title,
        [
            new Headline(Standings.Of(result.IsInside), CompareWords.Verdict(result)),
            new Table("",
                [
                    new("line", ColumnKind.Plain), new(result.Sensor, ColumnKind.Number, result.SensorUnit),
                        new("at"), new("read", ColumnKind.Number), new("expected", ColumnKind.Number),
                    new("lowest", ColumnKind.Number), new("highest", ColumnKind.Number), new("difference", ColumnKind.Number), new(""),
                ],
                [
                    .. result.Readings.Select(r => (ImmutableArray<Cell>)
                    [
                        (double)r.Reading.Line, r.Reading.SensorValue, r.Reading.Pin
                            ?? r.Reading.Node, Value(r, r.Reading.Value), Value(r, r.Expected), Value(r, r.Low),
                        Value(r, r.High), Value(r, r.Difference), r.IsInside ? "" : "OUTSIDE",
                    ]),
                ]),
            new Table("", [new("left", ColumnKind.Plain) { Digits = 3 }, new("single change or fault, fitted alone"),
                new("within tolerance")],
                result.Mismatch <= 1 ? [] : [.. result.Explanations.Take(MostExplanations)
                    .Select(e => (ImmutableArray<Cell>)[e.Left, CompareWords.Of(e), e.IsWithinTolerance ? "yes" : "no"])]),
            new Lines(
            [
                new("Left", $"Root mean square of the differences over the meter's error ({Figures.Percent(result.Meter.Accuracy)} + "
                    + $"{Figures.Volts(result.Meter.FloorVolts)}; "
                    + $"one count for a code): {Figures.Plain(result.Mismatch, "", 3)} with nominal parts. Each change is fitted alone, "
                        + $"the rest as planned."),
            ]),
        ])
    {
        Data = new Table("",
            [
                new(result.Sensor, ColumnKind.Number, result.SensorUnit), new("at"), new("unit"),
                    new("read", ColumnKind.Number), new("expected", ColumnKind.Number),
                new("lowest", ColumnKind.Number), new("highest", ColumnKind.Number), new("inside"),
            ],
            [
                .. result.Readings.Select(r => (ImmutableArray<Cell>)
                [
                    r.Reading.SensorValue, r.Reading.Pin ?? r.Reading.Node, r.Reading.Pin is null ? "V"
                        : "counts", r.Reading.Value, r.Expected, r.Low, r.High,
                    r.IsInside ? "yes" : "no",
                ]),
            ]),
    };

    private static Cell Value(ComparedReading reading, double value) =>
        new() { Number = value, Unit = reading.Reading.Pin is null ? "V" : "counts" };
}
