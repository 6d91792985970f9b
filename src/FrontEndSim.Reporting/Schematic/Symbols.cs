using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// Graphical symbols after IEC 60617, drawn for a part whose first terminal is 30 to the left of the middle and whose
/// second is 30 to the right. (From memory of the standard: resistor a rectangle, capacitor two plates, diode a triangle
/// and a bar, breakdown diode with one hook at its bar, Schottky diode with two, amplifier a triangle.)
/// </summary>
internal static class Symbols
{
    /// <summary>The strokes of a part's symbol, about its middle.</summary>
    public static IEnumerable<XElement> Of(Part part) => part switch
    {
        ResistorPart or PotentiometerPart => [Path("M-30 0H-20M20 0H30"), Box()],
        CapacitorPart => [Path("M-30 0H-4M4 0H30"), Path("M-4 -14V14M4 -14V14", "thick")],
        InductorPart => [Path("M-30 0H-24A6 6 0 0 1 -12 0A6 6 0 0 1 0 0A6 6 0 0 1 12 0A6 6 0 0 1 24 0H30")],
        DiodePart d => [Path("M-30 0H30"), Path("M-10 -11V11L10 0Z", "body"), Path(d.Type.Kind switch
        {
            DiodeKind.Zener => "M10 -11V11M10 11H4",
            DiodeKind.Schottky => "M4 -6V-11H10V11H16V6",
            _ => "M10 -11V11",
        }, "thick")],
        OpAmpPart => [Path("M-40 -50V50L40 0Z", "body"), Path("M-34 -30H-24M-34 30H-24M-29 25V35")],
        SwitchPart s => [Path("M-30 0H-16M16 0H30"), Path(s.Closed.At(0) > 0.5 ? "M-16 0H16" : "M-16 0L14 -14")],
        SourcePart => [Path("M-30 0H30"), new XElement("circle", new XAttribute("class", "body clear"), new XAttribute("r", "14")), Path("M-22 -8V-4M-24 -6H-20")],
        _ => [Path("M-30 0H-20M20 0H30"), Box()],
    };

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

    private static XElement Box() => new("rect", new XAttribute("class", "body"), new XAttribute("x", "-20"), new XAttribute("y", "-7"),
        new XAttribute("width", "40"), new XAttribute("height", "14"));

    private static XElement Path(string strokes, string look = "stroke") => new("path", new XAttribute("class", look), new XAttribute("d", strokes));

    private static string N(int value) => value.ToString(CultureInfo.InvariantCulture);
}
