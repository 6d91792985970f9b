using System.Globalization;
using System.Xml.Linq;

namespace FrontEndSim.LiveBench;

/// <summary>Elements of the page that a person acts on. Every word of the user is text of an element, which the writer escapes.</summary>
internal static class Html
{
    /// <summary>An element with attributes, given as "name=value", and content.</summary>
    public static XElement E(string name, string attributes, params object?[] content) => new(name,
        attributes == "" ? null : attributes.Split('|').Select(a => a.Split('=', 2))
            .Select(a => new XAttribute(a[0], a.Length > 1 ? a[1] : "")), content);

    /// <summary>An attribute whose value is the user's.</summary>
    public static XAttribute A(string name, string value) => new(name, value);

    /// <summary>A button that asks for something.</summary>
    public static XElement Button(string words, string what, string name = "", bool? pressed = null,
        bool enabled = true, string value = "") => new("button",
        A("type", "button"), A("data-do", what), name == "" ? null : A("data-name", name), value == "" ? null : A("data-value", value),
        pressed is { } p ? A("aria-pressed", p ? "true" : "false") : null, enabled ? null : A("disabled", ""), words);

    /// <summary>A number as a field holds it.</summary>
    public static string N(double value) => value.ToString("G6", CultureInfo.InvariantCulture);
}
