using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The build sheet: what to buy, how to put it together, what to measure, what to write into the firmware.</summary>
internal static class BuildScreen
{
    public static IEnumerable<IRenderable> Of(BuildResult sheet)
    {
        yield return Blocks.Title(sheet.Title);
        yield return Blocks.Blank;
        yield return Blocks.Title("Parts");
        yield return Blocks.Table(["", "part", "value", "buy for", "names", "the worst it stands"], [0], sheet.Parts.Select(p => (string[])
        [
            p.Names.Length.ToString(), p.Word, p.Value, p.Needed, string.Join(", ", p.Names), (p.IsBeyond ? "BEYOND ITS RATING: " : "") + p.Reason,
        ]));
        yield return Blocks.Blank;
        yield return Blocks.Title("Assembly");
        yield return Blocks.Margin(sheet.Steps.Select((s, k) => ((IRenderable)Blocks.Word($"{k + 1}"), (IRenderable)new Text(s))));
        yield return Blocks.Blank;
        yield return Blocks.Title($"Bench, with a meter of {SiText.Format(sheet.Meter.Accuracy, "%")} + {SiText.Format(sheet.Meter.FloorVolts, "V")} and {SiText.Format(sheet.Meter.InputOhms, "ohm")}, against ground");
        yield return Blocks.Table(["set", "at", "what", "expect", "lowest", "highest", "code"], [3, 4, 5, 6], sheet.Points.Select(p => (string[])
        [
            p.Set, p.Node, p.What, Blocks.Volts(p.ExpectedVolts), Blocks.Volts(p.LowVolts), Blocks.Volts(p.HighVolts), p.Code?.ToString("0") ?? "",
        ]));
        foreach (var f in sheet.Firmware)
        {
            yield return Blocks.Blank;
            yield return Blocks.Title($"Firmware for pin {f.Pin}");
            yield return Blocks.Margin(
            [
                (Blocks.Word("Line"), new Text($"{f.Sensor} = {SiText.Format(f.OffsetVolts, "V", 7)} + {SiText.Format(f.SlopeVolts, "V", 7)} · code; codes {f.LowCode:0} .. {f.HighCode:0} over the span; "
                    + $"the circuit departs from it by up to {Volts(f.LineErrorVolts)}, and a step is {SiText.Format(Math.Abs(f.SlopeVolts), "V", 3)}")),
                (Blocks.Word("Whole"), new Text($"in whole numbers of {f.Whole.ProductBits} bits the rounding is at most {SiText.Format(f.Whole.RoundingVolts, "V", 3)}, over every code")),
            ]);
            yield return Blocks.Blank;
            yield return new Padder(new Text(FirmwareText.C(f).TrimEnd('\n')), new Padding(4, 0, 0, 0));
            yield return Blocks.Blank;
            yield return Blocks.Title("Calibration from two readings");
            var c = f.Calibration;
            yield return Blocks.Margin(
            [
                (Blocks.Word("1"), new Text($"Set {f.Sensor} to V1 = {SiText.Format(c.LowVolts, "V")}, read N1 (about {c.LowCode:0}); set it to V2 = {SiText.Format(c.HighVolts, "V")}, read N2 (about {c.HighCode:0}). "
                    + "Average some tens of readings each, and measure V1 and V2 with the best meter at hand.")),
                (Blocks.Word("2"), new Text("slope = (V2 − V1)/(N2 − N1), offset = V1 − slope · N1; write both in place of the constants above.")),
                (Blocks.Word("3"), new Text($"What is left then: {Volts(c.LeftVolts)} of curvature, what temperature does, and the meter's own error.")),
            ]);
        }
        yield return Blocks.Blank;
        yield return Blocks.Margin(sheet.Cautions.Select(c => ((IRenderable)Blocks.Warning("! Caution"), (IRenderable)new Text(c))));
    }

    private static string Volts(double volts) => volts < 1e-9 ? "less than a nanovolt" : SiText.Format(volts, "V", 3);
}
