using System.Text;
using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// A tree of elements as the text of an HTML document. Every word of the user passes through here, so that none of it can
/// be taken for markup.
/// </summary>
internal static class HtmlText
{
    // HTML Living Standard, section 13.1.2: void elements have no end tag; the words of raw text elements are not escaped.
    private static readonly ImmutableHashSet<string> Void =
        ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"];

    /// <summary>The document with its doctype.</summary>
    public static string Document(XElement html)
    {
        var text = new StringBuilder("<!DOCTYPE html>\n");
        Write(html, text);
        return text.Append('\n').ToString();
    }

    /// <summary>A piece of a document.</summary>
    public static string Fragment(XElement element)
    {
        var text = new StringBuilder();
        Write(element, text);
        return text.ToString();
    }

    private static void Write(XElement element, StringBuilder text)
    {
        string name = element.Name.LocalName;
        text.Append('<').Append(name);
        foreach (var attribute in element.Attributes())
            text.Append(' ').Append(attribute.Name.LocalName).Append("=\"").Append(Escaped(attribute.Value)).Append('"');
        text.Append('>');
        if (Void.Contains(name))
            return;
        foreach (var node in element.Nodes())
        {
            if (node is XElement child)
                Write(child, text);
            else if (node is XText words)
                text.Append(name == "style" ? words.Value : Escaped(words.Value));
        }
        text.Append("</").Append(name).Append('>');
        if (name is "tr" or "p" or "li" or "section" or "figure" or "svg" or "table" or "g" or "h1" or "h2" or "h3" or "head" or "meta")
            text.Append('\n');
    }

    private static string Escaped(string words)
    {
        var text = new StringBuilder(words.Length);
        foreach (char c in words)
        {
            _ = c switch
            {
                '&' => text.Append("&amp;"),
                '<' => text.Append("&lt;"),
                '>' => text.Append("&gt;"),
                '"' => text.Append("&quot;"),
                // Control characters are not allowed in HTML, not even escaped.
                _ when char.IsControl(c) && c is not ('\n' or '\t') => text.Append('\uFFFD'),
                _ => text.Append(c),
            };
        }
        return text.ToString();
    }
}
