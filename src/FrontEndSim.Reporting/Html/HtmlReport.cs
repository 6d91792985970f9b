using System.Xml.Linq;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// A page as a document that holds all of itself. It asks nothing of the network and runs no script.
/// </summary>
public static class HtmlReport
{
    /// <summary>The document. The same page gives the same bytes.</summary>
    /// <param name="page">The page; its sections make the contents.</param>
    /// <param name="from">What it is made from: the name of a file.</param>
    /// <returns>The text of an HTML document, to be stored as UTF-8.</returns>
    public static string Write(Page page, string from) => HtmlText.Document(new XElement("html", new XAttribute("lang", "en"),
        new XElement("head",
            new XElement("meta", new XAttribute("charset", "utf-8")),
            new XElement("meta", new XAttribute("name", "viewport"), new XAttribute("content", "width=device-width, initial-scale=1")),
            new XElement("meta", new XAttribute("name", "color-scheme"), new XAttribute("content", "light dark")),
            // The page may fetch nothing at all; the browser holds it to that.
            new XElement("meta", new XAttribute("http-equiv", "Content-Security-Policy"),
                new XAttribute("content", "default-src 'none'; style-src 'unsafe-inline'; img-src data:")),
            new XElement("link", new XAttribute("rel", "icon"), new XAttribute("href", "data:,")),
            new XElement("title", page.Title),
            new XElement("style", Style())),
        new XElement("body",
            new XElement("header", new XElement("h1", page.Title), Tag.Paragraph(new XAttribute("class", "from"), $"From {from}")),
            new XElement("nav", new XAttribute("aria-label", "Contents"),
                new XElement("ul", page.Blocks.OfType<Section>().Where(s => s.Media.HasFlag(Media.Paper)).Select(s =>
                new XElement("li", new XElement("a", new XAttribute("href", "#" + s.Id), s.Heading))))),
            new XElement("main", HtmlBlocks.Of(page.Blocks, "", 2)))));

    /// <summary>The style sheet of the report, which a live page shares.</summary>
    public static string Style()
    {
        using var sheet = typeof(HtmlReport).Assembly.GetManifestResourceStream("report.css")!;
        return new StreamReader(sheet).ReadToEnd();
    }
}
