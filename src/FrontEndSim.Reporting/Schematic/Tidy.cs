namespace FrontEndSim.Reporting.Schematic;

/// <summary>Cuts wires at their joints, and takes away what leads nowhere.</summary>
internal static class Tidy
{
    /// <summary>The same drawing with wires that end at joints, each once, and none that ends loose.</summary>
    public static Drawing Wires(Drawing drawing)
    {
        HashSet<Spot> held = [.. drawing.Named().Select(n => n.At)];
        Spot[] joints = [.. drawing.Wires.SelectMany(w => new[] { w.From, w.To }).Concat(held).Distinct()];
        var pieces = drawing.Wires.SelectMany(w => Cut(w, joints)).Distinct().ToList();
        while (true)
        {
            var ends = pieces.SelectMany(w => new[] { w.From, w.To }).GroupBy(s => s).ToDictionary(g => g.Key, g => g.Count());
            bool Loose(Spot s) => ends[s] == 1 && !held.Contains(s);
            if (pieces.RemoveAll(w => Loose(w.From) || Loose(w.To)) == 0)
                break;
        }
        return drawing with { Wires = Joined(pieces, held) };
    }

    private static IEnumerable<Wire> Cut(Wire wire, Spot[] joints)
    {
        Spot[] along = [.. joints.Where(wire.Holds).OrderBy(s => s.X).ThenBy(s => s.Y)];
        for (int k = 1; k < along.Length; k++)
            yield return new Wire(along[k - 1], along[k]);
    }

    /// <summary>Two pieces that meet in a line where nothing else is joined are one.</summary>
    private static ImmutableArray<Wire> Joined(List<Wire> pieces, HashSet<Spot> held)
    {
        for (int k = 0; k < pieces.Count; k++)
        {
            var (a, b) = (pieces[k].From, pieces[k].To);
            if (held.Contains(b))
                continue;
            Wire[] others = [.. pieces.Where(w => w != pieces[k] && (w.From == b || w.To == b))];
            if (others is [var next] && next.From == b && (a.Y == b.Y && next.To.Y == b.Y || a.X == b.X && next.To.X == b.X))
            {
                pieces[k] = new Wire(a, next.To);
                pieces.Remove(next);
                k = -1;
            }
        }
        return [.. pieces];
    }
}
