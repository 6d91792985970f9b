using System.Xml.Linq;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// The whole circuit as an inline drawing: sensors, stages and parts in the order of the signal, pins with their clamps,
/// nodes with their voltages. Each part carries its name as data-part, each wire its node's as data-node, each voltage as
/// data-volts, so that a page can find them again.
/// </summary>
public static class SchematicSvg
{
    /// <summary>The drawing, or null where none was found that shows the circuit as it is connected.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="nodeVolts">The voltage of each node, V; a node without one has none written beside it.</param>
    /// <param name="id">An id, unique in the document.</param>
    public static XElement? Draw(FrontEnd frontEnd, IReadOnlyDictionary<string, double> nodeVolts, string id = "circuit") =>
        Layout.Of(PartsOf(frontEnd), Rails(frontEnd)) is { } drawing ? Of(frontEnd, drawing, nodeVolts, id) : null;

    /// <summary>The same with room, marked data-load, for how much each part takes of its tightest rating.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="id">An id, unique in the document.</param>
    public static XElement? DrawToLabel(FrontEnd frontEnd, string id = "circuit")
    {
        var rated = frontEnd.AllParts.Where(p => p.Ratings(frontEnd.Celsius).Any()).Select(p => p.Name).ToHashSet();
        return Layout.Of(PartsOf(frontEnd), Rails(frontEnd)) is { } drawing
            ? Of(frontEnd, LoadWords.On(drawing, p => rated.Contains(p.Name)), ImmutableDictionary<string, double>.Empty, id) : null;
    }

    /// <summary>A drawing of the front end as an element.</summary>
    internal static XElement Of(FrontEnd frontEnd, Drawing drawing, IReadOnlyDictionary<string, double> nodeVolts, string id)
    {
        var view = drawing.Extent().Grown(12);
        var (width, height) = (view.Right - view.Left, view.Bottom - view.Top);
        return new XElement("svg",
            new XAttribute("class", "schematic"), new XAttribute("viewBox", $"{view.Left} {view.Top} {width} {height}"),
            new XAttribute("width", width), new XAttribute("height", height),
            new XAttribute("role", "img"), new XAttribute("aria-labelledby", $"{id}-t {id}-d"),
            new XElement("title", new XAttribute("id", id + "-t"), frontEnd.Title == "" ? "The circuit" : frontEnd.Title),
            new XElement("desc", new XAttribute("id", id + "-d"),
                string.Join("; ", PartsOf(frontEnd).Where(p => p is not SourceResistanceMark).Select(Described)) + "."),
            drawing.WireNodes().GroupBy(w => w.Node, w => w.Wire).Select(g => Net(g.Key, [.. g], drawing)),
            drawing.Flags.Select(FlagShape),
            drawing.Parts.Select(p => PartShape(p, drawing.Words)),
            drawing.Words.Where(w => w.Kind is WordsKind.Node or WordsKind.Voltage or WordsKind.Rail).Select(w => NodeShape(w, nodeVolts)));
    }

    /// <summary>Where a part is connected, in words.</summary>
    public static string Wiring(Part part) => part.Terminals.All(t => t.Word != "")
        ? string.Join(", ", part.Terminals.Select(t => $"{t.Word} {t.Node}"))
        : $"from {part.Nodes[0]} to {string.Join(", ", part.Nodes.Skip(1))}";

    /// <summary>All that is drawn: sensors with their source resistances, parts and pins.</summary>
    internal static ImmutableArray<Part> PartsOf(FrontEnd frontEnd) =>
    [
        .. frontEnd.Sensors.SelectMany(s => s.SourceOhms > 0 ? new Part[] { new SensorMark(s), new SourceResistanceMark(s) }
            : [new SensorMark(s)]),
        .. frontEnd.AllParts, .. frontEnd.Pins.Where(p => p.SameAs is null).Select(p => new PinMark(p)),
    ];

    /// <summary>The voltage of each rail, V.</summary>
    internal static Dictionary<string, double> Rails(FrontEnd frontEnd) => frontEnd.Rails.ToDictionary(r => r.Name, r => r.Volts.Value);

    private static string Described(Part part) => part switch
    {
        SensorMark s => $"sensor {s.Name}, {s.ValueText}"
            + (s.Sensor.SourceOhms > 0 ? $" behind {SiText.Format(s.Sensor.SourceOhms, "ohm")}" : "") + $", at {s.Sensor.Node}",
        PinMark p => $"{p.ValueText}, {p.Name}, at {p.Pin.Node}",
        _ => $"{part.Name}, {part.Word} {part.ValueText}, {Wiring(part)}",
    };

    private static XElement Net(string node, ImmutableArray<Wire> wires, Drawing drawing) => new("g",
        new XAttribute("class", "net"), new XAttribute("data-node", node.Contains(' ', StringComparison.Ordinal) ? "" : node),
        new XElement("title", node),
        new XElement("path", new XAttribute("class", "wire"), new XAttribute("d",
            string.Concat(wires.Select(w => $"M{w.From.X} {w.From.Y}L{w.To.X} {w.To.Y}")))),
        drawing.Junctions().Where(j => wires.Any(w => w.From == j || w.To == j)).Select(j => Symbols.Dot(j.X, j.Y)));

    private static XElement? FlagShape(Flag flag) => Symbols.Of(flag) is { } strokes
        ? new XElement("g", new XAttribute("class", "flag"), new XAttribute("data-node", flag.Node),
            new XElement("title", flag.Node), strokes) : null;

    private static XElement PartShape(PlacedPart placed, ImmutableArray<Words> words)
    {
        var part = placed.Part;
        var (x, y) = placed.Centre;
        string kind = part switch { SensorMark => "sensor", PinMark => "pin", SourceResistanceMark => "source", _ => "part" };
        return new XElement("g", new XAttribute("class", kind == "part" ? "part" : "part " + kind),
            new XAttribute("data-" + kind, part is SourceResistanceMark s ? s.Sensor.Name : part.Name),
            new XElement("title", Described(part)),
            new XElement("g", new XAttribute("transform", $"translate({x} {y})"
                + (placed.Turn == 0 ? "" : $" rotate({placed.Turn})") + (placed.Mirrored ? " scale(1 -1)" : "")),
                placed.Symbol.Strokes.Select(e => new XElement(e))),
            placed.Symbol.Inscription == "" ? null : Text(placed.Symbol.Inscription, new(x, y + 4), Anchor.Middle, "value"),
            words.Where(w => w.Owner == part.Name && w.Kind is WordsKind.Name or WordsKind.Value && w.Owner == part.Name)
                .Select(w => Text(w.Text, w.At, w.Anchor, w.Kind == WordsKind.Name ? "name" : "value")),
            words.Where(w => w.Owner == part.Name && w.Kind == WordsKind.Load)
                .Select(w => Text("", w.At, w.Anchor, "load", new("data-load", part.Name))));
    }

    private static XElement NodeShape(Words words, IReadOnlyDictionary<string, double> nodeVolts)
    {
        string volts = nodeVolts.TryGetValue(words.Text, out double v) ? Figures.Volts(v, 3) : "";
        var at = new XAttribute("data-volts", words.Text);
        if (words.Kind != WordsKind.Rail)
            return words.Kind == WordsKind.Node ? Text(words.Text, words.At, words.Anchor, "node")
                : Text(volts, words.At, words.Anchor, "volts", at);
        var text = Text(words.Text + " ", words.At, words.Anchor, "node");
        text.Add(new XElement("tspan", new XAttribute("class", "volts"), at, volts));
        return text;
    }

    private static XElement Text(string words, Spot at, Anchor anchor, string look, XAttribute? more = null) =>
        new("text", new XAttribute("class", look),
        new XAttribute("x", at.X), new XAttribute("y", at.Y),
        anchor == Anchor.Start ? null : new XAttribute("text-anchor", anchor == Anchor.Middle ? "middle" : "end"), more, words);
}
