using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>Elements that more than one block is written with.</summary>
internal static class Tag
{
    /// <summary>A paragraph.</summary>
    public static XElement Paragraph(params object?[] content) => new("p", content);

    /// <summary>A drawing that scrolls sideways where the screen is narrow.</summary>
    public static XElement Figure(XElement drawing, string caption) => new("figure",
        new XElement("div", new XAttribute("class", "scroll"), new XAttribute("role", "region"), new XAttribute("aria-label", caption),
            new XAttribute("tabindex", "0"), drawing),
        new XElement("figcaption", caption));

    /// <summary>Pairs of a term and what it is.</summary>
    public static XElement Facts(params (string Term, object What)[] facts) => new("dl",
        facts.Select(f => new XElement("div", new XElement("dt", f.Term), new XElement("dd", f.What))));
}
