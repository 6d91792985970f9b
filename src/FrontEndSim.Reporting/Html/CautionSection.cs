using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>What a person should know before building or testing this.</summary>
internal static class CautionSection
{
    public static XElement Of(ReportInput input) => Tag.Section("cautions", "Cautions", new XElement("ul",
        input.Check.Cautions.Concat(
        [
            "A rating is a limit, not a working value. Keep away from it.",
            "This is a simulation of typical parts. It certifies nothing: what protects people or a vehicle is proven on real hardware, under the rules that hold where you are, by those who are licensed to.",
            "Not simulated: layout, stray inductance and capacitance, heating of one part by another, ageing, moisture, what radio does to an op amp's inputs, and an op amp whose inputs are driven beyond its rails: it has diodes there that the model has not, and a rating of its own.",
        ]).Select(c => new XElement("li", "⚠ " + c))));
}
