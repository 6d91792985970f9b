using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>The build sheet: what to buy, how to put it together, what to measure, what to write into the firmware.</summary>
public static class BuildPage
{
    /// <summary>The page.</summary>
    public static Page Of(BuildResult sheet) => new(sheet.Title,
        [
            new Section("parts", "Parts", [Parts(sheet)]),
            .. Bench(sheet),
            new Cautions([.. BuildWords.Cautions(sheet)]),
        ])
    {
        Data = new Table("",
            [
                new("set"), new("sensor", ColumnKind.Number, Unit(sheet)), new("node"), new("what"),
                    new("expected", ColumnKind.Number, "V"), new("lowest", ColumnKind.Number, "V"),
                new("highest", ColumnKind.Number, "V"), new("code", ColumnKind.Plain), new("reading", ColumnKind.Entry, "V"),
            ],
            [.. sheet.Points.Select(p => (ImmutableArray<Cell>)[BuildWords.Set(p), p.SensorValue,
                p.Node, BuildWords.Place(p), p.ExpectedVolts, p.LowVolts, p.HighVolts, p.Code, ""])]),
    };

    // Where sensors measure in different units the column of what is set names none.
    private static string Unit(BuildResult sheet) =>
        sheet.Points.Where(p => p.Sensor is not null).Select(p => p.SensorUnit).Distinct().ToArray() switch
        {
            [var only] => only,
            [] => "V",
            _ => "",
        };

    /// <summary>What to buy.</summary>
    public static Table Parts(BuildResult sheet) => new("",
        [new("", ColumnKind.Plain), new("part"), new("value"), new("buy for"), new("names"), new("worst case")],
        [
            .. sheet.Parts.Select(p => (ImmutableArray<Cell>)
                [(double)p.Names.Length, p.Word, p.Value, BuildWords.Of(p.Needed), string.Join(", ", p.Names), BuildWords.Worst(p)]),
        ]);

    /// <summary>Assembly, measurements, firmware: what is done at the bench.</summary>
    public static IEnumerable<Block> Bench(BuildResult sheet)
    {
        yield return new Section("assembly", "Assembly", [new Sentences([.. sheet.Steps.Select(BuildWords.Of)], IsOrdered: true)]);
        yield return new Section("points",
            $"Bench, with a meter of {Figures.Percent(sheet.Meter.Accuracy)} + {Figures.Volts(sheet.Meter.FloorVolts)} and "
            + $"{Figures.Of(sheet.Meter.InputOhms, "ohm")}, against ground",
            [
                new Table("",
                    [
                        new("set"), new("at"), new("what"), new("expect", ColumnKind.Number, "V"),
                            new("lowest", ColumnKind.Number, "V"), new("highest", ColumnKind.Number, "V"),
                        new("code", ColumnKind.Plain) { Digits = 10 }, new("reading", ColumnKind.Entry),
                    ],
                    [.. sheet.Points.Select(p => (ImmutableArray<Cell>)[BuildWords.Set(p), p.Node,
                        BuildWords.Place(p), p.ExpectedVolts, p.LowVolts, p.HighVolts, p.Code, ""])]),
            ]);
        foreach (var f in sheet.Firmware)
            yield return new Section($"firmware-{f.Pin}", $"Firmware for pin {f.Pin}", Firmware(f));
        foreach (var r in sheet.Counted)
        {
            yield return new Section($"firmware-{r.Pin}", $"Firmware for pin {r.Pin}",
            [
                new Lines([new("Pulses",
                    $"up to {Figures.Whole(r.MostCounts)} in {Figures.Time(r.GateSeconds)}; one is {Figures.Of(r.Factor, r.Unit, 6)}"),
                    new("Whole", $"in whole numbers of {r.Whole.ProductBits} bits the rounding is at most "
                        + $"{Figures.Of(r.Whole.RoundingError, r.Unit, 3)}, for up to {Figures.Whole(r.LastCount)} pulses")]),
                new Listing($"C for pin {r.Pin}", FirmwareText.C(r)),
            ]);
        }
        foreach (var r in sheet.Combined)
        {
            yield return new Section($"firmware-{r.Reading}", $"Firmware for reading {r.Reading}",
            [
                new Lines([.. BuildWords.Combined(r), .. r.Valid.Select(v => new Line("Valid", DetectionWords.Of(v)))]),
                new Listing($"C for reading {r.Reading}", CombinedText.C(r)),
            ]);
        }
        foreach (var r in sheet.Alternating)
        {
            yield return new Section($"firmware-{r.Reading}", $"Firmware for reading {r.Reading}",
                [new Lines([.. AmplitudeWords.Of(r)]), new Listing($"C for reading {r.Reading}", FirmwareText.C(r))]);
        }
    }

    private static ImmutableArray<Block> Firmware(FirmwareConstants f) =>
    [
        new Lines(
        [
            .. f.Line is { } line ? BuildWords.Line(f, line) : BuildWords.Table(f, f.Table!),
            .. f.Polynomial is { } p ? BuildWords.Polynomial(f, p) : [],
            .. f.Formula is { } formula ? BuildWords.Formula(f, formula) : [],
            .. f.Valid is { } valid ? [new Line("Valid", DetectionWords.Of(valid)
                + (f.HasAlarms ? $" A fault counts once it has stood for {AlarmLevels.StandingSeconds:0} s (NE 43)." : ""))]
                : Array.Empty<Line>(),
            new("Resolution", $"a count is at most {Figures.Of(f.Step, f.SensorUnit, 3)}, at {Figures.Of(f.StepAt, f.SensorUnit)}"),
        ]),
        new Listing($"C for pin {f.Pin}{(f.Table is null ? "" : ", by a table")}", FirmwareText.C(f)),
        .. f.Polynomial is { } q ? [new Listing("or by a polynomial", FirmwareText.C(f, q))] : Array.Empty<Block>(),
        .. f.Formula is { } inverse ? [new Listing("or by the sensor's formula", FirmwareText.C(f, inverse))] : Array.Empty<Block>(),
        .. f.Calibration is { } c
            ? [new Section("calibration", "Calibration from two readings",
            [new Sentences([.. BuildWords.Calibration(f, c)], IsOrdered: true)])] : Array.Empty<Block>(),
    ];
}
