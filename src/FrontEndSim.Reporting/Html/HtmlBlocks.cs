using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// Writes blocks as fragments of HTML: those of the report, and of a live page, which exchanges them one by one. Every fragment has an id
/// that depends on its place alone, so that a fragment of the same place stands for the same thing after a change.
/// </summary>
public static class HtmlBlocks
{
    /// <summary>The fragments of a page's blocks, in order, as HTML text; a section is one fragment.</summary>
    /// <param name="page">The page.</param>
    /// <param name="prefix">What ids begin with; empty for a page by itself.</param>
    /// <returns>The id and the text of each.</returns>
    public static IEnumerable<(string Id, string Html)> Fragments(Page page, string prefix = "") =>
        Of(page.Blocks, prefix, 2).Select(e => (e.Attribute("id")!.Value, HtmlText.Fragment(e)));

    /// <summary>The elements of blocks, in order.</summary>
    /// <param name="blocks">The blocks.</param>
    /// <param name="prefix">What ids begin with.</param>
    /// <param name="level">Level of the headings: 2 below the title.</param>
    internal static IEnumerable<XElement> Of(ImmutableArray<Block> blocks, string prefix, int level)
    {
        int place = 0;
        foreach (var block in blocks)
        {
            string id = block is Section section ? prefix + section.Id : $"{prefix}b{place++}";
            if (!block.Media.HasFlag(Media.Paper) || Of(block, id, level) is not { } element)
                continue;
            if (element.Attribute("id") is null)
                element.SetAttributeValue("id", id);
            yield return element;
        }
    }

    private static XElement? Of(Block block, string id, int level) => block switch
    {
        Section s => new XElement(level == 2 ? "section" : "div", new XAttribute("id", id), level == 2
            ? new XAttribute("aria-labelledby", id + "-h") : new XAttribute("class", "block"),
            new XElement($"h{Math.Min(level, 6)}", new XAttribute("id", id + "-h"), s.Heading), Of(s.Blocks, id + "-", level + 1)),
        Headline v => new XElement("p", new XAttribute("class", ("headline " + Look(v.Standing)).TrimEnd()),
            (Sign(v.Standing) + " " + v.Words).TrimStart()),
        Facts { Figures.IsEmpty: true } or Lines { Items.IsEmpty: true } or Sentences { Items.IsEmpty: true }
            or Cautions { Items.IsEmpty: true }
            or Table { Rows.IsEmpty: true } or Pictures { Panels.IsEmpty: true } or Ranges { Rows.IsEmpty: true } => null,
        Facts f => Tag.Facts([.. f.Figures.Select(x => (x.Term, (object)x.What))]),
        Lines l => new XElement("div", new XAttribute("class", "lines"), l.Items.Select(Of)),
        Paragraph p => Tag.Paragraph(Broken(p.Text)),
        Sentences s => new XElement(s.IsOrdered ? "ol" : "ul", s.Items.Select(t => new XElement("li", t))),
        Cautions c => new XElement("ul", new XAttribute("class", "cautions"), c.Items.Select(t => new XElement("li", "⚠ " + t))),
        Listing l => new XElement("pre", new XAttribute("tabindex", "0"), new XAttribute("role", "region"),
            new XAttribute("aria-label", l.Caption), l.Text),
        Table t => Of(t),
        Pictures p => new XElement("div", new XAttribute("class", "plots"), p.Panels.Select((panel, k) =>
            new XElement("figure", PlotSvg.Draw(panel, $"{id}-{k}"), new XElement("figcaption", panel.Title)))),
        Ranges r => new XElement("figure", RangesSvg.Draw(r, id + "-r"), new XElement("figcaption", r.Caption)),
        Drawing d => Tag.Figure(new XElement(d.Svg), d.Caption),
        _ => null,
    };

    private static XElement Of(Line line)
    {
        string word = line.Word != "" ? line.Word : Standings.Paper(line.Standing);
        return Tag.Paragraph(word == "" ? null : line.Standing == Standing.None
            ? new XElement("strong", word.TrimStart('!', ' ') + ": ") : Verdict(line.Standing, word.TrimStart('!', '-', '+', ' ')),
            word == "" || line.Standing == Standing.None ? null : " ", Broken(line.Text));
    }

    // The same lines as on a terminal.
    private static IEnumerable<object> Broken(string text) =>
        text.Split('\n').SelectMany((line, k) => k == 0 ? new object[] { line } : [new XElement("br"), line]);

    private static XElement Of(Table table)
    {
        int[] shown = [.. Enumerable.Range(0, table.Columns.Length).Where(k => table.Columns[k].Media.HasFlag(Media.Paper))];
        string label = table.Caption == "" ? string.Join(", ", shown.Select(k => table.Columns[k].Heading)) : table.Caption;
        return new XElement("div", new XAttribute("class", "scroll"), new XAttribute("role", "region"),
            new XAttribute("aria-label", label), new XAttribute("tabindex", "0"),
            new XElement("table", table.Caption == "" ? new XAttribute("aria-label", label) : new XElement("caption", table.Caption),
                new XElement("thead", new XElement("tr",
                    shown.Select(k => new XElement("th", new XAttribute("scope", "col"), table.Columns[k].HeadingWithUnit)))),
                new XElement("tbody", table.Rows.Select(row => new XElement("tr", shown.Select((k, place) =>
                    place == 0 ? new XElement("th", new XAttribute("scope", "row"), Of(row[k], table.Columns[k], row))
                        : new XElement("td", table.Columns[k].IsRight ? new XAttribute("class", "number")
                            : null, Of(row[k], table.Columns[k], row))))))));
    }

    private static object? Of(Cell cell, Column column, ImmutableArray<Cell> row) => column.Kind switch
    {
        ColumnKind.Standing => cell.Standing == Standing.None ? cell.Words
            : Verdict(cell.Standing, cell.Words ?? Standings.Paper(cell.Standing)),
        ColumnKind.Bar when cell.Share is { } share => Bar(share, Figures.Of(cell, column)),
        ColumnKind.Entry => Box($"{column.Heading}: {string.Join(", ", row.Select(c => c.Words).OfType<string>().Where(w => w != ""))}"),
        _ => Figures.Of(cell, column),
    };

    private static string Sign(Standing standing) =>
        standing switch { Standing.Met => "✓", Standing.NotMet => "✗", Standing.NotKnown => "?", Standing.Warning => "⚠", _ => "" };

    private static string Look(Standing standing) => standing switch
    {
        Standing.Met => "good",
        Standing.NotMet => "bad",
        Standing.NotKnown or Standing.Warning => "unsure",
        _ => "",
    };

    /// <summary>A word that stands for a verdict, with a sign before it: neither needs colour.</summary>
    private static XElement Verdict(Standing standing, string word) =>
        new("span", new XAttribute("class", "verdict " + Look(standing)), $"{Sign(standing)} {word}");

    /// <summary>A bar with its value in words at the right; beyond its full length it is hatched, and says so.</summary>
    private static XElement Bar(double share, string words) => new("span", new XAttribute("class", share > 1 ? "bar over" : "bar"),
        new XElement("span", new XAttribute("class", "track"), new XAttribute("aria-hidden", "true"),
            new XElement("span", new XAttribute("style",
                string.Create(CultureInfo.InvariantCulture, $"width:{100 * Math.Clamp(share, 0, 1):0.#}%")))),
        " " + words + (share > 1 ? " ✗ beyond" : ""));

    /// <summary>Room for a reading, to write in with a pen or a keyboard; what is typed is printed, and not kept.</summary>
    private static XElement Box(string what) => new("input", new XAttribute("type", "text"), new XAttribute("class", "box"),
        new XAttribute("size", "9"), new XAttribute("autocomplete", "off"), new XAttribute("aria-label", what));
}
