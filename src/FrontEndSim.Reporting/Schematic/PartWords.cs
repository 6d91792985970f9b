using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>The words of a part: its name and its value, where its symbol leaves room for them.</summary>
internal static class PartWords
{
    /// <summary>The wider of a part's name and value.</summary>
    public static int Width(Part part) =>
        Math.Max(Schematic.Words.Width(part.Name, WordsKind.Name), Schematic.Words.Width(part.ValueText, WordsKind.Value));

    /// <summary>The words of a part.</summary>
    public static IEnumerable<Words> Of(PlacedPart placed)
    {
        var part = placed.Part;
        var (box, centre) = (placed.Box, placed.Centre);
        (Spot Name, Spot Value, Anchor Anchor) at = placed switch
        {
            { IsUpright: true, WordsAtLeft: true } => (new(box.Left - 6, centre.Y - 3), new(box.Left - 6, centre.Y + 12), Anchor.End),
            { IsUpright: true } => (new(box.Right + 6, centre.Y - 3), new(box.Right + 6, centre.Y + 12), Anchor.Start),
            { Part: OpAmpPart } => (new(centre.X + 16, centre.Y + 38), new(centre.X + 16, centre.Y + 52), Anchor.Start),
            { Part: PinMark } => (new(centre.X - 2, box.Bottom + 12), new(centre.X - 2, box.Bottom + 26), Anchor.Start),
            // A box has its words at the left of what stands above it and at the right of what hangs below it.
            _ when placed.Symbol.IsBlock =>
                (new(box.Left - 2, box.Top + 6), new(placed.Terminals.Where(t => t.Y > centre.Y)
                .Select(t => t.X + 18).DefaultIfEmpty(box.Left).Max(), box.Bottom + 10), Anchor.Start),
            _ => (new(centre.X, box.Top - 4), new(centre.X, box.Bottom + 13), Anchor.Middle),
        };
        yield return new(part.Name, at.Name, placed.Symbol.IsBlock ? Anchor.End : at.Anchor, WordsKind.Name, part.Name);
        if (part.ValueText != "")
            yield return new(part.ValueText, at.Value, at.Anchor, WordsKind.Value, part.Name);
    }

    // So far, in steps, words go aside for what stands where they would.
    private const int Aside = 6, MostAside = 60;

    /// <summary>The drawing with words that stood on a symbol, a flag, a wire or other words moved aside, where there is room for
    /// them.</summary>
    public static Drawing Freed(Drawing drawing)
    {
        Area[] taken = [.. drawing.Parts.SelectMany(p => p.Filled), .. drawing.Flags.Select(f => f.Area),
            .. drawing.Wires.Select(w => w.Area)];
        var words = drawing.Words.ToArray();
        for (int k = 0; k < words.Length; k++)
        {
            if (IsFree(words[k].Area, k))
                continue;
            var stood = words[k];
            words[k] = Shifts().Select(s => stood with { At = stood.At.Plus(s.X, s.Y) }).FirstOrDefault(w => IsFree(w.Area, k)) ?? stood;
        }
        return drawing with { Words = [.. words] };

        bool IsFree(Area area, int own) => !taken.Any(area.Meets) && !words.Where((_, k) => k != own).Any(w => w.Area.Meets(area));

        static IEnumerable<(int X, int Y)> Shifts() => from off in Enumerable.Range(1, MostAside / Aside)
                                                       from way in new[] { (0, 1), (0, -1), (1, 0), (-1, 0), (1, 1),
                                                           (-1, 1), (1, -1), (-1, -1) }
                                                       select (way.Item1 * off * Aside, way.Item2 * off * Aside);
    }

    /// <summary>The name of a rail at its bar, with its voltage.</summary>
    public static IEnumerable<Words> Of(Flag flag)
    {
        var (x, y) = flag.At;
        switch (flag.Look)
        {
            case FlagLook.SupplyAbove:
                yield return new(flag.Node, new(x, y - 6), Anchor.Middle, WordsKind.Rail, flag.Node);
                break;
            case FlagLook.SupplyBelow:
                yield return new(flag.Node, new(x, y + 15), Anchor.Middle, WordsKind.Rail, flag.Node);
                break;
            case FlagLook.SupplyAtLeft:
                yield return new(flag.Node, new(x - 6, y + 4), Anchor.End, WordsKind.Rail, flag.Node);
                break;
        }
    }
}

/// <summary>Places the name and voltage of each node beside one of its wires, clear of everything else.</summary>
internal static class NodeWords
{
    private const int Height = 27;

    /// <summary>How wide the name and voltage of a node are.</summary>
    public static int Width(string node) =>
        Math.Max(Schematic.Words.Width(node, WordsKind.Node), Schematic.Words.Width(node, WordsKind.Voltage));

    /// <summary>The drawing with the words of its nodes.</summary>
    /// <param name="drawing">The drawing with all else in it.</param>
    /// <param name="named">Whether a node has words.</param>
    public static Drawing On(Drawing drawing, Func<string, bool> named)
    {
        var wires = drawing.WireNodes().ToLookup(w => w.Node, w => w.Wire);
        List<Area> taken = [.. drawing.Parts.SelectMany(p => p.Filled), .. drawing.Flags.Select(f => f.Area),
            .. drawing.Words.Select(w => w.Area), .. drawing.Wires.Select(w => w.Area)];
        var words = drawing.Words.ToBuilder();
        var nodes = drawing.Named().Where(n => named(n.Node)).GroupBy(n => n.Node);
        foreach (var node in nodes)
        {
            int width = Width(node.Key);
            var place = Candidates([.. wires[node.Key]], [.. node.Select(n => n.At)], width)
                .Select(c => ((Spot Corner, Anchor Anchor)?)c)
                .FirstOrDefault(c => !taken.Any(Room(c!.Value.Corner, width).Grown(1).Meets));
            if (place is not var (corner, anchor))
                continue;
            taken.Add(Room(corner, width));
            int x = anchor == Anchor.Start ? 1 : width - 1;
            words.Add(new(node.Key, corner.Plus(x, 11), anchor, WordsKind.Node, node.Key));
            words.Add(new(node.Key, corner.Plus(x, 24), anchor, WordsKind.Voltage, node.Key));
        }
        return drawing with { Words = words.ToImmutable() };
    }

    private static Area Room(Spot corner, int width) => new(corner.X, corner.Y, corner.X + width, corner.Y + Height);

    /// <summary>Upper left corners of the room for the words, the best first: above a level wire, below it, beside an upright one, further
    /// off.</summary>
    private static IEnumerable<(Spot Corner, Anchor Anchor)> Candidates(Wire[] wires, Spot[] terminals, int width)
    {
        var places = wires.SelectMany(w => Enumerable.Range(0, (Math.Abs(w.To.X - w.From.X) + Math.Abs(w.To.Y - w.From.Y)) / 10 + 1)
            .Select(k => w.From.Plus(Math.Sign(w.To.X - w.From.X) * 10 * k, Math.Sign(w.To.Y - w.From.Y) * 10 * k)))
                .Concat(terminals).Distinct()
            .OrderBy(s => s.X).ThenBy(s => s.Y).ToArray();
        (int Shift, Anchor Anchor)[] shifts = [(0, Anchor.Start), (width, Anchor.End),
            (width / 4, Anchor.Start), (width / 2, Anchor.Start), (3 * width / 4, Anchor.End)];
        for (int off = 3; off < 50; off += 6)
        {
            foreach (int down in new[] { -off - Height, off })
            {
                foreach (var (shift, anchor) in shifts)
                {
                    foreach (var s in places)
                        yield return (new(s.X - shift, s.Y + down), anchor);
                }
            }
            foreach (var s in places)
            {
                yield return (new(s.X + off, s.Y - Height / 2), Anchor.Start);
                yield return (new(s.X - off - width, s.Y - Height / 2), Anchor.End);
            }
        }
    }
}
