namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// Leads a wire between two places of a node past everything else: the cheapest way on a grid, where bends and crossings
/// cost. Wires of other nodes are crossed at right angles only, and never at a place where something is joined.
/// </summary>
internal sealed class Router
{
    private const int Pitch = 10, Margin = 8, BendCost = 6, CrossingCost = 8, NearCost = 2;

    private readonly int _left, _top, _width, _height;
    private readonly bool[] _blocked, _near;
    // number of the node whose wire runs to the right, downwards, or is joined here; 0 for none
    private readonly int[] _across, _down, _joint;

    private Router(Drawing drawing, IEnumerable<Area> closed, Func<string, int> number)
    {
        var extent = drawing.Extent();
        (_left, _top) = (Floor(extent.Left) - Margin * Pitch, Floor(extent.Top) - Margin * Pitch);
        (_width, _height) = ((extent.Right - _left) / Pitch + Margin + 1, (extent.Bottom - _top) / Pitch + Margin + 1);
        int cells = _width * _height;
        (_blocked, _near, _across, _down, _joint) = (new bool[cells], new bool[cells], new int[cells], new int[cells], new int[cells]);
        foreach (var area in closed)
        {
            for (int y = Math.Max(0, (Floor(area.Top) - _top) / Pitch - 1); y < _height && _top + y * Pitch <= area.Bottom + Pitch; y++)
            {
                for (int x = Math.Max(0, (Floor(area.Left) - _left) / Pitch - 1); x < _width
                    && _left + x * Pitch <= area.Right + Pitch; x++)
                {
                    var (sx, sy) = (_left + x * Pitch, _top + y * Pitch);
                    // A wire is two wide.
                    _blocked[y * _width + x] |= sx > area.Left - 1 && sx < area.Right + 1 && sy > area.Top - 1 && sy < area.Bottom + 1;
                    _near[y * _width + x] |= sx > area.Left - Pitch && sx < area.Right + Pitch
                        && sy > area.Top - Pitch && sy < area.Bottom + Pitch;
                }
            }
        }
        foreach (var (node, wire) in drawing.WireNodes())
            Occupy(wire, number(node));
        foreach (var (node, at) in drawing.Named())
            _joint[Cell(at)] = number(node);
    }

    /// <summary>A drawing with wires between all places of each node that no flags join.</summary>
    /// <param name="drawing">The drawing; all its places lie on the grid of 10.</param>
    /// <param name="byFlags">Whether a node is shown by flags, and needs no wires between them.</param>
    public static Drawing Connect(Drawing drawing, Func<string, bool> byFlags)
    {
        var numbers = new Dictionary<string, int>();
        int Number(string node) => numbers.TryGetValue(node, out int n) ? n : numbers[node] = numbers.Count + 1;
        var router = new Router(drawing, [.. drawing.Parts.Select(Closed),
            .. drawing.Flags.Select(f => f.Area.Grown(1)), .. drawing.Words.Select(w => w.Area)], Number);
        foreach (string node in drawing.Named().Select(n => n.Node).Distinct().Where(n => !byFlags(n)).ToArray())
        {
            while (true)
            {
                var net = Net.Of(drawing);
                Spot[] own = [.. drawing.Named().Where(n => n.Node == node).Select(n => n.At).Distinct()];
                var pieces = own.GroupBy(net).ToArray();
                if (pieces.Length < 2)
                    break;
                var wires = drawing.WireNodes().Where(w => w.Node == node).Select(w => w.Wire).ToArray();
                Spot[] Places(Spot root) => [.. own.Where(s => net(s) == root), .. wires.Where(w => net(w.From) == root).SelectMany(Along)];
                var from = Places(pieces[0].Key);
                Spot[] to = [.. pieces.Skip(1).SelectMany(p => Places(p.Key))];
                if (router.Way(from, to, Number(node)) is not { } way)
                {
                    // Names stand for the wire that finds no way.
                    drawing = drawing with { Flags = drawing.Flags.AddRange(pieces.Select(p => new Flag(node, p.First(), FlagLook.Name))) };
                    break;
                }
                foreach (var wire in way)
                    router.Occupy(wire, Number(node));
                drawing = drawing with { Wires = drawing.Wires.AddRange(way) };
            }
        }
        return drawing;
    }

    // Along the side of an amplifier or a box, where several leads end, a wire would look like a part of it.
    private static Area Closed(PlacedPart part) => part.Symbol.Ends.Length > 2 ? part.Box.Grown(1) : part.Box;

    private static IEnumerable<Spot> Along(Wire wire)
    {
        int dx = wire.To.X - wire.From.X, dy = wire.To.Y - wire.From.Y, steps = Math.Max(Math.Abs(dx), Math.Abs(dy)) / Pitch;
        for (int k = 0; k <= steps; k++)
            yield return wire.From.Plus(Math.Sign(dx) * Pitch * k, Math.Sign(dy) * Pitch * k);
    }

    private void Occupy(Wire wire, int node)
    {
        var spots = Along(wire).ToArray();
        _joint[Cell(wire.From)] = _joint[Cell(wire.To)] = node;
        for (int k = 1; k < spots.Length; k++)
        {
            int a = Math.Min(Cell(spots[k - 1]), Cell(spots[k]));
            if (spots[k].Y == spots[k - 1].Y)
                _across[a] = node;
            else
                _down[a] = node;
        }
    }

    private List<Wire>? Way(Spot[] from, Spot[] to, int node)
    {
        var goals = to.Select(Cell).Where(c => !Foreign(c, node)).ToHashSet();
        // A state is a cell and the direction in which it was entered: right, down, left, up.
        var cost = new Dictionary<int, int>();
        var before = new Dictionary<int, int>();
        var queue = new PriorityQueue<int, (int Cost, int Order)>();
        int order = 0;
        foreach (int cell in from.Select(Cell).Where(c => !Foreign(c, node)).Distinct())
        {
            for (int direction = 0; direction < 4; direction++)
            {
                cost[cell * 4 + direction] = 0;
                queue.Enqueue(cell * 4 + direction, (0, order++));
            }
        }
        var done = new HashSet<int>();
        while (queue.TryDequeue(out int state, out _))
        {
            if (!done.Add(state))
                continue;
            int cell = state / 4, entered = state % 4;
            if (goals.Contains(cell))
                return Wires(state, before);
            bool straightOnly = cost[state] > 0 && Foreign(cell, node);
            for (int direction = 0; direction < 4; direction++)
            {
                if ((direction + 2) % 4 == entered && cost[state] > 0 || straightOnly && direction != entered)
                    continue;
                int next = Next(cell, direction);
                if (next < 0 || _blocked[next] && !goals.Contains(next) || !Free(cell, next, direction, node))
                    continue;
                int spent = cost[state] + 1 + (direction != entered ? BendCost : 0)
                    + (Foreign(next, node) ? CrossingCost : 0) + (_near[next] ? NearCost : 0);
                int to2 = next * 4 + direction;
                if (cost.TryGetValue(to2, out int known) && known <= spent)
                    continue;
                (cost[to2], before[to2]) = (spent, state);
                queue.Enqueue(to2, (spent, order++));
            }
        }
        return null;
    }

    /// <summary>Whether a step may be taken: no other node is joined there, nor does its wire run the same way.</summary>
    private bool Free(int cell, int next, int direction, int node)
    {
        int edge = direction % 2 == 0 ? _across[Math.Min(cell, next)] : _down[Math.Min(cell, next)];
        if (edge != 0 || _joint[next] != 0 && _joint[next] != node)
            return false;
        int beyond = direction % 2 == 0 ? Math.Max(_across[next], next > 0 ? _across[next - 1] : 0)
            : Math.Max(_down[next], next >= _width ? _down[next - _width] : 0);
        return beyond == 0 || beyond == node;
    }

    private bool Foreign(int cell, int node)
    {
        int[] around = [_across[cell], cell > 0 ? _across[cell - 1] : 0, _down[cell], cell >= _width
            ? _down[cell - _width] : 0, _joint[cell]];
        return around.Any(n => n != 0 && n != node);
    }

    private int Next(int cell, int direction)
    {
        int x = cell % _width, y = cell / _width;
        return direction switch
        {
            0 => x + 1 < _width ? cell + 1 : -1,
            1 => y + 1 < _height ? cell + _width : -1,
            2 => x > 0 ? cell - 1 : -1,
            _ => y > 0 ? cell - _width : -1,
        };
    }

    private List<Wire> Wires(int state, Dictionary<int, int> before)
    {
        var cells = new List<int>();
        for (int at = state; ; at = before[at])
        {
            cells.Add(at / 4);
            if (!before.ContainsKey(at))
                break;
        }
        var wires = new List<Wire>();
        int start = 0;
        for (int k = 1; k < cells.Count; k++)
        {
            bool turns = k + 1 == cells.Count || cells[k + 1] - cells[k] != cells[k] - cells[k - 1];
            if (turns)
            {
                wires.Add(new Wire(At(cells[start]), At(cells[k])));
                start = k;
            }
        }
        return wires;
    }

    private int Cell(Spot s) => (s.Y - _top) / Pitch * _width + (s.X - _left) / Pitch;

    private Spot At(int cell) => new(_left + cell % _width * Pitch, _top + cell / _width * Pitch);

    private static int Floor(int value) => (int)Math.Floor(value / (double)Pitch) * Pitch;
}
