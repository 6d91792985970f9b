using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The catalogue: a line a type, or all that is known of one.</summary>
internal static class PartsScreen
{
    public static IEnumerable<IRenderable> List(IReadOnlyList<DiodeDataSheet> diodes, IReadOnlyList<OpAmpType> opAmps, IReadOnlyList<PinType> pins)
    {
        yield return Blocks.Title(string.Join(", ", new[] { Counted(diodes.Count, "diode", "diodes"), Counted(opAmps.Count, "class of op amp", "classes of op amp"),
            Counted(pins.Count, "type of pin", "types of pin") }.Where(c => c.Length > 0)));
        if (diodes.Count > 0)
        {
            yield return Blocks.Table(["type", "kind", "first number of its data sheet", "power", "source"], [3], diodes.Select(d => new[]
            {
                d.Name, DiodeFit.Word(d.Kind), d.Points[0].ToString(), SiText.Format(d.RatedWatts, "W"), d.Source,
            }));
            yield return Blocks.Blank;
        }
        if (opAmps.Count > 0)
        {
            yield return Blocks.Table(["op amp class", "bandwidth", "largest offset", "supply", "source"], [1, 2, 3], opAmps.Select(o => new[]
            {
                o.Name, SiText.Format(o.Model.GainBandwidthHertz, "Hz"), SiText.Format(o.OffsetVoltsSpread, "V"),
                $"{SiText.Plain(o.LowestSupplyVolts, "")} .. {SiText.Plain(o.HighestSupplyVolts, "V")}", o.Source,
            }));
            yield return Blocks.Blank;
        }
        if (pins.Count > 0)
        {
            foreach (var block in PinTypesScreen.List(pins))
                yield return block;
        }
        yield return new Text("frontendsim parts NAME shows one of them, with its fit; --plot FILE draws its curve.\n");
    }

    private static string Counted(int count, string one, string many) => count switch { 0 => "", 1 => "1 " + one, _ => $"{count} {many}" };

    public static IEnumerable<IRenderable> Of(DiodeType type)
    {
        var sheet = type.Sheet!;
        yield return Blocks.Title($"{DiodeFit.Word(type.Kind)} {type.Name}");
        yield return Blocks.Table(["data sheet", "given", "model", "misfit", "source"], [1, 2, 3], type.Points.Select(p => new[]
        {
            p.Point.What, (p.Point.IsLimit ? "at most " : "") + SiText.Format(p.Point.Value, p.Point.Unit), SiText.Format(p.Fitted, p.Point.Unit),
            Percent(p.Misfit), p.Point.Source ?? sheet.Source,
        }));
        yield return Blocks.Blank;
        yield return Blocks.Table(["rating and law", "value"], [1], Rows(sheet));
        yield return Blocks.Blank;
        if (sheet.Kind == DiodeKind.Zener)
        {
            var low = ((double[])[1e-6, 10e-6, 100e-6, 1e-3]).Select(amps => $"{SiText.Format(DiodeFit.ReverseVolts(type, amps), "V", 3)} at {SiText.Format(amps, "A")}");
            yield return new Text($"In reverse it conducts already at {string.Join(", ", low)}.\n");
        }
        yield return new Text("Ratings are limits and not working values.\n");
    }

    public static IEnumerable<IRenderable> Of(OpAmpType type)
    {
        yield return Blocks.Title($"op amp class {type.Name}");
        yield return Blocks.Table(["number", "value"], [1], PartsDocument.Numbers(type).Select(n => new[] { n.What, SiText.Format(n.Value, n.Unit) }));
        yield return new Text($"\nSource: {type.Source}.\n");
    }

    private static IEnumerable<string[]> Rows(DiodeDataSheet sheet)
    {
        yield return ["rated power", SiText.Format(sheet.RatedWatts, "W")];
        if (double.IsFinite(sheet.RatedPeakAmps))
            yield return ["rated surge current", SiText.Format(sheet.RatedPeakAmps, "A")];
        if (double.IsFinite(sheet.ReverseVolts))
            yield return ["rated reverse voltage", SiText.Format(sheet.ReverseVolts, "V")];
        if (sheet.Tolerance > 0)
            yield return ["tolerance of the zener voltage", SiText.Format(sheet.Tolerance, "%")];
        if (sheet.Kind == DiodeKind.Zener)
            yield return ["temperature coefficient", SiText.Format(sheet.TempCo, "%") + "/K"];
        else
            yield return ["leakage doubles every", SiText.Plain(sheet.LeakageDoublingKelvin, "K")];
        if (sheet.Farads > 0)
            yield return ["capacitance at 0 V", SiText.Format(sheet.Farads, "F")];
    }

    // Below a hundredth of a per cent a point is met.
    private static string Percent(double misfit) => Math.Abs(misfit) < 1e-4 ? "0" : (misfit > 0 ? "+" : "") + SiText.Format(misfit, "%", 2);
}
