using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.Reporting.Schematic;

namespace FrontEndSim.Reporting.Html;

/// <summary>The circuit as a drawing where one was found that shows it, else as a table of what is wired to what.</summary>
internal static class SchematicSection
{
    public static XElement? Of(ReportInput input)
    {
        var frontEnd = input.FrontEnd;
        if (!frontEnd.AllParts.Any())
            return null;
        return Tag.Section("schematic", "Schematic",
            Tag.Paragraph($"Voltages are those at rest, sensors at mid-span ({Sensors(input.Bias)})."),
            SchematicSvg.Draw(frontEnd, input.Bias.Point.Nodes) is { } drawing
                ? Tag.Figure(Readable(drawing), "The circuit")
                : Tag.Table("Wiring (no drawing was found that shows it)", ["part", "kind", "value", "wiring"],
                    frontEnd.AllParts.Select(p => new object[] { p.Name, p.Word, p.ValueText, SchematicSvg.Wiring(p) })));
    }

    /// <summary>It shrinks with the page as long as its words can be read, and then scrolls.</summary>
    private static XElement Readable(XElement drawing)
    {
        int width = (int)drawing.Attribute("width")!;
        drawing.SetAttributeValue("style", string.Create(CultureInfo.InvariantCulture, $"min-width:{width * 0.72:0}px;max-width:{width * 1.05:0}px"));
        return drawing;
    }

    private static string Sensors(BiasResult bias) =>
        string.Join(", ", bias.SensorVolts.Select(s => $"{s.Key} {SiText.Format(s.Value, "V")}"));
}
