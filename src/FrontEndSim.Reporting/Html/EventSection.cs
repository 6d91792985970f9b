using System.Xml.Linq;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>What reaches the pins in each event, and what the parts stand.</summary>
internal static class EventSection
{
    public static XElement? Of(ReportInput input) => input.Check.Events.IsEmpty ? null : Tag.Section("events", "Events",
        Summary(input), input.Check.Events.Select(One));

    private static XElement Summary(ReportInput input) => Tag.Table("All events", ["event", "pin", "verdict", "highest", "lowest", "time outside", "most stressed part"],
        input.Check.Events.SelectMany(e => e.Pins.Select(p => new object[]
        {
            e.Event.Name, p.Pin.Name, Tag.Verdict(p.IsInside, "inside", "outside"), SiText.Format(p.HighestVolts, "V"), SiText.Format(p.LowestVolts, "V"),
            SiText.Format(p.SecondsOutside, "s"),
            e.Parts.FirstOrDefault(s => s.Share is not null) is { } worst ? $"{worst.Part.Name}: {SiText.Format(worst.Share!.Value, "%", 3)} of rated" : "no rating given",
        })));

    private static XElement One(EventResult result, int number) => new("div", new XAttribute("class", "block"),
        new XElement("h3", result.Event.Name),
        Tag.Paragraph($"At node {result.Event.Node}: {result.Event.Disturbance.Text}."),
        result.Pins.Select(p => Tag.Paragraph(Tag.Verdict(p.IsInside, "inside its ratings", "not inside its ratings"), $" Pin {p.Pin.Name}: {PinWords.Of(p)}",
            p.Mends.IsEmpty ? null : new XElement("span", new XElement("strong", " What would mend it: "), MendWords.Of(p.Mends)))),
        new XElement("div", new XAttribute("class", "plots"), EventPicture.Panels(result).Select((p, j) =>
            new XElement("figure", PlotSvg.Draw(p, $"event{number}-{j}"), new XElement("figcaption", p.Title)))),
        Tag.Table($"Into the pins in \"{result.Event.Name}\"",
            ["pin", "highest", "to upper rating", "lowest", "to lower rating", "time outside", "current into the pin's clamps", "charge"],
            result.Pins.Select(p => new object[]
            {
                p.Pin.Name, $"{SiText.Format(p.HighestVolts, "V")} at {SiText.Format(p.HighestAt, "s")}", Margin(p.UpperMarginVolts),
                $"{SiText.Format(p.LowestVolts, "V")} at {SiText.Format(p.LowestAt, "s")}", Margin(p.LowerMarginVolts),
                SiText.Format(p.SecondsOutside, "s"), SiText.Format(Math.Max(p.UpperInjectionAmps, p.LowerInjectionAmps), "A"),
                SiText.Format(p.InjectionCoulombs, "C"),
            })),
        Tag.Table($"What the parts stand in \"{result.Event.Name}\"",
            ["part", "share of its tightest rating", "rating", "peak power", "once warm", "energy", "peak voltage", "peak current"],
            result.Parts.Select(s => new object[]
            {
                $"{s.Part.Name} ({s.Part.Word} {s.Part.ValueText})", Bar(s), s.Tightest is { } rating ? Limit(rating) : "none given",
                SiText.Format(s.PeakWatts, "W", 3), SiText.Format(s.WarmWatts, "W", 3), SiText.Format(s.Joules, "J", 3),
                SiText.Format(s.PeakVolts, "V", 3), SiText.Format(s.PeakAmps, "A", 3),
            })));

    private static string Margin(double? volts) => volts is { } v ? SiText.Format(v, "V") : "not rated";

    private static string Limit(Rating rating) => $"{rating.Kind.Word} {SiText.Format(rating.Limit, rating.Kind.Unit)}";

    private static object Bar(PartStress stress)
    {
        if (stress.Share is not { } share)
            return "no rating given";
        return Tag.Bar(share, SiText.Format(share, "%", 3));
    }
}
