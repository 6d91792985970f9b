using System.Globalization;
using System.Xml.Linq;

namespace FrontEndSim.Reporting.Html;

/// <summary>Shapes of the inline drawings.</summary>
internal static class SvgShapes
{
    /// <summary>A drawing with a title and a description for those who do not see it.</summary>
    public static XElement Picture(string look, double width, double height, string id, string title,
        string description, params object?[] shapes) => new("svg",
        new XAttribute("class", look), new XAttribute("viewBox", $"0 0 {N(width)} {N(height)}"), new XAttribute("role", "img"),
        new XAttribute("aria-labelledby", $"{id}-t {id}-d"),
        new XElement("title", new XAttribute("id", id + "-t"), title),
        new XElement("desc", new XAttribute("id", id + "-d"), description), shapes);

    public static XElement Line(double x1, double y1, double x2, double y2, string look) => new("line", new XAttribute("class", look),
        new XAttribute("x1", N(x1)), new XAttribute("y1", N(y1)), new XAttribute("x2", N(x2)), new XAttribute("y2", N(y2)));

    public static XElement Lettering(string words, double x, double y, string look, string anchor) =>
        new("text", new XAttribute("class", look),
        new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("text-anchor", anchor), words);

    /// <summary>A tenth of a unit is finer than anybody sees.</summary>
    public static string N(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
}
