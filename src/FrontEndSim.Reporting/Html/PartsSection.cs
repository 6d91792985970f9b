using System.Xml.Linq;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Html;

/// <summary>What to buy: equal parts in one line.</summary>
internal static class PartsSection
{
    public static XElement? Of(ReportInput input)
    {
        var groups = input.FrontEnd.AllParts.GroupBy(p => (p.Word, p.ValueText, Ratings: Ratings(p))).ToArray();
        return groups.Length == 0 ? null : Tag.Section("parts", "Parts list", Tag.Table("Parts to buy", ["names", "quantity", "kind", "value", "ratings"],
            groups.Select(g => new object[] { string.Join(", ", g.Select(p => p.Name)), g.Count().ToString(), g.Key.Word, g.Key.ValueText, g.Key.Ratings })));
    }

    private static string Ratings(Part part) => part.Ratings() is not { IsEmpty: false } ratings ? "none given"
        : string.Join(", ", ratings.Select(r => $"{r.Kind.Word} {SiText.Format(r.Limit, r.Kind.Unit)}"));
}
