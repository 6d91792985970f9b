using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>What a meter would read, at the nodes and at the parts.</summary>
internal static class BiasScreen
{
    public static IEnumerable<IRenderable> Of(string title, BiasResult bias, IReadOnlyList<string> nodes, IReadOnlyList<string> parts)
    {
        yield return Blocks.Title(title);
        yield return new Text($"At rest, with {string.Join(", ", bias.SensorVolts.Select(s => $"{s.Key} at {Blocks.Volts(s.Value)}"))}.\n\n");
        yield return Blocks.Table(["node", "voltage"], [1], nodes.Select(n => new[] { n, Blocks.Volts(bias.Point.Nodes[n]) }));
        yield return Blocks.Blank;
        yield return Blocks.Table(["part", "voltage", "current", "power"], [1, 2, 3], parts.Select(name => (Name: name, Reading: bias.Point.Parts[name])).Select(p => new[]
        {
            p.Name, Blocks.Volts(p.Reading.Volts), SiText.Format(p.Reading.Amps, "A"), SiText.Format(p.Reading.Watts, "W"),
        }));
        yield return Blocks.Blank;
        yield return Blocks.Margin(
        [
            .. bias.Headroom.Select(h => ((IRenderable)Blocks.Word("Headroom"), (IRenderable)new Text(Blocks.Headroom(h)))),
            (Blocks.Word("Audit"), new Text(Blocks.Audit(bias.Point.Audit, transient: false))),
        ]);
    }
}
