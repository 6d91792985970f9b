using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>How logic pins read their sensors: levels with their margins, then each change as a picture.</summary>
internal static class LogicSection
{
    public static XElement? Of(ReportInput input) => input.Check.Logic.IsEmpty ? null : Tag.Section("logic", "Logic levels", input.Check.Logic.Select(One));

    private static XElement One(LogicResult r, int number)
    {
        var type = r.Pin.Logic!.Type;
        return new XElement("div", new XAttribute("class", "block"),
            new XElement("h3", $"Sensor {r.Sensor} to pin {r.Pin.Name}: {type.Name} on {SiText.Format(r.SupplyVolts, "V")}"),
            Tag.Facts(("least noise margin, at worst", SiText.Format(r.WorstMarginVolts, "V", 3)), ("delay of a jump", Amounts.Time(r.DelaySeconds)),
                ("changes", r.IsClean ? "all clean" : "not all clean"),
                ("ripple that is covered", r.RippleLimitVolts is { } limit ? SiText.Format(limit, "V", 3) + " from peak to peak" : type.HasHysteresis ? "not asked for" : "none, no hysteresis")),
            Tag.Table("Levels", ["level", "sensor", "pin", "certain", "margin", "with tolerances at worst"], [Row("low", "below", r.Low), Row("high", "above", r.High)]),
            Tag.Table("Changes of the sensor over its span", ["change", "pin", "level certain after", "gate changes after", "between the levels for", "gate changes", "clean"],
                r.Edges.Select(e => new object[] { e.IsSudden ? "sudden" : "slowest", e.Rises ? "rises" : "falls", Amounts.Time(e.PinDelaySeconds), Amounts.Time(e.GateDelaySeconds),
                    Amounts.Time(e.PassageSeconds), $"{e.Changes}", e.IsClean ? "✓ yes" : "✗ no" })),
            r.Edges.Where(e => !e.IsClean).Select(e => Tag.Paragraph(LogicWords.Of(r, e))),
            new XElement("div", new XAttribute("class", "plots"), LogicPicture.Panels(r).Select((p, k) =>
                new XElement("figure", PlotSvg.Draw(p, $"logic{number}-{k}"), new XElement("figcaption", p.Title)))));
    }

    private static object[] Row(string word, string side, LogicLevel l) =>
        [word, SiText.Format(l.SensorVolts, "V"), SiText.Format(l.PinVolts, "V"), $"{side} {SiText.Format(l.LimitVolts, "V")}", SiText.Format(l.MarginVolts, "V", 3), (l.IsExact ? "" : "over ") + SiText.Format(l.WorstMarginVolts, "V", 3)];
}
