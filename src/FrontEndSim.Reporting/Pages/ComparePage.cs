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
                    new("line", ColumnKind.Plain), SetColumn(result), new("at"), new("read", ColumnKind.Number),
                    new("expected", ColumnKind.Number),
                    new("lowest", ColumnKind.Number), new("highest", ColumnKind.Number), new("difference", ColumnKind.Number), new(""),
                ],
                [
                    .. result.Readings.Select(r => (ImmutableArray<Cell>)
                    [
                        (double)r.Reading.Line, Set(result, r), Place(r.Reading), Value(result, r, r.Reading.Value),
                        Value(result, r, r.Expected), Value(result, r, r.Low), Value(result, r, r.High), Value(result, r, r.Difference),
                        r.IsInside ? "" : "OUTSIDE",
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
                    + "one count for a code"
                    + (result.Readings.Any(r => r.Reading.Computed is not null)
                        ? ", one of each pin together for what firmware computes" : "")
                    + $"): {Figures.Plain(result.Mismatch, "", 3)} with nominal parts. Each change is fitted alone, "
                        + $"the rest as planned."),
                .. result.AssumedCelsius is { } celsius
                    ? [new Line("At", $"The cold junction is taken to be at {Figures.Of(celsius, "°C")}, as the circuit is, where no "
                        + $"column \"{result.JunctionSensor ?? "temperature"} (°C)\" says how warm it was.")] : Array.Empty<Line>(),
            ]),
        ])
    {
        Data = new Table("",
            [
                SetColumn(result), new("at"), new("unit"),
                    new("read", ColumnKind.Number), new("expected", ColumnKind.Number),
                new("lowest", ColumnKind.Number), new("highest", ColumnKind.Number), new("inside"),
            ],
            [
                .. result.Readings.Select(r => (ImmutableArray<Cell>)
                [
                    Set(result, r), Place(r.Reading), Unit(result, r.Reading), r.Reading.Value, r.Expected, r.Low, r.High,
                    r.IsInside ? "yes" : "no",
                ]),
            ]),
    };

    private static bool IsOfOne(CompareResult result) => result.Readings.All(r => (r.Reading.Sensor ?? result.Sensor) == result.Sensor);

    // With several sensors each line says which one was set.
    private static Column SetColumn(CompareResult result) =>
        IsOfOne(result) ? new(result.Sensor, ColumnKind.Number, result.SensorUnit) : new("set");

    private static Cell Set(CompareResult result, ComparedReading r) => IsOfOne(result) ? r.Reading.SensorValue
        : $"{r.Reading.Sensor ?? result.Sensor} {Figures.Of(r.Reading.SensorValue, r.SensorUnit)}";

    private static string Place(Reading reading) => reading.Computed ?? reading.Pin ?? reading.Node;

    private static string Unit(CompareResult result, Reading reading) =>
        reading.Computed is not null ? result.SensorUnit : reading.Pin is not null ? "counts" : "V";

    private static Cell Value(CompareResult result, ComparedReading reading, double value) =>
        new() { Number = value, Unit = Unit(result, reading.Reading) };
}
