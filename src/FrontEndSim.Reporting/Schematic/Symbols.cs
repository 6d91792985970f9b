using System.Xml.Linq;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>A graphical symbol about its own middle, before it is turned.</summary>
/// <param name="Body">The room that it takes.</param>
/// <param name="Ends">Where its terminals are, in the order of <see cref="Part.Nodes"/>; they lie on the edge of the body or just
/// outside.</param>
/// <param name="Strokes">What is drawn.</param>
internal sealed record Symbol(Area Body, ImmutableArray<Spot> Ends, ImmutableArray<XElement> Strokes)
{
    /// <summary>Words inside of it, which are not turned.</summary>
    public string Inscription { get; init; } = "";

    /// <summary>What of the body its strokes fill, where that is not all: words may stand in the rest.</summary>
    public ImmutableArray<Area> Filled { get; init; } = [Body];

    /// <summary>Whether it is a box with leads to all sides.</summary>
    public bool IsBlock { get; init; }
}

/// <summary>
/// Graphical symbols after IEC 60617. (From memory of the standard: resistor a rectangle, capacitor two plates, diode a
/// triangle and a bar, breakdown diode with one hook at its bar, Schottky diode with two, light-emitting diode with two
/// arrows away, amplifier a triangle, potentiometer a resistor with an arrow onto it, gate a box with 1 or the loop of its
/// hysteresis and a ring at an inverted output, fuse a resistor with its wire through it, what changes with voltage or heat a
/// resistor with a bent line across. What has no symbol here is a box with its kind in it.)
/// </summary>
internal static class Symbols
{
    private static readonly Area Slim = new(-29, -12, 29, 12), Round = new(-29, -15, 29, 15), Bright = new(-29, -22, 29, 12);

    /// <summary>The symbol of a part, by the key that the part gives.</summary>
    public static Symbol Of(Part part) => part is PinMark mark ? Pin(mark) : part.Symbol switch
    {
        "potentiometer" => Potentiometer(part),
        "opamp" => Amplifier,
        { } key when part.Nodes.Length == 2 => TwoEnded(key),
        "gate" or "inverting gate" => Block(30, 4, part.Symbol != "gate", []) with { Inscription = "1" },
        "gate with hysteresis" or "inverting gate with hysteresis" =>
            Block(30, 4, part.Symbol[0] == 'i', [Path("M-14 9H5V-9M14 -9H-5V9")]),
        "optocoupler" =>
            Block(30, 4, false, [Path("M-20 -8V8L-8 0ZM-8 -8V8", "stroke"),
            Path("M-3 -6L6 -6M3 -8L6 -6L3 -4M-3 4L6 4M3 2L6 4L3 6M12 -12V12M12 -4L24 -12M12 4L24 12M24 12L18 11")]),
        "choke" or "transformer" =>
            Block(30, 4, false, [Path("M-24 -14A5 5 0 0 1 -12 -14A5 5 0 0 1 0 -14A5 5 0 0 1 12 -14A5 5 0 0 1 24 -14M-24 14A5 5 0 0 0 -12 "
            + "14A5 5 0 0 0 0 14A5 5 0 0 0 12 14A5 5 0 0 0 24 14M-24 0H24")]),
        "cable" => Block(30, 3, false, [Path("M-20 -8A4 8 0 0 0 -20 8H20A4 8 0 0 0 20 -8H-20", "stroke"), Path("M-30 0H30")]),
        "closed analog switch" => Block(30, 4, false, [Path("M-30 0H-12M12 0H30M-9 0H9"), Ring(-12, 3), Ring(12, 3)]),
        "open analog switch" => Block(30, 4, false, [Path("M-30 0H-12M12 0H30M-9 -1L10 -12"), Ring(-12, 3), Ring(12, 3)]),
        // A box with MUX in it, as IEC 60617-12 has it; each of its many leads has a flag of its own.
        "multiplexer" => Block(30, part.Nodes.Length, false, [], 80) with { Inscription = "MUX" },
        // Each of its many leads has a flag of its own.
        "in-amp" => Block(30, part.Nodes.Length, false, [Path("M-26 0H-18M-22 -4V4", "stroke"), Path("M-12 -16V16L20 0Z", "body")], 80),
        "comparator" => Block(30, 5, false, [Path("M-22 0H-14M-18 -4V4M16 -22H24", "stroke"), Path("M-8 -14V14L14 0Z", "body")]),
        _ when Transistor(part.Symbol) is { } transistor => transistor,
        _ => Block((Math.Max(30, Schematic.Words.Width(part.Word, WordsKind.Value) / 2 + 8) + 9) / 10 * 10,
            part.Nodes.Length, false, []) with
        { Inscription = part.Word },
    };

    private static Symbol TwoEnded(string key) => key switch
    {
        "resistor" => TwoEnded(Slim, Path("M-30 0H-20M20 0H30"), Box()),
        "capacitor" => TwoEnded(Round, Path("M-30 0H-4M4 0H30"), Path("M-4 -14V14M4 -14V14", "thick")),
        "inductor" => TwoEnded(Slim, Path("M-30 0H-24A6 6 0 0 1 -12 0A6 6 0 0 1 0 0A6 6 0 0 1 12 0A6 6 0 0 1 24 0H30")),
        "diode" => Diode(Slim, "M10 -11V11"),
        "zener" => Diode(Slim, "M10 -11V11M10 11H4"),
        "suppressor" => Diode(Slim, "M10 -11V11M10 11H4M10 -11H16"),
        "two-way suppressor" =>
            TwoEnded(Slim, Path("M-30 0H30"), Path("M-20 -11V11L0 0ZM20 -11V11L0 0Z", "body"), Path("M0 -11V11M0 11H-6M0 -11H6", "thick")),
        "schottky" => Diode(Slim, "M4 -6V-11H10V11H16V6"),
        "led" => Diode(Bright, "M10 -11V11", Path("M-3 -13L4 -21M4 -21L-1 -19M4 -21L2 -16M5 -13L12 -21M12 -21L7 -19M12 -21L10 -16")),
        "closed switch" => TwoEnded(Round, Path("M-30 0H-16M16 0H30"), Path("M-13 0H13"), Ring(-16, 3), Ring(16, 3)),
        "open switch" => TwoEnded(Round, Path("M-30 0H-16M16 0H30"), Path("M-13 -1L14 -14"), Ring(-16, 3), Ring(16, 3)),
        "source" => TwoEnded(Round, Path("M-30 0H30"), Circle(), Path("M-23 -12V-4M-27 -8H-19")),
        "sensor current" => TwoEnded(Round, Path("M-30 0H-14M14 0H30"), Circle(), Path("M8 0H-8M-3 -4L-8 0L-3 4")),
        "current source" => TwoEnded(Round, Path("M-30 0H-14M14 0H30"), Circle(), Path("M-8 0H8M3 -4L8 0L3 4")),
        "fuse" => TwoEnded(Slim, Path("M-30 0H30"), Box(), Path("M-20 0H20")),
        "bead" => TwoEnded(Slim, Path("M-30 0H30"), Box(), Path("M-14 -7L-6 7M-4 -7L4 7M6 -7L14 7")),
        "varistor" or "polymer fuse" or "thermistor" => TwoEnded(Round, Path("M-30 0H-20M20 0H30"), Box(), Path("M-20 13H-13L13 -13")),
        "gas arrester" => TwoEnded(Round, Path("M-30 0H-14M14 0H30"), Circle(), Path("M-14 0H-5M5 0H14"), Path("M-5 -5V5M5 -5V5", "thick")),
        // Kinds without a symbol of their own: a box within a box, which no other symbol is.
        _ => TwoEnded(Slim, Path("M-30 0H-20M20 0H30"), Box(), Rectangle(16, 3)),
    };

    private static Symbol Amplifier { get; } =
        new(new(-39, -50, 39, 50), [new(-40, 30), new(-40, -30), new(40, 0), new(0, -50), new(0, 50)],
        [Path("M-40 -50V50L40 0Z", "body"), Path("M0 -50V-25M0 25V50M-34 -30H-24M-34 30H-24M-29 25V35")])
        {
            Filled = [new(-40, -50, -20, 50), new(-20, -38, 0, 38), new(0, -25, 20, 25), new(20, -13, 40, 13), new(-2, -50, 2, 50)],
        };

    /// <summary>
    /// A transistor with its base or gate at the left, its collector or drain at the right, and its emitter or source below, of those with
    /// holes above. The arrow is that of the emitter junction, or of the junction between body and channel.
    /// </summary>
    private static Symbol? Transistor(string key)
    {
        ImmutableArray<XElement> strokes;
        switch (key)
        {
            case "npn":
                strokes = [Path("M-40 0H-10M-10 -6L6 -14H20V0H40M-10 6L0 16V40M0 16L-7 15M0 16L-3 10"), Path("M-10 -14V14", "thick")];
                break;
            case "pnp":
                strokes = [Path("M-40 0H-10M-10 6L6 14H20V0H40M-10 -6L0 -16V-40M-10 -6L-3 -7M-10 -6L-6 -12"), Path("M-10 -14V14", "thick")];
                break;
            case "n-channel":
                strokes = [Path("M-40 0H-14M-14 -12V12M-8 -10H20V0H40M-8 10H0V40M-8 0H0V10M-8 0L-3 -3M-8 0L-3 3"),
                    Path("M-8 -14V-6M-8 -4V4M-8 6V14", "thick")];
                break;
            case "p-channel":
                strokes = [Path("M-40 0H-14M-14 -12V12M-8 10H20V0H40M-8 -10H0V-40M-8 0H0V-10M0 0L-6 -3M0 0L-6 3"),
                    Path("M-8 -14V-6M-8 -4V4M-8 6V14", "thick")];
                break;
            default:
                return null;
        }
        bool isN = key is "npn" or "n-channel";
        return new(new(-39, -39, 39, 39), [new(-40, 0), new(40, 0), new(0, isN ? 40 : -40)], strokes)
        {
            IsBlock = true,
            Filled = [new(-40, -2, -14, 2), new(-14, -18, 20, 18), isN ? new(20, -16, 40, 2)
                : new(20, -2, 40, 16), isN ? new(-2, 18, 2, 40) : new(-2, -40, 2, -18)],
        };
    }

    private static Symbol TwoEnded(Area body, params XElement[] strokes) => new(body, [new(-30, 0), new(30, 0)], [.. strokes]);

    private static Symbol Diode(Area body, string bar, params XElement[] more) =>
        TwoEnded(body, [Path("M-30 0H30"), Path("M-10 -11V11L10 0Z", "body"), Path(bar, "thick"), .. more]);

    /// <summary>The arrow of the wiper onto the track from where its wire comes, or across the track where it is joined to an
    /// end.</summary>
    private static Symbol Potentiometer(Part part)
    {
        ImmutableArray<XElement> track = [Path("M-30 0H-20M20 0H30"), Box()];
        if (part.Contact?.Node == part.Nodes[0] || part.Contact?.Node == part.Nodes[1])
            return new(new(-29, -15, 29, 15), [new(-30, 0), new(30, 0), new(part.Contact?.Node == part.Nodes[0] ? -30 : 30, 0)],
                [.. track, Path("M-16 14L16 -14M16 -14L8 -12M16 -14L13 -6")]);
        return new(new(-29, -19, 29, 9), [new(-30, 0), new(30, 0), new(0, -20)], [.. track, Path("M0 -20V-7M-4 -14L0 -7L4 -14")]);
    }

    /// <summary>A box with an input at the left, an output at the right, and what else there is above and below in turn.</summary>
    private static Symbol Block(int half, int ends, bool inverts, ImmutableArray<XElement> inside, int spread = 40)
    {
        int above = (ends - 1) / 2, below = (ends - 2) / 2;
        half = Math.Max(half, spread / 2 * above);
        Spot Vertical(int k, int count, int y) => new(spread * k - spread / 2 * (count - 1), y);
        ImmutableArray<Spot> spots = [new(-half - 10, 0), new(half + 10, 0),
            .. Enumerable.Range(0, Math.Max(0, ends - 2))
                .Select(k => k % 2 == 0 ? Vertical(k / 2, above, -40) : Vertical(k / 2, below, 40))];
        var leads = spots.Skip(2).Select(s => Path($"M{s.X} {s.Y}V{(s.Y < 0 ? -30 : 30)}"));
        int ring = inverts ? 8 : 0;
        return new(new(-half, -39, half, 39), spots[..Math.Min(ends, spots.Length)],
            [Path($"M{-half - 10} 0H{-half}M{half + ring} 0H{half + 10}"), .. leads, Rectangle(half, 30), .. inside, .. inverts
                ? new[] { Ring(half + 4, 4) } : []])
        { IsBlock = true };
    }

    /// <summary>A pin's terminal in the outline of its device, with the clamps to supply and ground.</summary>
    private static Symbol Pin(PinMark pin)
    {
        const int clamps = -20;
        ImmutableArray<Spot> ends = [new(-60, 0), new(clamps, 50), new(clamps, -50)];
        var strokes = ImmutableArray.Create(Outline(new(-50, -40, 40, 40)), Path("M-60 0H10"), Ring(14, 4));
        string lower = $"M{clamps} 50V30M{clamps} 16V0", upper = $"M{clamps} 0V-16M{clamps} -30V-50";
        if (pin.Pin.HasClamps)
            strokes = strokes.AddRange(Path(lower), Upward(clamps, 23), Dot(clamps, 0));
        if (pin.Nodes.Length > 2)
            strokes = strokes.AddRange(Path(upper), Upward(clamps, -23));
        return new(new(-50, -49, 40, 49), ends[..pin.Nodes.Length], strokes);

        static XElement Upward(int x, int y) =>
            new("g", Path($"M{x - 8} {y + 7}H{x + 8}L{x} {y - 7}Z", "body"),
            Path($"M{x - 8} {y - 7}H{x + 8}", "thick"));
    }

    /// <summary>The strokes of a flag.</summary>
    public static XElement? Of(Flag flag)
    {
        var (x, y) = flag.At;
        return flag.Look switch
        {
            FlagLook.Ground => Path($"M{x} {y}v8m-11 0h22m-18 4h14m-10 4h6"),
            FlagLook.SupplyAbove or FlagLook.SupplyBelow => Path($"M{x - 12} {y}h24", "thick"),
            FlagLook.SupplyAtLeft => Path($"M{x} {y - 11}v22", "thick"),
            FlagLook.Terminal => new XElement("circle", new XAttribute("class", "terminal"),
                new XAttribute("cx", x), new XAttribute("cy", y), new XAttribute("r", "4")),
            _ => null,
        };
    }

    /// <summary>A dot where wires meet.</summary>
    public static XElement Dot(int x, int y) =>
        new("circle", new XAttribute("class", "dot"), new XAttribute("cx", x), new XAttribute("cy", y), new XAttribute("r", "3"));

    private static XElement Box() => Rectangle(20, 7);

    private static XElement Rectangle(int halfWidth, int halfHeight) =>
        new("rect", new XAttribute("class", "body"), new XAttribute("x", -halfWidth),
        new XAttribute("y", -halfHeight), new XAttribute("width", 2 * halfWidth), new XAttribute("height", 2 * halfHeight));

    private static XElement Outline(Area a) =>
        new("rect", new XAttribute("class", "outline"), new XAttribute("x", a.Left), new XAttribute("y", a.Top),
        new XAttribute("width", a.Right - a.Left), new XAttribute("height", a.Bottom - a.Top));

    private static XElement Circle() => new("circle", new XAttribute("class", "body clear"), new XAttribute("r", "14"));

    private static XElement Ring(int x, int radius) =>
        new("circle", new XAttribute("class", "terminal"), new XAttribute("cx", x), new XAttribute("r", radius));

    private static XElement Path(string strokes, string look = "stroke") =>
        new("path", new XAttribute("class", look), new XAttribute("d", strokes));
}
