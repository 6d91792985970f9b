using System.Security.Cryptography;
using System.Text;
using System.Xml.Linq;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Html;

/// <summary>How it was computed, well enough to do it again: audit, version, settings, input.</summary>
internal static class ComputedSection
{
    public static XElement Of(ReportInput input)
    {
        var audits = input.Check.Mappings.Select(m => ($"mapping onto {m.Pin}", m.Audit))
            .Concat(input.Check.Events.Select(e => (e.Event.Name, e.Audit)))
            .Concat(input.Responses.SelectMany(r => new[] { ($"step up, pin {r.Pin}", r.Up.Run.Audit), ($"step down, pin {r.Pin}", r.Down.Run.Audit) })).Prepend(("at rest", input.Bias.Point.Audit));
        return Tag.Section("computed", "How it was computed",
            Tag.Facts(("program", "frontendsim " + input.Version), ("temperature of the parts", SiText.Plain(input.FrontEnd.Celsius, "°C")),
                ("error allowed in a time step", $"{SiText.Plain(input.Settings.Accuracy, "")} of the largest voltage, plus {SiText.Format(input.Settings.AbsoluteVolts, "V")}"),
                ("method in time", Method(input.Settings.Method))),
            input.LeftOut.IsEmpty ? null : new XElement("ul", input.LeftOut.Select(l => new XElement("li", l))),
            Tag.Table("Audit: how well each solution satisfies its own equations",
                ["solution", "largest current left over at a node", "at", "energy not accounted for", "steps taken", "steps refused", "Newton iterations"],
                audits.Select(a => new object[]
                {
                    a.Item1, $"{SiText.Format(a.Item2.KirchhoffAmps, "A", 2)} ({SiText.Format(a.Item2.KirchhoffShare, "%", 2)} of the largest)", a.Item2.KirchhoffNode ?? "",
                    a.Item2.StepsTaken > 0 ? SiText.Format(a.Item2.EnergyImbalance, "%", 2) : "", a.Item2.StepsTaken.ToString(),
                    a.Item2.StepsRefused.ToString(), a.Item2.NewtonIterations.ToString(),
                })),
            input.Files.Select(f => new[]
            {
                new XElement("h3", $"The file {f.Name}"),
                Tag.Paragraph(new XAttribute("class", "hash"), "SHA-256 " + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(f.Text)))),
                new XElement("pre", new XAttribute("tabindex", "0"), new XAttribute("role", "region"), new XAttribute("aria-label", "The file " + f.Name), f.Text),
            }));
    }

    private static string Method(TimeMethod method) => method switch
    {
        TimeMethod.SecondOrder => "TR-BDF2, order 2",
        TimeMethod.ThirdOrder => "implicit Runge-Kutta, order 3",
        _ => "implicit Runge-Kutta, order 4",
    };
}
