using System.Collections.Immutable;
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
                new("set"), new("sensor", ColumnKind.Number, "V"), new("node"), new("what"), new("expected", ColumnKind.Number, "V"), new("lowest", ColumnKind.Number, "V"),
                new("highest", ColumnKind.Number, "V"), new("code", ColumnKind.Plain), new("reading", ColumnKind.Entry, "V"),
            ],
            [.. sheet.Points.Select(p => (ImmutableArray<Cell>)[BuildWords.Set(p), p.SensorVolts, p.Node, BuildWords.Place(p), p.ExpectedVolts, p.LowVolts, p.HighVolts, p.Code, ""])]),
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
        yield return new Section("points", $"Bench, with a meter of {Figures.Percent(sheet.Meter.Accuracy)} + {Figures.Volts(sheet.Meter.FloorVolts)} and "
            + $"{Figures.Of(sheet.Meter.InputOhms, "ohm")}, against ground",
            [
                new Table("",
                    [
                        new("set"), new("at"), new("what"), new("expect", ColumnKind.Number, "V"), new("lowest", ColumnKind.Number, "V"), new("highest", ColumnKind.Number, "V"),
                        new("code", ColumnKind.Plain) { Digits = 10 }, new("reading", ColumnKind.Entry),
                    ],
                    [.. sheet.Points.Select(p => (ImmutableArray<Cell>)[BuildWords.Set(p), p.Node, BuildWords.Place(p), p.ExpectedVolts, p.LowVolts, p.HighVolts, p.Code, ""])]),
            ]);
        foreach (var f in sheet.Firmware)
            yield return new Section($"firmware-{f.Pin}", $"Firmware for pin {f.Pin}", Firmware(f));
    }

    private static ImmutableArray<Block> Firmware(FirmwareConstants f)
    {
        var c = f.Calibration;
        return
        [
            new Lines(
            [
                new("Line", $"{f.Sensor} = {Figures.Volts(f.OffsetVolts, 7)} + {Figures.Volts(f.SlopeVolts, 7)} · code; codes {Figures.Whole(f.LowCode)} .. {Figures.Whole(f.HighCode)} over the span; "
                    + $"the circuit departs from it by up to {Volts(f.LineErrorVolts)}, and a step is {Figures.Volts(Math.Abs(f.SlopeVolts), 3)}"),
                new("Whole", $"in whole numbers of {f.Whole.ProductBits} bits the rounding is at most {Figures.Volts(f.Whole.RoundingVolts, 3)}, over every code"),
            ]),
            new Listing($"C for pin {f.Pin}", FirmwareText.C(f)),
            new Section("calibration", "Calibration from two readings",
            [
                new Sentences(
                [
                    $"Set {f.Sensor} to V1 = {Figures.Volts(c.LowVolts)}, read N1 (about {Figures.Whole(c.LowCode)}); set it to V2 = {Figures.Volts(c.HighVolts)}, "
                        + $"read N2 (about {Figures.Whole(c.HighCode)}). Average some tens of readings each, and measure V1 and V2 with the best meter at hand.",
                    "slope = (V2 − V1)/(N2 − N1), offset = V1 − slope · N1; write both in place of the constants above.",
                    $"What is left then: {Volts(c.LeftVolts)} of nonlinearity (INL), what temperature does, and the meter's own error.",
                ], IsOrdered: true),
            ]),
        ];
    }

    private static string Volts(double volts) => volts < 1e-9 ? "less than a nanovolt" : Figures.Volts(volts, 3);
}
