using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// A report is one page that holds all of itself: verdict, drawings, tables, cautions and how it was computed. It asks
/// nothing of the network and runs no script.
/// </summary>
public static class HtmlReport
{
    /// <summary>The page. The same input gives the same bytes.</summary>
    /// <returns>The text of an HTML document, to be stored as UTF-8.</returns>
    public static string Write(ReportInput input)
    {
        XElement?[] sections =
        [
            VerdictSection.Of(input), SchematicSection.Of(input), MappingSection.Of(input), LogicSection.Of(input), BudgetSection.Of(input), EventSection.Of(input),
            FaultSection.Of(input), ResponseSection.Of(input), HandMathSection.Of(input), BiasSection.Of(input), PartsSection.Of(input),
            BenchSection.Of(input), CautionSection.Of(input), ComputedSection.Of(input),
        ];
        var shown = sections.OfType<XElement>().ToArray();
        string title = input.Check.Title == "" ? input.Files[0].Name : input.Check.Title;
        return HtmlText.Document(new XElement("html", new XAttribute("lang", "en"),
            new XElement("head",
                new XElement("meta", new XAttribute("charset", "utf-8")),
                new XElement("meta", new XAttribute("name", "viewport"), new XAttribute("content", "width=device-width, initial-scale=1")),
                new XElement("meta", new XAttribute("name", "color-scheme"), new XAttribute("content", "light dark")),
                // The page may fetch nothing at all; the browser holds it to that.
                new XElement("meta", new XAttribute("http-equiv", "Content-Security-Policy"),
                    new XAttribute("content", "default-src 'none'; style-src 'unsafe-inline'; img-src data:")),
                new XElement("link", new XAttribute("rel", "icon"), new XAttribute("href", "data:,")),
                new XElement("title", title),
                new XElement("style", Style())),
            new XElement("body",
                new XElement("header", new XElement("h1", title), Tag.Paragraph(new XAttribute("class", "from"), $"From {input.Files[0].Name}")),
                new XElement("nav", new XAttribute("aria-label", "Contents"), new XElement("ul", shown.Select(s => new XElement("li",
                    new XElement("a", new XAttribute("href", "#" + s.Attribute("id")!.Value), s.Element("h2")!.Value))))),
                new XElement("main", shown))));
    }

    private static string Style()
    {
        using var sheet = typeof(HtmlReport).Assembly.GetManifestResourceStream("report.css")!;
        return new StreamReader(sheet).ReadToEnd();
    }
}
