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
                ? Tag.Figure(drawing, "The circuit")
                : Tag.Table("Wiring (no drawing was found that shows it)", ["part", "kind", "value", "wiring"],
                    frontEnd.AllParts.Select(p => new object[] { p.Name, p.Word, p.ValueText, SchematicSvg.Wiring(p) })));
    }

    private static string Sensors(BiasResult bias) =>
        string.Join(", ", bias.SensorVolts.Select(s => $"{s.Key} {SiText.Format(s.Value, "V")}"));
}
