using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>What reaches the pins when one thing at a time is broken.</summary>
internal static class FaultSection
{
    public static XElement? Of(ReportInput input)
    {
        if (input.Faults is not { Faults.IsEmpty: false } faults)
            return null;
        var broken = faults.Faults.Where(f => !f.Survives).ToArray();
        bool events = !input.FrontEnd.Events.IsEmpty;
        return Tag.Section("faults", "Single faults",
            Tag.Paragraph(Tag.Verdict(broken.Length == 0, "survives", "breaks"), broken.Length == 0
                ? $" The pins keep their ratings with any one of {faults.Faults.Length} things broken."
                : $" {broken.Length} of {faults.Faults.Length} single faults bring a pin beyond its ratings."),
            Tag.Table("One thing broken at a time", ["broken", "pin", "verdict", "span's lower end", "span's upper end", .. (string[])(events ? ["in the worst event", "into the pin's clamps"] : [])],
                faults.Whole.Concat(faults.Faults).Select(f => (object[])
                [
                    f.Text, f.Pin, Tag.Verdict(f.Survives, "survives", "breaks"), Volts(f.AtLowEnd), Volts(f.AtHighEnd),
                    .. !events ? (object[])[] : f.InWorstEvent is not { } worst ? ["no event", "no event"] :
                    [
                        $"{SiText.Format(worst.LowestVolts, "V", 3)} .. {SiText.Format(worst.HighestVolts, "V", 3)}",
                        SiText.Format(Math.Max(worst.UpperInjectionAmps, worst.LowerInjectionAmps), "A", 3),
                    ],
                ])),
            broken.Length == 0 ? null : new XElement("ul", broken.Select(f => new XElement("li", new XElement("strong", $"{f.Text}, pin {f.Pin}: "), FaultWords.Of(f)))));
    }

    private static string Volts(PinExposure? exposure) => exposure is { } e ? SiText.Format(e.HighestVolts, "V", 3) : "no solution";
}
