using System.Xml.Linq;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.Reporting.Html;

/// <summary>How each sensor lands on its pin.</summary>
internal static class MappingSection
{
    // Fewer counts (or millivolts) than these are rounding.
    private const double Nothing = 1e-3;

    public static XElement? Of(ReportInput input) => input.Check.Mappings.IsEmpty ? null : Tag.Section("mapping", "Mapping",
        input.Check.Mappings.Select((m, k) => One(input.FrontEnd, m, input.Check.Costs.FirstOrDefault(c => c.Pin == m.Pin && c.Sensor == m.Sensor), k)));

    private static XElement One(FrontEnd frontEnd, MappingResult mapping, ProtectionCosts? costs, int number)
    {
        var pin = frontEnd.FindPin(mapping.Pin);
        bool converts = pin.Converter is not null;
        string unit = converts ? "counts" : "mV";
        string Error(double value) => SiText.Plain(Math.Abs(value) < Nothing ? 0 : value, unit);
        return new XElement("div", new XAttribute("class", "block"),
            new XElement("h3", $"Sensor {mapping.Sensor} onto pin {mapping.Pin}"),
            new XElement("div", new XAttribute("class", "plots"), MappingPicture.Panels(mapping, pin).Select((p, j) =>
                new XElement("figure", PlotSvg.Draw(p, $"map{number}-{j}"), new XElement("figcaption", p.Title)))),
            Tag.Facts(("largest error", $"{Error(mapping.Worst.ErrorCounts)} at {SiText.Format(mapping.Worst.SensorVolts, "V")}"),
                ("offset error", Error(mapping.OffsetErrorCounts)), ("gain error", $"{Error(mapping.GainErrorCounts)} ({SiText.Format(mapping.GainError, "%", 3)})"),
                ("curvature", Error(mapping.CurvatureCounts)), ("one count", SiText.Format(mapping.CountVolts, "V"))),
            Tag.Table("Readings across the span", ["sensor", "pin", "ideal", .. (string[])(converts ? ["code"] : []), "error"],
                Rows(mapping).Select(p => (object[])
                [
                    SiText.Format(p.SensorVolts, "V"), SiText.Format(p.PinVolts, "V", 5), SiText.Format(p.IdealVolts, "V", 5),
                    .. converts ? (object[])[SiText.Plain(p.Code, "", 6)] : [], Error(p.ErrorCounts),
                ])),
            costs is null or { Parts.IsEmpty: true } ? null : Costs(costs),
            mapping.Headroom.IsEmpty ? null : Tag.Table("Headroom of the op amps over the span",
                ["op amp", "output to swing limit", "inputs to common-mode limit", "output current", "its limit"],
                mapping.Headroom.Select(h => new object[]
                {
                    h.OpAmp, $"{SiText.Format(h.SwingVolts, "V", 3)} ({h.SwingSide}, at {SiText.Format(h.SwingAt, "V", 3)})",
                    $"{SiText.Format(h.CommonModeVolts, "V", 3)} ({h.CommonModeSide}, at {SiText.Format(h.CommonModeAt, "V", 3)})",
                    SiText.Format(h.OutputAmps, "A", 3), SiText.Format(h.OutputLimitAmps, "A", 3),
                })));
    }

    private static XElement Costs(ProtectionCosts costs) => Tag.Table($"What the protection costs: the reading with each part less the reading without it, {costs.Unit}",
        ["part", "value", $"sensor at {SiText.Format(costs.Span.Low, "V")}", $"sensor at {SiText.Format(costs.Span.High, "V")}"],
        costs.Parts.Select(p => new object[]
        {
            p.Words + (p.IsSeries ? " (what the others and the pin draw through it)" : ""), p.ValueText, SiText.Signed(p.LowCounts), SiText.Signed(p.HighCounts),
        }));

    /// <summary>Nine points evenly over the span, those computed nearest to them, and the worst.</summary>
    private static IEnumerable<MappingPoint> Rows(MappingResult mapping)
    {
        double low = mapping.Points[0].SensorVolts, high = mapping.Points[^1].SensorVolts;
        return Enumerable.Range(0, 9).Select(k => mapping.Points.MinBy(p => Math.Abs(p.SensorVolts - (low + (high - low) * k / 8)))!)
            .Append(mapping.Worst).Distinct().OrderBy(p => p.SensorVolts);
    }
}
