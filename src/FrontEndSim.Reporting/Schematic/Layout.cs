using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// Draws parts as a person would who follows the signal: from left to right, what goes to ground hangs down, what goes to
/// a positive rail stands up, and an op amp has its inputs at the left and its feedback above. What cannot be joined in
/// passing is joined by wires that are led afterwards.
/// </summary>
internal sealed partial class Layout
{
    private const int Leg = 100;   // a level part with its leads
    private const int Step = 110;  // from one upright part to the next
    private const int Row = 60;    // between legs of an op amp that lie above each other
    private const int RowGap = 40; // between rows of the sheet

    private readonly List<PlacedPart> _placed = [];
    private readonly List<Wire> _wires = [];
    private readonly List<Flag> _flags = [];
    private readonly List<Part> _left;
    private readonly IReadOnlyDictionary<string, double> _rails;
    private readonly HashSet<string> _pinNodes;

    private Layout(IEnumerable<Part> parts, IReadOnlyDictionary<string, double> rails) =>
        (_left, _rails, _pinNodes) = ([.. parts], rails, [.. parts.OfType<PinMark>().Select(p => p.Pin.Node)]);

    /// <summary>A drawing that shows the parts as they are connected, or null where none was found.</summary>
    /// <param name="parts">The parts, sensors and pins among them.</param>
    /// <param name="rails">Voltage of each rail by name, V.</param>
    public static Drawing? Of(IReadOnlyList<Part> parts, IReadOnlyDictionary<string, double> rails)
    {
        if (parts.Count == 0)
            return null;
        var drawing = Along(parts, rails);
        if (drawing.Shows(parts))
            return drawing;
        var apart = new Layout(parts, rails);
        apart.SideBySide();
        drawing = apart.Finished();
        return drawing.Shows(parts) ? drawing : null;
    }

    /// <summary>The drawing along the signal, whether or not it shows the parts.</summary>
    internal static Drawing Along(IReadOnlyList<Part> parts, IReadOnlyDictionary<string, double> rails)
    {
        var followed = new Layout(parts, rails);
        followed.AlongTheSignal();
        return followed.Finished();
    }

    /// <summary>The drawing with its wires led and its words placed.</summary>
    private Drawing Finished()
    {
        var drawing = new Drawing([.. _placed], [.. _wires], [.. _flags]);
        drawing = PartWords.Freed(
            Tidy.Wires(drawing with { Words = [.. _placed.SelectMany(PartWords.Of), .. _flags.SelectMany(PartWords.Of)] }));
        drawing = Tidy.Wires(Router.Connect(drawing, IsSupply));
        return NodeWords.On(drawing, n => !IsSupply(n) && !n.Contains(' '));
    }

    private void AlongTheSignal()
    {
        foreach (var sensor in _left.OfType<SensorMark>().Where(s => s.Nodes is [_, Circuit.Ground]).ToArray())
            OneRow(() => Sensor(sensor));
        for (int before = -1; _left.Count > 0 && _left.Count != before;)
        {
            before = _left.Count;
            if (_left.Exists(p => !IsBetweenSupplies(p)))
                OneRow(() => Follow(FirstNode(), new(0, 0)));
            else
                OneRow(BetweenSupplies);
        }
        OpenTerminals();
    }

    /// <summary>Every part by itself, in rows; the wires find their way between them.</summary>
    private void SideBySide()
    {
        const int across = 6;
        for (int k = 0; _left.Count > 0; k++)
        {
            var part = _left[0];
            _left.RemoveAt(0);
            Place(new PlacedPart(part, new(k % across * 260, k / across * 220), 0), "");
        }
        OpenTerminals();
    }

    /// <summary>A row is drawn where it likes and then moved below what stands already.</summary>
    private void OneRow(Action draw)
    {
        int parts = _placed.Count, wires = _wires.Count, flags = _flags.Count;
        var above = parts > 0 ? Extent(0, 0, 0) : default;
        draw();
        if (parts == 0 || _placed.Count == parts)
            return;
        int down = (above.Bottom + RowGap - Extent(parts, wires, flags).Top + 9) / 10 * 10;
        for (int k = parts; k < _placed.Count; k++)
            _placed[k] = _placed[k] with { Centre = _placed[k].Centre.Plus(0, down) };
        for (int k = wires; k < _wires.Count; k++)
            _wires[k] = new Wire(_wires[k].From.Plus(0, down), _wires[k].To.Plus(0, down));
        for (int k = flags; k < _flags.Count; k++)
            _flags[k] = _flags[k] with { At = _flags[k].At.Plus(0, down) };
    }

    private Area Extent(int parts, int wires, int flags) =>
        _placed.Skip(parts).Select(p => p.Box).Concat(_wires.Skip(wires).Select(w => w.Area))
        .Concat(_flags.Skip(flags).Select(f => f.Area))
        .Concat(_placed.Skip(parts).SelectMany(PartWords.Of).Concat(_flags.Skip(flags).SelectMany(PartWords.Of)).Select(w => w.Area))
            .Aggregate((a, b) => a.With(b));

    private string FirstNode()
    {
        // A bridge stands ahead of what amplifies it.
        var part = _left.FirstOrDefault(p => p is SensorMark && !IsTwoEnded(p)) ?? _left.FirstOrDefault(p => p.Amplifier is not null)
            ?? _left.First(p => !IsBetweenSupplies(p));
        if (part.Amplifier is { } amp)
            return new[] { amp.Plus, Far(_left.FirstOrDefault(p => IsLeg(p, amp.Plus)), amp.Plus),
                Far(_left.FirstOrDefault(p => IsLeg(p, amp.Minus)), amp.Minus) }
                .FirstOrDefault(n => n is not null && !IsSupply(n)) ?? amp.Minus;
        // What a supply feeds, such as a regulator, is followed from there.
        if (part.Contact is null && part is not PinMark && part.Nodes.Length > 2 && IsSupply(part.Nodes[0])
            && part.Nodes[0] != Circuit.Ground)
            return part.Nodes[0];
        return part.Nodes.FirstOrDefault(n => !IsSupply(n)) ?? part.Nodes.FirstOrDefault(n => n != Circuit.Ground) ?? part.Nodes[0];
    }

    private bool IsSupply(string node) => node == Circuit.Ground || _rails.ContainsKey(node);

    private bool IsBetweenSupplies(Part part) => part.Nodes.Length == 2 && part is not PinMark && part.Nodes.All(IsSupply);

    private bool IsAbove(string node) => _rails.GetValueOrDefault(node) > 0;

    /// <summary>Whether a part has two ends and nothing else, one of them at a node. A potentiometer with its wiper at an end is
    /// one.</summary>
    private static bool IsLeg(Part part, string node) => IsTwoEnded(part) && (part.Nodes[0] == node || part.Nodes[1] == node);

    private static bool IsTwoEnded(Part part) =>
        part.Contact?.Node is { } tap ? tap == part.Nodes[0] || tap == part.Nodes[1] : part is not PinMark && part.Nodes.Length == 2;

    private static string? Far(Part? part, string node) => part is null ? null : part.Nodes[0] == node ? part.Nodes[1] : part.Nodes[0];

    /// <summary>What gives the signal, upright at the left, with its source resistance.</summary>
    private void Sensor(SensorMark sensor)
    {
        string node = sensor.Nodes[0];
        var top = new Spot(0, 30);
        Line(new(0, 0), top);
        Supply(Circuit.Ground, Upright(sensor, node, top, above: false, wordsAtLeft: true), above: false);
        var at = new Spot(0, 0);
        if (_left.OfType<SourceResistanceMark>().FirstOrDefault(r => r.Nodes[0] == node) is { } source)
        {
            at = Level(source, node, at, LegOf([source]));
            node = source.Nodes[1];
        }
        Follow(node, Named(node, at));
    }

    /// <summary>Draws along the signal from a node whose wire has come to a place.</summary>
    private void Follow(string node, Spot at)
    {
        if (IsSupply(node))
            _flags.Add(new Flag(node, at, node == Circuit.Ground ? FlagLook.Ground : FlagLook.SupplyAtLeft));
        while (true)
        {
            at = Chains(node, Shunts(node, at));
            var amp = NextAmp(node);
            var potentiometer = NextPotentiometer(node);
            var block = NextBlock(node);
            var parallel = NextInSeries(node);
            bool goesOn = amp is not null || potentiometer is not null || block is not null || parallel.Count > 0;
            at = Pins(node, at, goesOn);
            if (amp is not null)
                (node, at) = Amplifier(amp, node, at);
            else if (potentiometer is not null)
                (node, at) = Potentiometer(potentiometer, node, at);
            else if (block is not null)
                (node, at) = Block(block, node, at);
            else if (parallel.Count > 0)
                (node, at) = Series(parallel, node, at);
            else
                break;
        }
        // Room for what is joined later; what is not is taken away.
        Line(at, at.Plus(30, 0));
    }

    /// <summary>From an upright part to the next, so that its words, which stand at its right, end before that one's symbol.</summary>
    private static int StepPast(Part part) => Math.Max(Step, (18 + PartWords.Width(part) + 24 + 9) / 10 * 10);

    /// <summary>Draws what leads from a node to ground or a rail.</summary>
    private Spot Shunts(string node, Spot at)
    {
        Part[] shunts = [.. _left.Where(p => IsLeg(p, node) && IsSupply(Far(p, node)!) && Far(p, node) != node)];
        int down = at.X + 30, up = at.X + 80;
        int reached = at.X;
        foreach (var part in shunts)
        {
            string far = Far(part, node)!;
            bool above = IsAbove(far);
            int x = above ? up : down;
            if (above)
                up += StepPast(part);
            else
                down += StepPast(part);
            reached = Math.Max(reached, x);
            var tap = new Spot(x, at.Y);
            var near = tap.Plus(0, above ? -30 : 20);
            Line(tap, near);
            Supply(far, Upright(part, node, near, above), above);
        }
        if (reached == at.X)
            return at;
        // The words of the last upright part need room before the signal's way goes on.
        var last = new Spot(Math.Max(Math.Max(down > at.X + 30 ? down - 50 : 0, up > at.X + 80 ? up - 30 : 0), reached + 40), at.Y);
        Line(at, last);
        return last;
    }

    /// <summary>Draws the pins at a node: one at the end of its wire, others below it.</summary>
    private Spot Pins(string node, Spot at, bool goesOn)
    {
        PinMark[] pins = [.. _left.OfType<PinMark>().Where(p => p.Pin.Node == node)];
        for (int k = 0; k < pins.Length; k++)
        {
            _left.Remove(pins[k]);
            bool atEnd = !goesOn && k + 1 == pins.Length;
            var tap = at.Plus(30, 0);
            Line(at, tap);
            var terminal = atEnd ? tap : tap.Plus(20, 110);
            if (!atEnd)
            {
                Line(tap, new(tap.X, terminal.Y));
                Line(new(tap.X, terminal.Y), terminal);
            }
            Place(new PlacedPart(pins[k], terminal.Plus(60, 0), 0), node);
            at = atEnd ? tap : tap.Plus(Math.Max(140, 90 + PartWords.Width(pins[k])) / 10 * 10, 0);
            Line(tap, at);
        }
        return at;
    }

    /// <summary>Places a part and gives its other ends what shows their nodes; wires are led later to those that no flag shows.</summary>
    /// <param name="placed">The part.</param>
    /// <param name="joined">The node whose wire has come to it.</param>
    private void Place(PlacedPart placed, string joined)
    {
        _placed.Add(placed);
        foreach (var (node, end) in placed.Part.Nodes.Zip(placed.Terminals).Where(e => e.First != joined && IsSupply(e.First)))
        {
            if (end.X == placed.Centre.X || end.Y - placed.Centre.Y is < -35 or > 35)
                SupplyPin(node, end, above: end.Y < placed.Centre.Y, Beside(placed, end));
            else
            {
                var away = end.Plus(end.X < placed.Centre.X ? -20 : 20, 0);
                Line(end, away);
                var post = away.Plus(0, IsAbove(node) ? -20 : 20);
                Line(away, post);
                Supply(node, post, IsAbove(node));
            }
        }
    }

    /// <summary>Shows the rail or ground that an upright end has come to.</summary>
    private void Supply(string node, Spot end, bool above, int aside = GroundAside)
    {
        if (node == Circuit.Ground && above)
        {
            // Ground hangs, also beside what it lies above.
            var (up, side) = (end.Plus(0, -10), end.Plus(aside, -10));
            Line(end, up);
            Line(up, side);
            Line(side, side.Plus(0, 10));
            end = side.Plus(0, 10);
        }
        if (IsSupply(node))
            _flags.Add(new Flag(node, end, node == Circuit.Ground ? FlagLook.Ground : above ? FlagLook.SupplyAbove : FlagLook.SupplyBelow));
    }

    /// <summary>The same at the end of a short wire from a supply pin.</summary>
    private void SupplyPin(string node, Spot pin, bool above, int aside = GroundAside)
    {
        var end = pin.Plus(0, above ? -10 : 10);
        Line(pin, end);
        Supply(node, end, above, aside);
    }

    // How far beside an end that looks up its ground hangs.
    private const int GroundAside = 30;

    /// <summary>So far that a ground beside an end hangs clear of the part.</summary>
    private static int Beside(PlacedPart placed, Spot end) => Math.Max(GroundAside, (placed.Box.Right - end.X + 29) / 10 * 10);

    private void Line(Spot from, Spot to)
    {
        if (from != to)
            _wires.Add(new Wire(from, to));
    }

    /// <summary>Places a part upright between a place and 60 below (or above) it; gives the other end.</summary>
    private Spot Upright(Part part, string node, Spot near, bool above, bool wordsAtLeft = false)
    {
        bool first = part.Nodes[0] == node;
        int turn = first != above ? 90 : 270;
        // Words stand clear of the rays of a light-emitting diode.
        bool bright = Symbols.Of(part).Body.Top < -20;
        _placed.Add(new PlacedPart(part, near.Plus(0, above ? -30 : 30), turn, Mirrored: bright
            && turn == 90 != wordsAtLeft, WordsAtLeft: wordsAtLeft));
        _left.Remove(part);
        return near.Plus(0, above ? -60 : 60);
    }

    /// <summary>How long level parts with their leads are, so that their words, which stand above and below them, end before the wires at
    /// either end.</summary>
    private static int LegOf(IEnumerable<Part> parts) => parts.Select(p => (PartWords.Width(p) + 20 + 19) / 20 * 20).Append(Leg).Max();

    /// <summary>Places a part level, its leads reaching from a place to one further right.</summary>
    private Spot Level(Part part, string node, Spot from, int length)
    {
        Spot near = from.Plus((length - 60) / 2, 0), far = near.Plus(60, 0), end = from.Plus(length, 0);
        _placed.Add(new PlacedPart(part, near.Plus(30, 0), part.Nodes[0] == node ? 0 : 180, Mirrored: part.Nodes[0] != node));
        _left.Remove(part);
        Line(from, near);
        Line(far, end);
        return end;
    }

    private Part? NextAmp(string node) => IsSupply(node) ? null : _left.FirstOrDefault(p => p.Amplifier is { } a && (a.Plus == node
        || a.Minus == node || _left.Any(p => IsLeg(p, node) && (Far(p, node) == a.Plus || Far(p, node) == a.Minus))));

    /// <summary>The parts from a node towards a pin: those of the shortest way, or of any way if none leads there.</summary>
    private List<Part> NextInSeries(string node)
    {
        string[] ways = [.. _left.Where(p => IsLeg(p, node)).Select(p => Far(p, node)!).Where(n => !IsSupply(n) && n != node).Distinct()];
        if (ways.Length == 0 || IsSupply(node))
            return [];
        string next = ways.MinBy(n => Distance(n, node))!;
        return [.. _left.Where(p => IsLeg(p, node) && Far(p, node) == next)];
    }

    private int Distance(string from, string without)
    {
        var seen = new HashSet<string> { without, from };
        var front = new List<string> { from };
        for (int steps = 0; front.Count > 0; steps++)
        {
            if (front.Any(_pinNodes.Contains))
                return steps;
            front = [.. front.SelectMany(Hops).Where(n => !IsSupply(n) && seen.Add(n))];
        }
        return int.MaxValue;
    }

    /// <summary>The nodes that the signal may go to from one, through one part.</summary>
    private IEnumerable<string> Hops(string node) => _left.SelectMany(p => p switch
    {
        { Amplifier: { } a } => a.Plus == node || a.Minus == node ? [a.Output] : [],
        _ when IsLeg(p, node) => [Far(p, node)!],
        { Contact.Node: { } tap } => p.Nodes[0] == node || p.Nodes[1] == node ? [tap] : [],
        _ => !IsTwoEnded(p) && p.Nodes.Length > 1 && p.Nodes[0] == node ? [p.Nodes[1]] : Array.Empty<string>(),
    });

    private (string Node, Spot At) Series(List<Part> parallel, string node, Spot at)
    {
        string next = Far(parallel[0], node)!;
        var from = at.Plus(10, 0);
        Line(at, from);
        var end = from;
        for (int k = 0; k < parallel.Count; k++)
        {
            end = Level(parallel[k], node, from.Plus(0, -Row * k), LegOf(parallel));
            if (k == 0)
                continue;
            Line(from.Plus(0, -Row * (k - 1)), from.Plus(0, -Row * k));
            Line(end, end.Plus(0, Row));
        }
        return (next, Named(next, new Spot(end.X, from.Y)));
    }

    /// <summary>Leads on from where a part ends, with room for the node's name and voltage.</summary>
    private Spot Named(string node, Spot at)
    {
        var end = at.Plus(Math.Max(40, (NodeWords.Width(node) - 25) / 10 * 10), 0);
        Line(at, end);
        return end;
    }

    /// <summary>A node that only one part is joined to ends in a terminal.</summary>
    private void OpenTerminals()
    {
        var lone = _placed.SelectMany(p => p.Part.Nodes.Zip(p.Terminals)).GroupBy(n => n.First)
            .Where(g => !IsSupply(g.Key) && g.Select(n => n.Second).Distinct().Count() == 1);
        foreach (var (node, at) in lone.Select(g => g.First()).ToArray())
        {
            // The wire that leads on from the end, if there is one.
            var end = at;
            for (int k = 0; k < 5; k++)
                end = _wires.Where(w => w.From == end).Select(w => w.To).FirstOrDefault(end);
            if (end == at)
            {
                var placed = _placed.First(p => p.Terminals.Contains(at));
                end = at.Y == placed.Centre.Y ? at.Plus(at.X < placed.Centre.X ? -20 : 20, 0)
                    : at.Plus(0, at.Y < placed.Centre.Y ? -20 : 20);
                Line(at, end);
            }
            _flags.Add(new Flag(node, end, FlagLook.Terminal));
        }
    }
}
