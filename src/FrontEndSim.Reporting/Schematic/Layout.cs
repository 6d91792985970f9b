using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>
/// Draws parts as a person would who follows the signal: from left to right, what goes to ground hangs down, what goes to
/// a positive rail stands up, and an op amp has its inputs at the left and its feedback above.
/// </summary>
internal sealed partial class Layout
{
    private const int Leg = 100;   // a level part with its leads
    private const int Step = 120;  // from one upright part to the next
    private const int CharacterWidth = 7; // of the words at a part
    private const int Row = 60;    // between legs of an op amp that lie above each other

    private readonly List<PlacedPart> _placed = [];
    private readonly List<Wire> _wires = [];
    private readonly List<Flag> _flags = [];
    private readonly List<Part> _left;
    private readonly IReadOnlyDictionary<string, double> _rails;
    private readonly string? _output;

    private Layout(IEnumerable<Part> parts, IReadOnlyDictionary<string, double> rails, string? output) =>
        (_left, _rails, _output) = ([.. parts], rails, output);

    /// <summary>A drawing that shows the parts as they are connected, or null where none was found.</summary>
    /// <param name="parts">The parts.</param>
    /// <param name="input">The node that the signal comes from, or null.</param>
    /// <param name="output">The node that it goes to, or null.</param>
    /// <param name="rails">Voltage of each rail by name, V.</param>
    public static Drawing? Of(IReadOnlyList<Part> parts, string? input, string? output, IReadOnlyDictionary<string, double> rails)
    {
        if (parts.Count == 0 || parts.Any(p => p is not OpAmpPart && p.Nodes.Length is < 2 or > 4))
            return null;
        var layout = new Layout(parts, rails, output);
        layout.Draw(input);
        var drawing = new Drawing([.. layout._placed], [.. layout._wires], [.. layout._flags]);
        return drawing.Shows(parts) ? drawing : null;
    }

    private void Draw(string? input)
    {
        string node = input is not null && _left.Any(p => p.Nodes.Contains(input)) ? input : FirstNode();
        int? bottom = null;
        while (true)
        {
            int before = _left.Count, parts = _placed.Count, wires = _wires.Count, flags = _flags.Count;
            _flags.Add(new Flag(node, new(0, 0), FlagLook.TerminalAtLeft));
            _wires.Add(new Wire(new(0, 0), new(20, 0)));
            Follow(node, new(20, 0));
            // A row is drawn where it likes and then moved below what stands already.
            int down = bottom is { } b ? b + 50 - _placed.Skip(parts).Select(p => p.Box.Top).Concat(_flags.Skip(flags).Select(f => f.At.Y - 10))
                .Concat(_wires.Skip(wires).Select(w => Math.Min(w.From.Y, w.To.Y))).Min() : 0;
            for (int k = parts; k < _placed.Count; k++)
                _placed[k] = _placed[k] with { Centre = _placed[k].Centre.Plus(0, down), Terminals = [.. _placed[k].Terminals.Select(t => t.Plus(0, down))] };
            for (int k = wires; k < _wires.Count; k++)
                _wires[k] = new Wire(_wires[k].From.Plus(0, down), _wires[k].To.Plus(0, down));
            for (int k = flags; k < _flags.Count; k++)
                _flags[k] = _flags[k] with { At = _flags[k].At.Plus(0, down) };
            // A row without a part: what is left cannot be drawn, and the drawing will not be taken for the circuit.
            if (_left.Count == 0 || _left.Count == before)
                return;
            bottom = _placed.Select(p => p.Box.Bottom).Concat(_flags.Select(f => f.At.Y + 30)).Max();
            node = FirstNode();
        }
    }

    private string FirstNode()
    {
        var part = _left[0];
        if (part is OpAmpPart amp)
            return new[] { amp.Plus, Far(_left.FirstOrDefault(p => IsLeg(p, amp.Plus)), amp.Plus), Far(_left.FirstOrDefault(p => IsLeg(p, amp.Minus)), amp.Minus) }
                .FirstOrDefault(n => n is not null && !IsSupply(n)) ?? amp.Minus;
        return part.Nodes.FirstOrDefault(n => !IsSupply(n)) ?? part.Nodes.FirstOrDefault(n => n != Circuit.Ground) ?? part.Nodes[0];
    }

    private bool IsSupply(string node) => node == Circuit.Ground || _rails.ContainsKey(node);

    /// <summary>Whether a part has two ends and nothing else, one of them at a node. A potentiometer with its wiper at an end is one.</summary>
    private static bool IsLeg(Part part, string node) => IsTwoEnded(part) && (part.Nodes[0] == node || part.Nodes[1] == node);

    private static bool IsTwoEnded(Part part) => part is PotentiometerPart p ? p.Wiper == p.From || p.Wiper == p.To : part.Nodes.Length == 2;

    private static string? Far(Part? part, string node) => part is null ? null : part.Nodes[0] == node ? part.Nodes[1] : part.Nodes[0];

    /// <summary>Draws along the signal from a node whose wire has come to a place.</summary>
    private void Follow(string node, Spot at)
    {
        while (true)
        {
            at = Shunts(node, at);
            if (node == _output)
                at = Chains(node, at);
            if (NextAmp(node) is { } amp)
                (node, at) = Amplifier(amp, node, at);
            else if (NextPotentiometer(node) is { } potentiometer)
                (node, at) = Potentiometer(potentiometer, node, at);
            else if (NextBlock(node) is { } block)
                (node, at) = Block(block, node, at);
            else if (NextInSeries(node) is { Count: > 0 } parallel)
                (node, at) = Series(parallel, node, at);
            else
                break;
        }
        var end = at.Plus(node == _output ? 50 : 30, 0);
        _wires.Add(new Wire(at, end));
        if (node == _output)
            _flags.Add(new Flag(node, end, FlagLook.TerminalAtRight));
    }

    /// <summary>From an upright part to the next, so that its value, which stands at its right, ends before that one's symbol.</summary>
    private static int StepPast(Part part) => Math.Max(Step, (18 + CharacterWidth * part.ValueText.Length + 20 + 9) / 10 * 10);

    /// <summary>Draws what leads from a node to ground or a rail.</summary>
    private Spot Shunts(string node, Spot at)
    {
        Part[] shunts = [.. _left.Where(p => IsLeg(p, node) && IsSupply(Far(p, node)!) && Far(p, node) != node)];
        int down = at.X + 30, up = at.X + 90;
        int reached = at.X;
        foreach (var part in shunts)
        {
            string far = Far(part, node)!;
            bool above = _rails.GetValueOrDefault(far) > 0;
            int x = above ? up : down;
            if (above)
                up += StepPast(part);
            else
                down += StepPast(part);
            reached = Math.Max(reached, x);
            var tap = new Spot(x, at.Y);
            var near = tap.Plus(0, above ? -30 : 20);
            _wires.Add(new Wire(tap, near));
            Supply(far, Upright(part, node, near, above), above);
        }
        if (reached == at.X)
            return at;
        // The words of the last upright part need room before the signal's way goes on.
        var last = new Spot(reached + 50, at.Y);
        _wires.Add(new Wire(at, last));
        return last;
    }

    /// <summary>Names the rail, ground or other node that an upright end has come to.</summary>
    private void Supply(string node, Spot end, bool above) => _flags.Add(new Flag(node, end,
        node == Circuit.Ground && !above ? FlagLook.Ground
        : IsSupply(node) ? above ? FlagLook.SupplyAbove : FlagLook.SupplyBelow
        : above ? FlagLook.Tag : FlagLook.TagBelow));

    /// <summary>The same at the end of a short wire from a supply pin.</summary>
    private void SupplyPin(string node, Spot pin, bool above)
    {
        var end = pin.Plus(0, above ? -10 : 10);
        _wires.Add(new Wire(pin, end));
        Supply(node, end, above);
    }

    /// <summary>Places a part upright between a place and 60 below (or above) it; gives the other end.</summary>
    private Spot Upright(Part part, string node, Spot near, bool above, bool wordsAtLeft = false)
    {
        var end = near.Plus(0, above ? -60 : 60);
        bool first = part.Nodes[0] == node;
        _placed.Add(new PlacedPart(part, near.Plus(0, above ? -30 : 30), first != above ? 90 : 270, first ? [near, end] : [end, near], wordsAtLeft));
        _left.Remove(part);
        return end;
    }

    /// <summary>How long level parts with their leads are, so that their values, which stand below them, end before the wires at either end.</summary>
    private static int LegOf(IEnumerable<Part> parts) => parts.Select(p => (CharacterWidth * p.ValueText.Length + 20 + 19) / 20 * 20).Append(Leg).Max();

    /// <summary>Places a part level, its leads reaching from a place to one further right.</summary>
    private Spot Level(Part part, string node, Spot from, int length)
    {
        int lead = (length - 60) / 2;
        Spot near = from.Plus(lead, 0), far = near.Plus(60, 0), end = from.Plus(length, 0);
        bool first = part.Nodes[0] == node;
        _placed.Add(new PlacedPart(part, near.Plus(30, 0), first ? 0 : 180, first ? [near, far] : [far, near]));
        _left.Remove(part);
        _wires.Add(new Wire(from, near));
        _wires.Add(new Wire(far, end));
        return end;
    }

    private OpAmpPart? NextAmp(string node) => _left.OfType<OpAmpPart>().FirstOrDefault(a => a.Plus == node || a.Minus == node
        || _left.Any(p => IsLeg(p, node) && !IsSupply(node) && (Far(p, node) == a.Plus || Far(p, node) == a.Minus)));

    /// <summary>The parts from a node towards the output: those of the shortest way, or of any way if none leads there.</summary>
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
            if (front.Contains(_output ?? ""))
                return steps;
            front = [.. front.SelectMany(Hops).Where(n => !IsSupply(n) && seen.Add(n))];
        }
        return int.MaxValue;
    }

    /// <summary>The nodes that the signal may go to from one, through one part.</summary>
    private IEnumerable<string> Hops(string node) => _left.SelectMany(p => p switch
    {
        OpAmpPart a => a.Plus == node || a.Minus == node ? [a.Output] : [],
        _ when IsLeg(p, node) => [Far(p, node)!],
        PotentiometerPart v => v.From == node || v.To == node ? [v.Wiper] : [],
        _ => !IsTwoEnded(p) && p.Nodes[0] == node ? [p.Nodes[1]] : Array.Empty<string>(),
    });

    private (string Node, Spot At) Series(List<Part> parallel, string node, Spot at)
    {
        string next = Far(parallel[0], node)!;
        var from = at.Plus(10, 0);
        _wires.Add(new Wire(at, from));
        var end = from;
        for (int k = 0; k < parallel.Count; k++)
        {
            end = Level(parallel[k], node, from.Plus(0, -Row * k), LegOf(parallel));
            if (k == 0)
                continue;
            _wires.Add(new Wire(from.Plus(0, -Row * (k - 1)), from.Plus(0, -Row * k)));
            _wires.Add(new Wire(end, end.Plus(0, Row)));
        }
        return (next, Named(next, new Spot(end.X, from.Y)));
    }

    /// <summary>Leads on from where a part ends, with room for the node's name and voltage; the output's stand at its terminal.</summary>
    private Spot Named(string node, Spot at)
    {
        if (node == _output)
            return at;
        var end = at.Plus(40, 0);
        _wires.Add(new Wire(at, end));
        _flags.Add(new Flag(node, at, FlagLook.Tag));
        return end;
    }

    private (string Node, Spot At) Amplifier(OpAmpPart amp, string node, Spot at)
    {
        _left.Remove(amp);
        List<Part> Between(string a, string b) => [.. _left.Where(p => IsLeg(p, a) && Far(p, a) == b)];
        List<Part> Legs(string input) => IsSupply(input) ? [] : [.. _left.Where(p => IsLeg(p, input) && Far(p, input) != amp.Output && Far(p, input) != amp.Minus
            && Far(p, input) != amp.Plus).OrderBy(p => Far(p, input) == node ? 0 : 1)];
        var feedback = Between(amp.Minus, amp.Output);
        var positive = Between(amp.Plus, amp.Output);
        // If the signal's own node is an input, what else hangs on it goes on from there and is no leg of this op amp.
        var minusLegs = amp.Minus == node ? [] : Legs(amp.Minus);
        var plusLegs = amp.Plus == node ? [] : Legs(amp.Plus);
        bool intoMinus = amp.Minus == node || amp.Plus != node && minusLegs.Any(p => Far(p, amp.Minus) == node);
        bool otherLegs = minusLegs.Count + plusLegs.Count > 1;

        // The signal goes straight into its input.
        int leg = LegOf(minusLegs.Concat(plusLegs));
        int bus = at.X + (otherLegs ? 90 : 30) + leg, edge = bus + 60, output = edge + 110;
        int minus = intoMinus ? at.Y : at.Y - 60, plus = minus + 60, middle = minus + 30;
        var centre = new Spot(edge + 40, middle);
        _placed.Add(new PlacedPart(amp, centre, 0, [new(edge, plus), new(edge, minus), new(edge + 80, middle),
            centre.Plus(0, -50), centre.Plus(0, 50)]));
        SupplyPin(amp.PositiveRail, centre.Plus(0, -50), above: true);
        SupplyPin(amp.NegativeRail, centre.Plus(0, 50), above: false);

        // Minus: the bus rises from the input to the highest leg or feedback part.
        _wires.Add(new Wire(new(bus, minus), new(edge, minus)));
        Inputs(amp.Minus, minusLegs, minus, up: true);
        int highest = minus - 90;
        bool direct = amp.Minus == amp.Output;
        for (int k = 0; k < feedback.Count || direct && k == 0; k++)
        {
            var from = new Spot(bus, highest - Row * k);
            if (feedback.Count > k)
                Level(feedback[k], amp.Minus, from, output - bus);
            else
                _wires.Add(new Wire(from, new(output, from.Y)));
            Riser(bus, minus, from.Y);
            Riser(output, middle, from.Y);
        }
        if (!direct && !IsSupply(amp.Minus))
            _flags.Add(new Flag(amp.Minus, new(bus, minus), FlagLook.TagBelow));

        // Plus: the bus falls.
        _wires.Add(new Wire(new(bus, plus), new(edge, plus)));
        Inputs(amp.Plus, plusLegs, plus, up: false);
        for (int k = 0; k < positive.Count; k++)
        {
            var from = new Spot(bus, plus + 100 + Row * k);
            Level(positive[k], amp.Plus, from, output - bus);
            Riser(bus, plus, from.Y);
            Riser(output, middle, from.Y);
        }

        _wires.Add(new Wire(new(edge + 80, middle), new(output, middle)));
        if (amp.Output != _output)
            _flags.Add(new Flag(amp.Output, new(output, middle), FlagLook.Tag));
        return (amp.Output, new(output, middle));

        void Riser(int x, int from, int to) => _wires.Add(new Wire(new(x, from), new(x, to)));

        void Inputs(string input, List<Part> legs, int y, bool up)
        {
            if (input == node)
            {
                _wires.Add(new Wire(at, new(bus, y)));
                return;
            }
            int row = 0;
            Part[] hanging = up ? [] : [.. legs.Where(p => Far(p, input) == Circuit.Ground)];
            foreach (var part in legs.Except(hanging))
            {
                string far = Far(part, input)!;
                var end = new Spot(bus, y + (up ? -Row : Row) * row);
                var start = end.Plus(-leg, 0);
                Level(part, far, start, leg);
                if (row > 0)
                    Riser(bus, y, end.Y);
                if (far == node && row == 0 && start.Y == at.Y)
                    _wires.Add(new Wire(at, start));
                else
                    _flags.Add(new Flag(far, start, far == Circuit.Ground ? FlagLook.Ground : FlagLook.TerminalAtLeft));
                row++;
            }
            // Positive feedback falls from the same bus: what hangs then keeps to the left of it, below the legs.
            int aside = !up && positive.Count > 0 ? 1 : 0;
            int low = y + Row * (aside > 0 ? row : Math.Max(0, row - 1));
            if (hanging.Length > 0 && low > y)
                Riser(bus, y, low);
            for (int k = 0; k < hanging.Length; k++)
            {
                var tap = new Spot(bus - Step * (k + aside), low);
                if (k + aside > 0)
                    _wires.Add(new Wire(tap, tap.Plus(Step, 0)));
                _wires.Add(new Wire(tap, tap.Plus(0, 20)));
                _flags.Add(new Flag(Circuit.Ground, Upright(hanging[k], input, tap.Plus(0, 20), above: false, wordsAtLeft: true), FlagLook.Ground));
            }
            if (row == 0 && hanging.Length == 0 && input != amp.Output)
            {
                if (input == Circuit.Ground)
                    _wires.Add(new Wire(new(bus, y), new(bus, y + 20)));
                _flags.Add(new Flag(input, new(bus, input == Circuit.Ground ? y + 20 : y),
                    input == Circuit.Ground ? FlagLook.Ground : FlagLook.TerminalAtLeft));
            }
        }
    }
}
