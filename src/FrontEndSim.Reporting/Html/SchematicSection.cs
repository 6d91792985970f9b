using System.Xml.Linq;
using FrontEndSim.FrontEnds.Parts;
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
        var groups = frontEnd.Stages.Select(s => (Name: s.Name, Title: $"Stage {s.Name}: {s.Kind}", Prefix: s.Name + ".", Parts: s.Parts.ToList(),
            Input: (string?)(s.Ports.Length > 0 ? s.Ports[0].Node : null), Output: (string?)(s.Ports.Length > 1 ? s.Ports[^1].Node : null))).ToList();
        if (!frontEnd.Parts.IsEmpty)
            groups.Add(("", frontEnd.Stages.IsEmpty ? "The circuit" : "Parts outside of the stages", "", [.. frontEnd.Parts],
                frontEnd.Sensors.FirstOrDefault()?.Node, frontEnd.Pins.FirstOrDefault()?.Node));
        if (groups.Count == 0)
            return null;
        return Tag.Section("schematic", "Schematic",
            Tag.Paragraph($"Voltages are those at rest, sensors at mid-span ({Sensors(input.Bias)}). A name at two places is one node."),
            groups.Select((g, k) => SchematicSvg.Draw(g.Title, $"sch{k}", g.Prefix, g.Parts, g.Input, g.Output, frontEnd, input.Bias.Point.Nodes) is { } drawing
                ? Tag.Figure(drawing, g.Title)
                : Wiring(g.Title, g.Parts)));
    }

    private static XElement Wiring(string title, IEnumerable<Part> parts) => Tag.Table($"{title}: wiring (drawn by none of the layouts)", ["part", "kind", "value", "wiring"],
        parts.Select(p => new object[] { p.Name, p.Word, p.ValueText, SchematicSvg.Wiring(p) }));

    private static string Sensors(BiasResult bias) =>
        string.Join(", ", bias.SensorVolts.Select(s => $"{s.Key} {SiText.Format(s.Value, "V")}"));
}
