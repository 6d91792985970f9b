using System.Xml.Linq;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>First of all: whether the requirements are met, with the number that decides each.</summary>
internal static class VerdictSection
{
    public static XElement Of(ReportInput input)
    {
        var check = input.Check;
        int all = check.Requirements.Length, unmet = check.Requirements.Count(r => !r.Met);
        return Tag.Section("verdict", "Verdict",
            new XElement("p", new XAttribute("class", all == 0 ? "headline" : unmet == 0 ? "headline good" : "headline bad"),
                all == 0 ? "The circuit file asks for nothing, so there is nothing to judge."
                : unmet == 0 ? (all == 1 ? "✓ The one requirement is met." : $"✓ All {all} requirements are met.")
                : $"✗ {unmet} of {all} requirements {(unmet == 1 ? "is" : "are")} not met."),
            check.Requirements.Select(Requirement),
            check.Warnings.IsEmpty ? null : new XElement("div", new XAttribute("class", "warnings"),
                new XElement("h3", "To know, though no requirement asks for it"),
                new XElement("ul", check.Warnings.Select(w => new XElement("li", "⚠ " + WarningWords.Of(w))))));
    }

    private static XElement Requirement(RequirementResult result) => new("article", new XAttribute("class", result.Met ? "requirement good" : "requirement bad"),
        new XElement("h3", Tag.Verdict(result.Met, "met", "not met"), " " + result.Requirement.Text,
            result.Requirement.SourceLine is { } line ? new XElement("span", new XAttribute("class", "line"), $" line {line}") : null),
        Tag.Facts(("found", RequirementWords.Found(result)), ("limit", RequirementWords.Limit(result)), ("margin", RequirementWords.Margin(result))),
        Tag.Paragraph(RequirementWords.Reason(result)),
        result.Mends.IsEmpty ? null : Tag.Paragraph(new XElement("strong", "What would mend it: "), RequirementWords.Remedy(result)));
}
