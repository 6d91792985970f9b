using System.Xml.Linq;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Html;

/// <summary>The circuit at rest: what a meter would read.</summary>
internal static class BiasSection
{
    public static XElement Of(ReportInput input)
    {
        var point = input.Bias.Point;
        return Tag.Section("rest", "At rest",
            Tag.Table("Node voltages, sensors at mid-span", ["node", "voltage"],
                point.Nodes.Where(n => n.Key != Circuit.Ground).OrderBy(n => n.Key, StringComparer.Ordinal).Select(n => new object[] { n.Key, SiText.Format(n.Value, "V", 5) })),
            Tag.Table("Parts, sensors at mid-span", ["part", "kind", "value", "wiring", "voltage", "current", "power"],
                input.FrontEnd.AllParts.Where(p => point.Parts.ContainsKey(p.Name)).Select(p => new object[]
                {
                    p.Name, p.Word, p.ValueText, Schematic.SchematicSvg.Wiring(p), SiText.Format(point.Parts[p.Name].Volts, "V"),
                    SiText.Format(point.Parts[p.Name].Amps, "A"), SiText.Format(point.Parts[p.Name].Watts, "W"),
                })));
    }
}
