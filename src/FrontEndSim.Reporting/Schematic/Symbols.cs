using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// Graphical symbols after IEC 60617, drawn for a part whose first terminal is 30 to the left of the middle and whose
/// second is 30 to the right. (From memory of the standard: resistor a rectangle, capacitor two plates, diode a triangle
/// and a bar, breakdown diode with one hook at its bar, Schottky diode with two, light-emitting diode with two arrows away, amplifier a triangle, potentiometer a resistor with an arrow onto it, gate a box with 1 or the loop of its hysteresis and a ring at an inverted output. What has no symbol here is a box with its kind in it.)
/// </summary>
internal static class Symbols
{
    /// <summary>The strokes of a part's symbol, about its middle, before it is turned.</summary>
    public static IEnumerable<XElement> Of(PlacedPart placed) => placed.Part switch
    {
        ResistorPart => [Path("M-30 0H-20M20 0H30"), Box()],
        PotentiometerPart p => [Path("M-30 0H-20M20 0H30"), Box(), .. Adjustment(placed, p)],
        CapacitorPart => [Path("M-30 0H-4M4 0H30"), Path("M-4 -14V14M4 -14V14", "thick")],
        InductorPart => [Path("M-30 0H-24A6 6 0 0 1 -12 0A6 6 0 0 1 0 0A6 6 0 0 1 12 0A6 6 0 0 1 24 0H30")],
        DiodePart d => [Path("M-30 0H30"), Path("M-10 -11V11L10 0Z", "body"), Path(d.Type.Kind switch
        {
            DiodeKind.Zener => "M10 -11V11M10 11H4",
            DiodeKind.Schottky => "M4 -6V-11H10V11H16V6",
            _ => "M10 -11V11",
        }, "thick"), .. d.Type.Kind == DiodeKind.Led ? Rays(placed) : []],
        OpAmpPart => [Path("M-40 -50V50L40 0Z", "body"), Path("M-34 -30H-24M-34 30H-24M-29 25V35")],
        SwitchPart s => [Path("M-30 0H-16M16 0H30"), Path(s.Closed.At(0) > 0.5 ? "M-16 0H16" : "M-16 0L14 -14"), Contact(-16), Contact(16)],
        SourcePart => [Path("M-30 0H30"), new XElement("circle", new XAttribute("class", "body clear"), new XAttribute("r", "14")), Path("M-22 -8V-4M-24 -6H-20")],
        CurrentSourcePart => [Path("M-30 0H-14M14 0H30"), new XElement("circle", new XAttribute("class", "body clear"), new XAttribute("r", "14")), Path("M-8 0H8M3 -4L8 0L3 4")],
        GatePart g => [.. Block(g, g.Type.HasHysteresis ? "" : "1"),
            .. g.Type.HasHysteresis ? new[] { Path("M-14 9H5V-9M14 -9H-5V9") } : [],
            .. g.Inverts ? new[] { new XElement("circle", new XAttribute("class", "terminal"), new XAttribute("cx", N(HalfWidth(g) + 4)), new XAttribute("r", "4")) } : []],
        _ when placed.IsBlock => Block(placed.Part, placed.Part.Word),
        _ => [Path("M-30 0H-20M20 0H30"), Box()],
    };

    /// <summary>Half of the width of a part that is drawn as a box: wide enough for the word in it.</summary>
    public static int HalfWidth(Part part) => part is GatePart ? 30 : Math.Max(30, (part.Word.Length * 7 + 16) / 2);

    /// <summary>A box with leads for input, output and as many supplies as there are, and a word in it.</summary>
    private static IEnumerable<XElement> Block(Part part, string word)
    {
        int half = HalfWidth(part);
        string leads = $"M{N(-half - 10)} 0H{N(-half)}M{N(half)} 0H{N(half + 10)}" + (part.Nodes.Length > 2 ? "M0 -40V-30" : "") + (part.Nodes.Length > 3 ? "M0 30V40" : "");
        return [Path(leads), Rectangle(half, 30), new XElement("text", new XAttribute("class", "value"), new XAttribute("y", "4"), new XAttribute("text-anchor", "middle"), word)];
    }

    /// <summary>Two arrows away from a light-emitting diode, on the side where no words stand.</summary>
    private static XElement[] Rays(PlacedPart placed)
    {
        int side = placed.Turn == 90 != placed.WordsAtLeft ? 1 : -1;
        string Arrow(int x) => $"M{N(x)} {N(13 * side)}L{N(x + 7)} {N(21 * side)}M{N(x + 7)} {N(21 * side)}l-5 {N(-2 * side)}M{N(x + 7)} {N(21 * side)}l-2 {N(-5 * side)}";
        return [Path(Arrow(-3)), Path(Arrow(5))];
    }

    /// <summary>The arrow of the wiper onto the track from where the wiper's wire comes, or across the track where it is joined to an end.</summary>
    private static IEnumerable<XElement> Adjustment(PlacedPart placed, PotentiometerPart part)
    {
        if (part.Wiper == part.From || part.Wiper == part.To)
            return [Path("M-16 14L16 -14M16 -14L8 -12M16 -14L13 -6")];
        int across = placed.Terminals[2].X - placed.Centre.X;
        // Turned by 90 degrees what was above lies at the right.
        int side = (placed.Turn == 90) == (across > 0) ? -1 : 1;
        return [Path($"M0 {N(20 * side)}V{N(7 * side)}"), Path($"M-4 {N(14 * side)}L0 {N(7 * side)}L4 {N(14 * side)}")];
    }

    /// <summary>Ground, hanging from a place.</summary>
    public static XElement Ground(Spot at) => Path($"M{N(at.X)} {N(at.Y)}v8m-11 0h22m-18 4h14m-10 4h6");

    /// <summary>A supply's bar above or below a place.</summary>
    public static XElement Supply(Spot at) => Path($"M{N(at.X - 12)} {N(at.Y)}h24", "thick");

    /// <summary>A terminal.</summary>
    public static XElement Terminal(Spot at) => new("circle", new XAttribute("class", "terminal"), new XAttribute("cx", N(at.X)),
        new XAttribute("cy", N(at.Y)), new XAttribute("r", "4"));

    /// <summary>A dot where wires meet.</summary>
    public static XElement Junction(Spot at) => new("circle", new XAttribute("class", "dot"), new XAttribute("cx", N(at.X)),
        new XAttribute("cy", N(at.Y)), new XAttribute("r", "3"));

    private static XElement Box() => Rectangle(20, 7);

    private static XElement Rectangle(int halfWidth, int halfHeight) => new("rect", new XAttribute("class", "body"), new XAttribute("x", N(-halfWidth)),
        new XAttribute("y", N(-halfHeight)), new XAttribute("width", N(2 * halfWidth)), new XAttribute("height", N(2 * halfHeight)));

    private static XElement Contact(int x) => new("circle", new XAttribute("class", "terminal"), new XAttribute("cx", N(x)), new XAttribute("r", "3"));

    private static XElement Path(string strokes, string look = "stroke") => new("path", new XAttribute("class", look), new XAttribute("d", strokes));

    private static string N(int value) => value.ToString(CultureInfo.InvariantCulture);
}
