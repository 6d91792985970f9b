using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>A schematic as an inline drawing: symbols with names and values, nodes with their voltages at rest.</summary>
internal static class SchematicSvg
{
    /// <summary>
    /// The schematic of a stage or of the parts outside of all stages; null where no drawing was found that shows them as
    /// they are connected.
    /// </summary>
    /// <param name="title">What is drawn, for those who do not see it.</param>
    /// <param name="id">An id, unique in the document.</param>
    /// <param name="prefix">What names of parts and inner nodes begin with, and the drawing leaves out: "shift.".</param>
    /// <param name="parts">The parts.</param>
    /// <param name="input">The node that the signal comes from, or null.</param>
    /// <param name="output">The node that it goes to, or null.</param>
    /// <param name="frontEnd">The front end that they belong to.</param>
    /// <param name="nodeVolts">The voltage of each node at rest, V.</param>
    public static XElement? Draw(string title, string id, string prefix, IReadOnlyList<Part> parts, string? input, string? output,
        FrontEnd frontEnd, IReadOnlyDictionary<string, double> nodeVolts)
    {
        var drawing = Layout.Of(parts, input, output, frontEnd.Rails.ToDictionary(r => r.Name, r => r.Volts.Value));
        if (drawing is null)
            return null;
        // Terminals have their words outside of the wires.
        int Reach(FlagLook look) => drawing.Flags.Where(f => f.Look == look).Select(f => 20 + 7 * Math.Max(Short(f.Node).Length, Beside(f.Node, Volts(f.Node)).Length)).DefaultIfEmpty().Max();
        int left = drawing.Wires.Min(w => Math.Min(w.From.X, w.To.X)) - Math.Max(150, Reach(FlagLook.TerminalAtLeft));
        int right = drawing.Wires.Max(w => Math.Max(w.From.X, w.To.X)) + Math.Max(150, Reach(FlagLook.TerminalAtRight));
        int top = Math.Min(drawing.Parts.Min(p => p.Box.Top), drawing.Flags.Min(f => f.At.Y - (f.Look == FlagLook.SupplyAbove ? 14 : 0))) - 34;
        int bottom = Math.Max(drawing.Parts.Max(p => p.Box.Bottom), drawing.Flags.Max(f => f.At.Y)) + 44;
        // A follower's feedback is a wire alone, above all parts.
        top = Math.Min(top, drawing.Wires.Min(w => Math.Min(w.From.Y, w.To.Y)) - 10);
        bottom = Math.Max(bottom, drawing.Wires.Max(w => Math.Max(w.From.Y, w.To.Y)) + 10);
        return new XElement("svg",
            new XAttribute("class", "schematic"), new XAttribute("viewBox", $"{left} {top} {right - left} {bottom - top}"),
            new XAttribute("style", $"min-width:{(right - left) * 0.72:0}px;max-width:{(right - left) * 1.05:0}px"),
            new XAttribute("role", "img"), new XAttribute("aria-labelledby", $"{id}-t {id}-d"),
            new XElement("title", new XAttribute("id", id + "-t"), title),
            new XElement("desc", new XAttribute("id", id + "-d"), string.Join("; ", parts.Select(p => $"{p.Name}, {p.Word} {p.ValueText}, {Wiring(p)}")) + "."),
            drawing.Wires.Where(w => w.From != w.To).Distinct().Select(w => new XElement("path", new XAttribute("class", "wire"),
                new XAttribute("d", $"M{w.From.X} {w.From.Y}L{w.To.X} {w.To.Y}"))),
            drawing.Junctions().Select(Symbols.Junction),
            drawing.Parts.Select(PartShape),
            drawing.Flags.SelectMany(FlagShape));

        XElement PartShape(PlacedPart placed)
        {
            var part = placed.Part;
            var (x, y) = placed.Centre;
            string name = Short(part.Name);
            var shape = new XElement("g", new XAttribute("class", "part"),
                new XElement("title", $"{part.Name}: {part.Word} {part.ValueText}"),
                new XElement("g", new XAttribute("transform", $"translate({x} {y}) rotate({placed.Turn})"), Symbols.Of(placed)));
            if (part is OpAmpPart)
                shape.Add(Words(name, x - 12, y + 5, "name", "middle"), Words(part.ValueText, x + 14, y + 42, "value", "start"));
            else if (placed.IsBlock)
                shape.Add(Words(name, x - Symbols.HalfWidth(part), y - 36, "name", "start"), Words(part.ValueText, x + 8, y + 44, "value", "start"));
            else if (placed.Turn % 180 == 0)
            {
                int clear = part is SourcePart or CurrentSourcePart or SwitchPart ? 5 : part is DiodePart { Type.Kind: DiodeKind.Led } ? 10 : 0; // higher symbols
                shape.Add(Words(name, x, y - 14 - clear, "name", "middle"), Words(part.ValueText, x, y + 25 + clear, "value", "middle"));
            }
            else
            {
                int side = placed.WordsAtLeft ? -18 : 18;
                string anchor = placed.WordsAtLeft ? "end" : "start";
                shape.Add(Words(name, x + side, y - 3, "name", anchor), Words(part.ValueText, x + side, y + 12, "value", anchor));
            }
            return shape;
        }

        IEnumerable<XElement> FlagShape(Flag flag)
        {
            var (x, y) = flag.At;
            string volts = Volts(flag.Node);
            string name = Short(flag.Node);
            switch (flag.Look)
            {
                case FlagLook.Ground:
                    yield return Symbols.Ground(flag.At);
                    break;
                case FlagLook.SupplyAbove:
                    yield return Symbols.Supply(flag.At);
                    yield return Words($"{name} {volts}", x, y - 6, "node", "middle");
                    break;
                case FlagLook.SupplyBelow:
                    yield return Symbols.Supply(flag.At);
                    yield return Words($"{name} {volts}", x, y + 15, "node", "middle");
                    break;
                case FlagLook.TerminalAtLeft:
                    yield return Symbols.Terminal(flag.At);
                    yield return Words(name, x - 9, y - 1, "node", "end");
                    yield return Words(Beside(flag.Node, volts), x - 9, y + 13, "volts", "end");
                    break;
                case FlagLook.TerminalAtRight:
                    yield return Symbols.Terminal(flag.At);
                    yield return Words(name, x + 9, y - 1, "node", "start");
                    yield return Words(Beside(flag.Node, volts), x + 9, y + 13, "volts", "start");
                    break;
                default:
                    int first = flag.Look == FlagLook.Tag ? y - 19 : y + 14;
                    yield return Words(name, x + 5, first, "node", "start");
                    yield return Words(volts, x + 5, first + 13, "volts", "start");
                    break;
            }
        }

        string Volts(string node) => nodeVolts.TryGetValue(node, out double v) ? SiText.Format(Math.Abs(v) < 1e-9 ? 0 : v, "V", 3) : "";

        string Beside(string node, string volts)
        {
            string[] words = [volts, .. frontEnd.Sensors.Where(s => s.Node == node).Select(s => "sensor " + s.Name),
                .. frontEnd.Pins.Where(p => p.Node == node).Select(p => "pin " + p.Name)];
            return string.Join(", ", words.Where(w => w != ""));
        }

        string Short(string name) => prefix != "" && name.StartsWith(prefix, StringComparison.Ordinal) ? name[prefix.Length..] : name;
    }

    /// <summary>Where a part is connected, in words.</summary>
    public static string Wiring(Part part) => part switch
    {
        OpAmpPart a => $"plus input {a.Plus}, minus input {a.Minus}, output {a.Output}, supply {a.PositiveRail} and {a.NegativeRail}",
        DiodePart d => $"anode {d.From}, cathode {d.To}",
        PotentiometerPart p => $"track from {p.From} to {p.To}, wiper {p.Wiper}",
        _ => $"from {part.Nodes[0]} to {string.Join(", ", part.Nodes.Skip(1))}",
    };

    private static XElement Words(string words, int x, int y, string look, string anchor) => new("text", new XAttribute("class", look),
        new XAttribute("x", x.ToString(CultureInfo.InvariantCulture)), new XAttribute("y", y.ToString(CultureInfo.InvariantCulture)),
        new XAttribute("text-anchor", anchor), words);
}
