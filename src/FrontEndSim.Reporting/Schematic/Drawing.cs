using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>A place on the sheet; y runs downwards.</summary>
internal readonly record struct Spot(int X, int Y)
{
    /// <summary>The place some way to the right and down.</summary>
    public Spot Plus(int right, int down) => new(X + right, Y + down);

    /// <summary>Where it comes to when the sheet is turned clockwise about its origin by 0, 90, 180 or 270 degrees.</summary>
    public Spot Turned(int degrees) => degrees switch
    {
        90 => new(-Y, X),
        180 => new(-X, -Y),
        270 => new(Y, -X),
        _ => this,
    };
}

/// <summary>A rectangle on the sheet.</summary>
internal readonly record struct Area(int Left, int Top, int Right, int Bottom)
{
    /// <summary>Whether two rectangles have more than an edge in common.</summary>
    public bool Meets(Area other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    /// <summary>The smallest rectangle that holds both.</summary>
    public Area With(Area other) =>
        new(Math.Min(Left, other.Left), Math.Min(Top, other.Top), Math.Max(Right, other.Right), Math.Max(Bottom, other.Bottom));

    /// <summary>The rectangle, moved.</summary>
    public Area Plus(int right, int down) => new(Left + right, Top + down, Right + right, Bottom + down);

    /// <summary>The rectangle with so much more at each side.</summary>
    public Area Grown(int by) => new(Left - by, Top - by, Right + by, Bottom + by);

    /// <summary>The rectangle between two opposite corners.</summary>
    public static Area Between(Spot a, Spot b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Max(a.X, b.X), Math.Max(a.Y, b.Y));
}

/// <summary>A straight wire, level or upright.</summary>
internal readonly record struct Wire(Spot From, Spot To)
{
    /// <summary>The room that it takes: a line of two.</summary>
    public Area Area => Area.Between(From, To).Grown(1);

    /// <summary>Whether a place lies on the wire, its ends included.</summary>
    public bool Holds(Spot spot) => spot.X >= Math.Min(From.X, To.X) && spot.X <= Math.Max(From.X, To.X)
        && spot.Y >= Math.Min(From.Y, To.Y) && spot.Y <= Math.Max(From.Y, To.Y);
}

/// <summary>A part on the sheet. Where its terminals are follows from its symbol, so that what is joined is what is drawn.</summary>
/// <param name="Part">The part.</param>
/// <param name="Centre">Where its symbol stands.</param>
/// <param name="Turn">Degrees clockwise: 0 has its first terminal at the left, 90 at the top.</param>
/// <param name="Mirrored">Whether its upper side is its lower one, before it is turned.</param>
/// <param name="WordsAtLeft">Whether the words of an upright part stand at its left.</param>
internal sealed record PlacedPart(Part Part, Spot Centre, int Turn, bool Mirrored = false, bool WordsAtLeft = false)
{
    /// <summary>Its symbol.</summary>
    public Symbol Symbol { get; } = Symbols.Of(Part);

    /// <summary>Where its terminals are, in the order of <see cref="Part.Nodes"/>.</summary>
    public ImmutableArray<Spot> Terminals => [.. Symbol.Ends.Select(Place)];

    /// <summary>The room that the symbol takes, its leads' last part left out.</summary>
    public Area Box => Place(Symbol.Body);

    /// <summary>What its strokes fill.</summary>
    public IEnumerable<Area> Filled => Symbol.Filled.Select(Place);

    /// <summary>Whether it stands upright.</summary>
    public bool IsUpright => Turn % 180 != 0;

    private Area Place(Area a) => Area.Between(Place(new Spot(a.Left, a.Top)), Place(new Spot(a.Right, a.Bottom)));

    private Spot Place(Spot s)
    {
        var turned = new Spot(s.X, Mirrored ? -s.Y : s.Y).Turned(Turn);
        return Centre.Plus(turned.X, turned.Y);
    }
}

/// <summary>How a node is shown at a place; all flags of one name are the same node.</summary>
internal enum FlagLook
{
    /// <summary>Ground's symbol, hanging down.</summary>
    Ground,

    /// <summary>A supply's bar, standing up.</summary>
    SupplyAbove,

    /// <summary>A supply's bar, hanging down.</summary>
    SupplyBelow,

    /// <summary>A supply's bar, upright at the left.</summary>
    SupplyAtLeft,

    /// <summary>An open terminal: nothing else of this circuit is joined to the node.</summary>
    Terminal,

    /// <summary>The node's name alone, where no wire could be led to the node's other places.</summary>
    Name,
}

/// <summary>A node shown at a place.</summary>
internal sealed record Flag(string Node, Spot At, FlagLook Look)
{
    /// <summary>The room that its strokes take.</summary>
    public Area Area => Look switch
    {
        FlagLook.Ground => new(At.X - 12, At.Y, At.X + 12, At.Y + 17),
        FlagLook.SupplyAtLeft => new(At.X - 2, At.Y - 12, At.X + 1, At.Y + 12),
        FlagLook.SupplyAbove => new(At.X - 13, At.Y - 2, At.X + 13, At.Y + 1),
        FlagLook.SupplyBelow => new(At.X - 13, At.Y - 1, At.X + 13, At.Y + 2),
        _ => new(At.X - 5, At.Y - 5, At.X + 5, At.Y + 5),
    };
}

/// <summary>
/// A schematic is parts, wires, flags and words at places. What it connects follows from the places alone, so that it can be
/// held against the circuit before anybody trusts it.
/// </summary>
internal sealed record Drawing(ImmutableArray<PlacedPart> Parts, ImmutableArray<Wire> Wires, ImmutableArray<Flag> Flags)
{
    /// <summary>Its words; a node's voltage has a place of fixed size, which its numbers are written into later.</summary>
    public ImmutableArray<Words> Words { get; init; } = [];

    /// <summary>Whether the drawing shows these parts, each once, connected as the circuit has them and in no other way, with no fault of
    /// drawing.</summary>
    public bool Shows(IReadOnlyCollection<Part> parts) =>
        Parts.Length == parts.Count && Parts.Select(p => p.Part).ToHashSet().SetEquals(parts) && !Faults().Any();

    /// <summary>What is wrong with it, in words: loose ends, joints that are missing or too many, symbols, wires and words on one
    /// another.</summary>
    public IEnumerable<string> Faults() => [.. Joints(), .. LooseEnds(), .. Overlaps()];

    /// <summary>All that the drawing takes room for.</summary>
    public Area Extent() => Parts.Select(p => p.Box).Concat(Wires.Select(w => w.Area))
        .Concat(Flags.Select(f => f.Area)).Concat(Words.Select(w => w.Area))
        .Aggregate((a, b) => a.With(b));

    /// <summary>Places where three or more ends meet, which a dot marks.</summary>
    public IEnumerable<Spot> Junctions() => Wires.SelectMany(w => new[] { w.From, w.To }).Distinct().Where(s => Ends(s) > 2);

    /// <summary>The node that each wire belongs to.</summary>
    public IEnumerable<(string Node, Wire Wire)> WireNodes()
    {
        var net = Net.Of(this);
        var names = Named().GroupBy(n => net(n.At)).ToDictionary(g => g.Key, g => g.First().Node);
        return Wires.Select(w => (names.GetValueOrDefault(net(w.From), ""), w));
    }

    /// <summary>The places of nodes: terminals and flags.</summary>
    public IEnumerable<(string Node, Spot At)> Named() =>
        Parts.SelectMany(p => p.Part.Nodes.Zip(p.Terminals)).Concat(Flags.Select(f => (f.Node, f.At)));

    private int Ends(Spot s) => Wires.Sum(w => w.From == s || w.To == s ? 1 : w.Holds(s) ? 2 : 0)
        + Parts.Sum(p => p.Terminals.Distinct().Contains(s) ? 1 : 0) + (Flags.Any(f => f.At == s && f.Look != FlagLook.Name) ? 1 : 0);

    private IEnumerable<string> Joints()
    {
        var net = Net.Of(this, byName: true);
        var nodeOfNet = new Dictionary<Spot, string>();
        var netOfNode = new Dictionary<string, Spot>();
        foreach (var (node, spot) in Named())
        {
            var root = net(spot);
            if (nodeOfNet.GetValueOrDefault(root, node) is var other && other != node)
                yield return $"{node} is joined to {other}";
            nodeOfNet[root] = node;
            if (netOfNode.TryGetValue(node, out var first) && first != root)
                yield return $"{node} is in two pieces";
            netOfNode[node] = root;
        }
    }

    private IEnumerable<string> LooseEnds()
    {
        foreach (var part in Parts)
        {
            foreach (var (node, spot) in part.Part.Nodes.Zip(part.Terminals))
            {
                if (!Wires.Any(w => w.Holds(spot)) && !Flags.Any(f => f.At == spot)
                    && Parts.Sum(p => p.Terminals.Count(t => t == spot)) == 1)
                    yield return $"{part.Part.Name} is loose at {node}";
            }
        }
        foreach (var spot in Wires.SelectMany(w => new[] { w.From, w.To }).Distinct().Where(s => Ends(s) < 2))
            yield return $"a wire ends loose at {spot}";
    }

    private IEnumerable<string> Overlaps()
    {
        var symbols = Parts.Select(p => (What: p.Part.Name, Area: p.Box))
            .Concat(Flags.Select(f => (What: "flag " + f.Node, f.Area))).ToArray();
        for (int k = 0; k < symbols.Length; k++)
        {
            foreach (var (what, _) in symbols.Skip(k + 1).Where(s => s.Area.Meets(symbols[k].Area)))
                yield return $"{symbols[k].What} stands on {what}";
        }
        foreach (var part in Parts)
        {
            // A wire ends at a terminal, just outside of the box.
            foreach (var wire in Wires.Where(w => Area.Between(w.From, w.To) is var a && a.Left < part.Box.Right && a.Right > part.Box.Left
                && a.Top < part.Box.Bottom && a.Bottom > part.Box.Top))
                yield return $"a wire {wire.From} {wire.To} runs through {part.Part.Name}";
        }
        (string What, Area Area)[] filled = [.. Parts.SelectMany(p => p.Filled.Select(a => (p.Part.Name, a))),
            .. symbols.Skip(Parts.Length)];
        for (int k = 0; k < Words.Length; k++)
        {
            var area = Words[k].Area;
            foreach (var (what, _) in filled.Where(s => s.Area.Meets(area)))
                yield return $"the words {Words[k].Text} of {Words[k].Owner} stand on {what}";
            foreach (var other in Words.Skip(k + 1).Where(w => w.Area.Meets(area)))
                yield return $"the words {Words[k].Text} of {Words[k].Owner} stand on {other.Text} of {other.Owner}";
            foreach (var wire in Wires.Where(w => w.Area.Meets(area)))
                yield return $"a wire {wire.From} {wire.To} runs through the words {Words[k].Text} of {Words[k].Owner}";
        }
    }
}

/// <summary>What wires join.</summary>
internal static class Net
{
    /// <summary>For each place, one place that stands for all that it is joined to.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="byName">Whether flags of one name are one place.</param>
    public static Func<Spot, Spot> Of(Drawing drawing, bool byName = false)
    {
        var joined = new DisjointSets<Spot>();
        Spot[] places = [.. drawing.Wires.SelectMany(w => new[] { w.From, w.To }).Concat(drawing.Named().Select(n => n.At)).Distinct()];
        foreach (var wire in drawing.Wires)
        {
            foreach (var place in places.Where(wire.Holds))
                joined.Join(place, wire.From);
        }
        foreach (var same in byName ? drawing.Flags.GroupBy(f => f.Node) : [])
        {
            foreach (var flag in same)
                joined.Join(flag.At, same.First().At);
        }
        return joined.Of;
    }
}
