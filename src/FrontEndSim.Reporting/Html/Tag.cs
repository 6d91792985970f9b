using System.Globalization;
using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>Elements of the report that are used in more than one section.</summary>
internal static class Tag
{
    /// <summary>A section with its heading, whose id the table of contents points at.</summary>
    public static XElement Section(string id, string heading, params object?[] content) => new("section",
        new XAttribute("id", id), new XAttribute("aria-labelledby", id + "-h"),
        new XElement("h2", new XAttribute("id", id + "-h"), heading), content);

    /// <summary>
    /// A table with a caption, a heading to each column and to each row (its first cell). It scrolls sideways where the
    /// screen is narrow.
    /// </summary>
    public static XElement Table(string caption, string[] columns, IEnumerable<object[]> rows) => new("div",
        new XAttribute("class", "scroll"), new XAttribute("role", "region"), new XAttribute("aria-label", caption), new XAttribute("tabindex", "0"),
        new XElement("table",
            new XElement("caption", caption),
            new XElement("thead", new XElement("tr", columns.Select(c => new XElement("th", new XAttribute("scope", "col"), c)))),
            new XElement("tbody", rows.Select(row => new XElement("tr",
                row.Select((cell, k) => k == 0 ? new XElement("th", new XAttribute("scope", "row"), cell) : Cell(cell)))))));

    /// <summary>A word that stands for a verdict, with a sign before it: neither needs colour.</summary>
    public static XElement Verdict(bool good, string goodWord, string badWord) => new("span",
        new XAttribute("class", good ? "verdict good" : "verdict bad"), good ? "✓ " + goodWord : "✗ " + badWord);

    /// <summary>A paragraph.</summary>
    public static XElement Paragraph(params object?[] content) => new("p", content);

    /// <summary>A drawing that scrolls sideways where the screen is narrow.</summary>
    public static XElement Figure(XElement drawing, string caption) => new("figure",
        new XElement("div", new XAttribute("class", "scroll"), new XAttribute("role", "region"), new XAttribute("aria-label", caption),
            new XAttribute("tabindex", "0"), drawing),
        new XElement("figcaption", caption));

    /// <summary>A bar with its value in words at the right; beyond its full length it is hatched, and says so.</summary>
    /// <param name="share">Length, 1 for the full one.</param>
    /// <param name="words">The value.</param>
    public static XElement Bar(double share, string words) => new("span", new XAttribute("class", share > 1 ? "bar over" : "bar"),
        new XElement("span", new XAttribute("class", "track"), new XAttribute("aria-hidden", "true"),
            new XElement("span", new XAttribute("style", string.Create(CultureInfo.InvariantCulture, $"width:{100 * Math.Clamp(share, 0, 1):0.#}%")))),
        " " + words + (share > 1 ? " ✗ beyond" : ""));

    /// <summary>Pairs of a term and what it is.</summary>
    public static XElement Facts(params (string Term, object What)[] facts) => new("dl",
        facts.Select(f => new XElement("div", new XElement("dt", f.Term), new XElement("dd", f.What))));

    private static XElement Cell(object content) => new("td",
        content is string words && words.Length > 0 && (char.IsDigit(words[0]) || words[0] is '-' or '±' or '∞') && words.Length < 28
            ? new XAttribute("class", "number") : null, content);
}
