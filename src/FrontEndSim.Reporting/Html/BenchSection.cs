using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Html;

/// <summary>What to do at the bench, with room to write readings in, and what goes into the firmware.</summary>
internal static class BenchSection
{
    public static XElement? Of(ReportInput input) => input.Build is not { } build ? null : Tag.Section("bench", "At the bench",
        build.Steps.IsEmpty ? null : new XElement("ol", build.Steps.Select(s => new XElement("li", s))),
        build.Points.IsEmpty ? null : Tag.Table($"Readings with a meter of {SiText.Format(build.Meter.Accuracy, "%", 3)} and {SiText.Format(build.Meter.InputOhms, "ohm", 3)}",
            ["set", "measure", "which is", "expected", "from", "to", "reading"],
            build.Points.Select(p => new object[]
            {
                p.Set, p.Node, p.What, SiText.Format(p.ExpectedVolts, "V") + (p.Code is { } code ? $", code {SiText.Plain(code, "", 6)}" : ""),
                SiText.Format(p.LowVolts, "V"), SiText.Format(p.HighVolts, "V"), Box($"Reading of {p.Node}: {p.Set}"),
            })),
        build.Firmware.Select(f => new XElement("div", new XAttribute("class", "block"),
            new XElement("h3", $"Firmware: from the code of {f.Pin} to the voltage of {f.Sensor}"),
            Tag.Paragraph($"volts = code · {Exact(f.SlopeVolts)} + ({Exact(f.OffsetVolts)}), right within {SiText.Format(f.LineErrorVolts, "V", 3)} over the span with nominal parts."),
            Tag.Paragraph($"To calibrate, set {SiText.Format(f.Calibration.LowVolts, "V")} and {SiText.Format(f.Calibration.HighVolts, "V")}; "
                + $"codes {SiText.Plain(f.Calibration.LowCode, "", 6)} and {SiText.Plain(f.Calibration.HighCode, "", 6)} are expected. "
                + $"The line through the two readings leaves {SiText.Format(f.Calibration.LeftVolts, "V", 3)}."))));

    /// <summary>Room for a reading, to write in with a pen or a keyboard; what is typed is printed, and not kept.</summary>
    private static XElement Box(string what) => new("input", new XAttribute("type", "text"), new XAttribute("class", "box"),
        new XAttribute("size", "9"), new XAttribute("autocomplete", "off"), new XAttribute("aria-label", what));

    private static string Exact(double value) => value.ToString("G9", CultureInfo.InvariantCulture);
}
