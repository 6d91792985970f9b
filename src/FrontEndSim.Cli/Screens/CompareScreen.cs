using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Compare;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The verdict first, then each reading beside its limits, then what fits.</summary>
internal static class CompareScreen
{
    private const int MostExplanations = 8;

    public static IEnumerable<IRenderable> Of(CompareResult result)
    {
        yield return Blocks.Margin([(Blocks.Verdict(result.IsInside), new Text(result.Verdict)), (Text.Empty, new Text(result.Title))]);
        yield return Blocks.Blank;
        yield return Blocks.Table(["line", result.Sensor, "at", "read", "expected", "lowest", "highest", "difference", ""], [0, 1, 3, 4, 5, 6, 7],
            result.Readings.Select(r => (string[])
            [
                r.Reading.Line.ToString(), Blocks.Volts(r.Reading.SensorVolts), r.Reading.Pin ?? r.Reading.Node, Value(r, r.Reading.Value), Value(r, r.Expected),
                Value(r, r.Low), Value(r, r.High), Value(r, r.Difference), r.IsInside ? "" : "OUTSIDE",
            ]));
        yield return Blocks.Blank;
        if (!result.Explanations.IsEmpty && result.Mismatch > 1)
        {
            yield return Blocks.Table(["left", "single change or fault, fitted alone", "within tolerance"], [0], result.Explanations.Take(MostExplanations).Select(e => (string[])
            [
                SiText.Plain(e.Left, "", 3), e.Words, e.IsWithinTolerance ? "yes" : "no",
            ]));
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin(
        [
            (Blocks.Word("Left"), new Text($"Root mean square of the differences over the meter's error ({SiText.Format(result.Meter.Accuracy, "%")} + {SiText.Format(result.Meter.FloorVolts, "V")}; "
                + $"one count for a code): {SiText.Plain(result.Mismatch, "", 3)} with nominal parts. Each change is fitted alone, the rest as planned.")),
        ]);
    }

    private static string Value(ComparedReading reading, double value) =>
        reading.Reading.Pin is null ? Blocks.Volts(value) : SiText.Plain(value, "counts");
}
