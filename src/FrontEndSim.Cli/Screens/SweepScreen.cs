using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>A row a sensor voltage: what stands at the pin, what should, what the converter reads, how far off it is.</summary>
internal static class SweepScreen
{
    /// <summary>The tables of a sweep.</summary>
    /// <param name="title">Title of the front end.</param>
    /// <param name="sweep">The sweep on the grid asked for.</param>
    /// <param name="tables">The mappings on that grid.</param>
    /// <param name="whole">The mappings in full, one for each of <paramref name="tables"/>.</param>
    /// <param name="shown">Further nodes to show.</param>
    public static IEnumerable<IRenderable> Of(string title, SweepResult sweep, IReadOnlyList<MappingResult> tables, IReadOnlyList<MappingResult> whole,
        IReadOnlyList<string> shown)
    {
        yield return Blocks.Title(title);
        foreach (var (table, mapping) in tables.Zip(whole))
        {
            yield return Table(table);
            yield return Blocks.Blank;
            yield return Blocks.Margin([(Blocks.Word("Mapping"), new Text(CheckScreen.Summary(mapping)))]);
            yield return Blocks.Blank;
        }
        if (tables.Count == 0)
            yield return new Text($"No pin is mapped from sensor {sweep.Source}.\n\n");
        if (shown.Count > 0 || tables.Count == 0)
        {
            string[] nodes = shown.Count > 0 ? [.. shown] : [.. sweep.Points[0].Nodes.Keys.Where(n => n != Circuit.Ground && !n.Contains('.'))];
            double[][] columns = [.. nodes.Select(sweep.Voltage)];
            yield return Blocks.Table([sweep.Source, .. nodes], [.. Enumerable.Range(0, nodes.Length + 1)],
                sweep.Values.Select((v, row) => (string[])[Blocks.Volts(v), .. columns.Select(c => Blocks.Volts(c[row]))]));
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin([(Blocks.Word("Audit"), new Text(Blocks.Audit(sweep.Audit, transient: false)))]);
    }

    private static Table Table(MappingResult m)
    {
        bool converts = m.Points[0].Code >= 0;
        string[] header = converts ? [m.Sensor, "pin " + m.Pin, "ideal", "code", "error (counts)"] : [m.Sensor, "pin " + m.Pin, "ideal", "error (mV)"];
        return Blocks.Table(header, [0, 1, 2, 3, 4], m.Points.Select(p => (string[])
        [
            Blocks.Volts(p.SensorVolts), Blocks.Volts(p.PinVolts), Blocks.Volts(p.IdealVolts),
            .. converts ? [p.Code.ToString("0")] : Array.Empty<string>(), SiText.Signed(p.ErrorCounts),
        ]));
    }
}
