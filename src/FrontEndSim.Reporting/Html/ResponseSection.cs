using System.Xml.Linq;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.Reporting.Html;

/// <summary>How fast the pins follow: after a step, with frequency, and in the time of a sample.</summary>
internal static class ResponseSection
{
    public static XElement? Of(ReportInput input) => input.Responses.IsEmpty ? null : Tag.Section("response", "Response",
        input.Responses.Select((r, k) => One(input.FrontEnd.FindPin(r.Pin), r, k)));

    private static XElement One(Pin pin, RespondResult r, int number)
    {
        string half = pin.Converter is null ? "half a millivolt" : "half a count";
        return new XElement("div", new XAttribute("class", "block"),
            new XElement("h3", $"Sensor {r.Sensor} to pin {r.Pin}"),
            Tag.Facts(("settles to " + half, SiText.Format(r.SettlingSeconds, "s", 3)), ("10 % to 90 %", SiText.Format(Math.Max(r.Up.RiseSeconds, r.Down.RiseSeconds), "s", 3)),
                ("overshoot", Math.Max(r.Up.Overshoot, r.Down.Overshoot) is var beyond && beyond < 1e-5 ? "none" : SiText.Format(beyond, "%", 2)),
                ("corner frequency", double.IsInfinity(r.Frequency.CornerHertz) ? $"above {SiText.Format(r.Frequency.Points[^1].Hertz, "Hz")}" : SiText.Format(r.Frequency.CornerHertz, "Hz", 3)),
                ("gain at rest", SiText.Plain(r.Frequency.Gain, "V/V"))),
            new XElement("div", new XAttribute("class", "plots"), RespondPicture.Panels(r).Select((p, j) =>
                new XElement("figure", PlotSvg.Draw(p, $"response{number}-{j}"), new XElement("figcaption", p.Title)))),
            r.Sampling.IsEmpty ? null : Tag.Table($"Samples of {SiText.Format(pin.Sampling!.Seconds, "s")}: {SiText.Format(pin.Sampling.Farads, "F")} through {SiText.Format(pin.Sampling.Ohms, "ohm")}, the pin at rest before",
                ["sensor", "pin at rest", "held before", "held after", "left to settle", "time that would do"],
                r.Sampling.Select(s => new object[]
                {
                    SiText.Format(s.SensorVolts, "V"), SiText.Format(s.RestVolts, "V", 5), SiText.Format(s.StartVolts, "V"), SiText.Format(s.HeldVolts, "V", 5),
                    SiText.Format(s.ErrorVolts, "V", 3),
                    double.IsInfinity(s.LongEnoughSeconds) ? "over " + SiText.Format(pin.Sampling.Seconds * SamplingStudy.LongestFactor, "s", 3) : SiText.Format(s.LongEnoughSeconds, "s", 3),
                })));
    }
}
