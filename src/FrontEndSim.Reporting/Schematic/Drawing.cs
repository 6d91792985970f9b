using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>A place on the sheet; y runs downwards.</summary>
internal readonly record struct Spot(int X, int Y)
{
    /// <summary>The place some way to the right and down.</summary>
    public Spot Plus(int right, int down) => new(X + right, Y + down);
}

/// <summary>A straight wire, level or upright.</summary>
internal readonly record struct Wire(Spot From, Spot To)
{
    /// <summary>Whether a place lies on the wire, its ends included.</summary>
    public bool Holds(Spot spot) => spot.X >= Math.Min(From.X, To.X) && spot.X <= Math.Max(From.X, To.X)
        && spot.Y >= Math.Min(From.Y, To.Y) && spot.Y <= Math.Max(From.Y, To.Y);
}

/// <summary>A part on the sheet.</summary>
/// <param name="Part">The part.</param>
/// <param name="Centre">Where its symbol stands.</param>
/// <param name="Turn">Degrees clockwise: 0 has its first terminal at the left, 90 at the top.</param>
/// <param name="Terminals">Where its terminals are, in the order of <see cref="Part.Nodes"/>.</param>
/// <param name="WordsAtLeft">Whether the words of an upright part stand at its left.</param>
internal sealed record PlacedPart(Part Part, Spot Centre, int Turn, ImmutableArray<Spot> Terminals, bool WordsAtLeft = false)
{
    /// <summary>Whether it is drawn as a box with an input at the left, an output at the right and supplies above and below.</summary>
    public bool IsBlock => Part is not (OpAmpPart or PotentiometerPart) && Part.Nodes.Length > 2;

    /// <summary>The room that the symbol takes.</summary>
    public (int Left, int Top, int Right, int Bottom) Box => Part is OpAmpPart
        ? (Centre.X - 40, Centre.Y - 50, Centre.X + 40, Centre.Y + 50)
        : IsBlock
            ? (Centre.X - Symbols.HalfWidth(Part), Centre.Y - 30, Centre.X + Symbols.HalfWidth(Part), Centre.Y + 30)
        : Turn % 180 == 0
            ? (Centre.X - 29, Centre.Y - 12, Centre.X + 29, Centre.Y + 12)
            : (Centre.X - 12, Centre.Y - 29, Centre.X + 12, Centre.Y + 29);
}

/// <summary>How a node's name is shown at a place; all flags of one name are the same node.</summary>
internal enum FlagLook
{
    /// <summary>Ground's symbol, hanging down.</summary>
    Ground,

    /// <summary>A supply's bar, standing up.</summary>
    SupplyAbove,

    /// <summary>A supply's bar, hanging down.</summary>
    SupplyBelow,

    /// <summary>A terminal with its name at the left.</summary>
    TerminalAtLeft,

    /// <summary>A terminal with its name at the right.</summary>
    TerminalAtRight,

    /// <summary>The name above the wire.</summary>
    Tag,

    /// <summary>The name below the wire.</summary>
    TagBelow,
}

/// <summary>A node's name at a place.</summary>
internal sealed record Flag(string Node, Spot At, FlagLook Look);

/// <summary>
/// A schematic is parts, wires and names at places. What it connects follows from the places alone, so that it can be
/// held against the circuit before anybody trusts it.
/// </summary>
internal sealed record Drawing(ImmutableArray<PlacedPart> Parts, ImmutableArray<Wire> Wires, ImmutableArray<Flag> Flags)
{
    /// <summary>
    /// Whether the drawing shows these parts, each once, connected as the circuit has them and in no other way, and no
    /// symbol stands on another or on a wire that is not its own.
    /// </summary>
    public bool Shows(IReadOnlyCollection<Part> parts)
    {
        if (Parts.Length != parts.Count || !Parts.Select(p => p.Part).ToHashSet().SetEquals(parts) || Overlaps())
            return false;
        var net = Nets();
        var nodeOfNet = new Dictionary<Spot, string>();
        var netOfNode = new Dictionary<string, Spot>();
        var named = Parts.SelectMany(p => p.Part.Nodes.Zip(p.Terminals)).Concat(Flags.Select(f => (f.Node, f.At)));
        foreach (var (node, spot) in named)
        {
            var root = net(spot);
            if (nodeOfNet.GetValueOrDefault(root, node) != node)
                return false;
            nodeOfNet[root] = node;
            // Flags of one name are one node; places joined by neither wire nor flag are not.
            if (netOfNode.TryGetValue(node, out var other) && other != root)
                return false;
            netOfNode[node] = root;
        }
        return true;
    }

    /// <summary>Places where three or more ends meet, which a dot marks.</summary>
    public IEnumerable<Spot> Junctions() => Wires.SelectMany(w => new[] { w.From, w.To }).Distinct().Where(s =>
        Wires.Sum(w => w.From == s || w.To == s ? 1 : w.Holds(s) ? 2 : 0) + Parts.Count(p => p.Terminals.Contains(s))
        + Flags.Count(f => f.At == s && f.Look is not (FlagLook.Tag or FlagLook.TagBelow)) > 2);

    /// <summary>For each place, one place that stands for all that it is joined to.</summary>
    private Func<Spot, Spot> Nets()
    {
        var parent = new Dictionary<Spot, Spot>();
        Spot[] places = [.. Wires.SelectMany(w => new[] { w.From, w.To }), .. Parts.SelectMany(p => p.Terminals), .. Flags.Select(f => f.At)];
        foreach (var wire in Wires)
        {
            foreach (var place in places.Where(wire.Holds))
                parent[Root(place)] = Root(wire.From);
        }
        foreach (var same in Flags.GroupBy(f => f.Node))
        {
            foreach (var flag in same)
                parent[Root(flag.At)] = Root(same.First().At);
        }
        return Root;

        Spot Root(Spot spot)
        {
            while (parent.TryGetValue(spot, out var up) && up != spot)
                spot = up;
            return spot;
        }
    }

    private bool Overlaps()
    {
        for (int k = 0; k < Parts.Length; k++)
        {
            var a = Parts[k].Box;
            for (int j = k + 1; j < Parts.Length; j++)
            {
                var b = Parts[j].Box;
                if (a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom)
                    return true;
            }
            foreach (var wire in Wires)
            {
                if (Math.Min(wire.From.X, wire.To.X) < a.Right && Math.Max(wire.From.X, wire.To.X) > a.Left
                    && Math.Min(wire.From.Y, wire.To.Y) < a.Bottom && Math.Max(wire.From.Y, wire.To.Y) > a.Top)
                    return true;
            }
        }
        return false;
    }
}
