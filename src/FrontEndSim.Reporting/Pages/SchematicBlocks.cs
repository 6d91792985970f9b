using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Schematic;
using FrontEndSim.Reporting.Words;
using Drawing = FrontEndSim.Reporting.Blocks.Drawing;

namespace FrontEndSim.Reporting.Pages;

/// <summary>The circuit as a drawing where one was found that shows it, else as a table of what is wired to what.</summary>
internal static class SchematicBlocks
{
    /// <summary>The blocks; none for a front end without parts.</summary>
    public static ImmutableArray<Block> Of(FrontEnd frontEnd, BiasResult bias)
    {
        string sensors = string.Join(", ", bias.SensorValue.Select(s =>
            $"{s.Key} {Figures.Of(s.Value, bias.SensorUnits.GetValueOrDefault(s.Key, "V"))}"));
        return !frontEnd.AllParts.Any() ? [] :
        [
            new Paragraph($"Voltages are those of the operating point, sensors at mid-span ({sensors})."),
            SchematicSvg.Draw(frontEnd, bias.Point.Nodes) is { } drawing ? new Drawing("The circuit", Readable(drawing))
                : new Table("Wiring (no drawing was found that shows it)", [new("part"), new("kind"), new("value"), new("wiring")],
                    [.. frontEnd.AllParts.Select(p => (ImmutableArray<Cell>)[p.Name, p.Word, p.ValueText, SchematicSvg.Wiring(p)])]),
        ];
    }

    /// <summary>A drawing that shrinks with the page as long as its words can be read, and then scrolls.</summary>
    public static XElement Readable(XElement drawing)
    {
        int width = (int)drawing.Attribute("width")!;
        drawing.SetAttributeValue("style", string.Create(CultureInfo.InvariantCulture,
            $"min-width:{width * 0.69:0}px;max-width:{width * 1.05:0}px"));
        return drawing;
    }
}
