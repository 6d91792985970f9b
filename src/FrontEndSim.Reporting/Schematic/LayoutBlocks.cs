using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>Places what has more than two ends, what hangs in chains, and what stands between supplies.</summary>
internal sealed partial class Layout
{
    private Part? NextPotentiometer(string node) => IsSupply(node) ? null
        : _left.FirstOrDefault(p => p.Contact is not null && !IsTwoEnded(p) && p.Nodes.Contains(node));

    /// <summary>A part with an input, an output and more, in this order, whose input is at a node; where the signal starts at a supply,
    /// any other.</summary>
    private Part? NextBlock(string node) => _left.FirstOrDefault(p =>
        p is { Amplifier: null, Contact: null } and not PinMark && !IsTwoEnded(p)
        && (p.Nodes[0] == node && !IsSupply(node) || p == _left.FirstOrDefault(q => !IsBetweenSupplies(q)) && p.Nodes[0] == node));

    /// <summary>The track hangs upright from the signal and the wiper leads on; or the signal is the wiper's and the track stands beside
    /// it.</summary>
    private (string Node, Spot At) Potentiometer(Part part, string node, Spot at)
    {
        _left.Remove(part);
        var (start, end, wiper) = (part.Nodes[0], part.Nodes[1], part.Contact!.Node);
        if (wiper == node)
        {
            // Below the signal's wire, with room for the name of its upper end.
            var corner = at.Plus(20, 100);
            Line(at, at.Plus(20, 0));
            Line(at.Plus(20, 0), corner);
            // The higher voltage stands on top.
            bool turned = _rails.GetValueOrDefault(end) > _rails.GetValueOrDefault(start);
            int aside = Math.Max(20, (Schematic.Words.Width(turned ? end : start, WordsKind.Rail) / 2 + 9) / 10 * 10);
            Line(corner, corner.Plus(aside, 0));
            var placed = new PlacedPart(part, corner.Plus(aside + 20, 0), turned ? 270 : 90, Mirrored: !turned);
            _placed.Add(placed);
            Tip(start, placed.Terminals[0], above: !turned);
            Tip(end, placed.Terminals[1], above: turned);
            var past = at.Plus(40 + aside + StepPast(part), 0);
            Line(at.Plus(20, 0), past);
            return (node, past);
        }
        bool first = start == node;
        // Words stand at the left of the track.
        var top = at.Plus(StepPast(part) - 30, 0);
        Line(at, top);
        var near = top.Plus(0, 20);
        Line(top, near);
        var track = new PlacedPart(part, near.Plus(0, 30), first ? 90 : 270, Mirrored: !first, WordsAtLeft: true);
        _placed.Add(track);
        Tip(first ? end : start, track.Terminals[first ? 1 : 0], above: false);
        return (wiper, Named(wiper, track.Terminals[2]));

        void Tip(string tip, Spot spot, bool above)
        {
            if (tip != node)
                Supply(tip, spot, above);
        }
    }

    private (string Node, Spot At) Block(Part part, string node, Spot at)
    {
        _left.Remove(part);
        int half = -Symbols.Of(part).Ends[0].X;
        var input = at.Plus(40, 0);
        Line(at, input);
        var placed = new PlacedPart(part, input.Plus(half, 0), 0);
        Place(placed, node);
        string next = part.Nodes[1];
        var output = placed.Terminals[1];
        // The value stands below the box, to the right of the lower supply.
        var past = output.Plus(Math.Max(0, (PartWords.Width(part) - half) / 10 * 10), 0);
        Line(output, past);
        return (next, IsSupply(next) ? past : Named(next, past));
    }

    /// <summary>Draws what leads from a node through two or three parts to ground or a rail and nowhere else: an indicator and its
    /// resistor.</summary>
    private Spot Chains(string node, Spot at)
    {
        if (IsSupply(node))
            return at;
        foreach (var start in _left.Where(p => IsLeg(p, node)).ToArray())
        {
            List<Part> chain = [start];
            string far = Far(start, node)!;
            while (!IsSupply(far) && far != node && chain.Count < 3 && !_pinNodes.Contains(far)
                && _left.Where(p => !chain.Contains(p) && p.Nodes.Contains(far)).ToArray() is [var next] && IsLeg(next, far))
            {
                chain.Add(next);
                far = Far(next, far)!;
            }
            if (!IsSupply(far) || chain.Count < 2)
                continue;
            bool above = IsAbove(far);
            int down = above ? -1 : 1;
            var tap = at.Plus(40, 0);
            Line(at, tap);
            var (end, from) = (tap, node);
            foreach (var part in chain)
            {
                // Room for the name of the node between two parts.
                var near = end.Plus(0, down * (part == start ? above ? 30 : 20 : 50));
                Line(end, near);
                end = Upright(part, from, near, above);
                from = Far(part, from)!;
            }
            Supply(far, end, above);
            at = tap.Plus(chain.Max(StepPast) - 20, 0);
            Line(tap, at);
        }
        return at;
    }

    /// <summary>Parts that stand between two supplies: what loads a rail, and capacitors.</summary>
    private void BetweenSupplies()
    {
        int x = 0;
        foreach (var part in _left.Where(IsBetweenSupplies).ToArray())
        {
            // The higher voltage stands on top.
            string upper = _rails.GetValueOrDefault(part.Nodes[0]) >= _rails.GetValueOrDefault(part.Nodes[1])
                ? part.Nodes[0] : part.Nodes[1];
            string lower = Far(part, upper)!;
            var top = new Spot(x, 0);
            Line(top.Plus(0, -10), top);
            Supply(upper, top.Plus(0, -10), above: true);
            var bottom = Upright(part, upper, top, above: false);
            Supply(lower, bottom, above: false);
            x += StepPast(part) + (IsSupply(upper) && upper != Circuit.Ground ? 20 : 0);
        }
    }

    private (string Node, Spot At) Amplifier(Part part, string node, Spot at)
    {
        _left.Remove(part);
        var amp = part.Amplifier!;
        List<Part> Between(string a, string b) => [.. _left.Where(p => IsLeg(p, a) && Far(p, a) == b)];
        List<Part> Legs(string input) => IsSupply(input) ? []
            : [.. _left.Where(p => IsLeg(p, input) && Far(p, input) != amp.Output && Far(p, input) != amp.Minus
            && Far(p, input) != amp.Plus).OrderBy(p => Far(p, input) == node ? 0 : 1)];
        var feedback = amp.Minus == amp.Output ? [] : Between(amp.Minus, amp.Output);
        var positive = Between(amp.Plus, amp.Output);
        // If the signal's own node is an input, what else hangs on it goes on from there and is no leg of this op amp.
        // What a follower drives goes on from its output; only what comes from the signal stands ahead of it.
        List<Part> minusLegs = amp.Minus == node ? [] : amp.Minus == amp.Output
            ? [.. Legs(amp.Minus).Where(p => Far(p, amp.Minus) == node)] : Legs(amp.Minus);
        var plusLegs = amp.Plus == node ? [] : Legs(amp.Plus);
        bool intoMinus = amp.Minus == node || amp.Plus != node && minusLegs.Any(p => Far(p, amp.Minus) == node);

        // The signal goes straight into its input; rails that other legs come from have their names at the left of them.
        int leg = LegOf(minusLegs.Concat(plusLegs));
        int names = minusLegs.Select(p => Far(p, amp.Minus)!).Concat(plusLegs.Select(p => Far(p, amp.Plus)!))
            .Where(n => n != node && _rails.ContainsKey(n))
            .Concat(_rails.Keys.Where(r => r == amp.Plus || r == amp.Minus))
                .Select(n => Schematic.Words.Width(n, WordsKind.Rail) + 20).DefaultIfEmpty(0).Max();
        int aside = Math.Max(names, minusLegs.Count + plusLegs.Count > 1 ? 60 : 0);
        // Between a leg above and one that hangs, the plus input's node has its words on its own wire.
        int words = amp.Minus == amp.Output && minusLegs.Count > 0 ? (NodeWords.Width(amp.Plus) + 29) / 10 * 10 : 0;
        int bus = (at.X + 30 + aside + leg + 9) / 10 * 10, edge = bus
            + Math.Max(60, words), output = Math.Max(edge + 120, bus + LegOf(feedback.Concat(positive)));
        // What falls from the output passes the words of the op amp.
        if (positive.Count > 0)
            output = Math.Max(output, bus + (140 + PartWords.Width(part) + 19) / 20 * 20);
        int minus = intoMinus ? at.Y : at.Y - 60, plus = minus + 60, middle = minus + 30;
        var place = new AmplifierPlace(node, at, bus, leg, positive.Count > 0);
        var placed = new PlacedPart(part, new(edge + 40, middle), 0);
        _placed.Add(placed);
        SupplyPin(amp.PositiveRail, placed.Terminals[3], above: true);
        SupplyPin(amp.NegativeRail, placed.Terminals[4], above: false);

        // Minus: the bus rises from the input to the highest leg or feedback part.
        Line(new(bus, minus), new(edge, minus));
        Inputs(place, amp.Minus, minusLegs, minus, up: true);
        int highest = minus - 90 - (minusLegs.Count > 1 ? 10 : 0);
        bool direct = amp.Minus == amp.Output;
        for (int k = 0; k < feedback.Count || direct && k == 0; k++)
        {
            var from = new Spot(bus, highest - Row * k);
            if (feedback.Count > k)
                Level(feedback[k], amp.Minus, from, output - bus);
            else
                Line(from, new(output, from.Y));
            Line(new(bus, minus), from);
            Line(new(output, middle), new(output, from.Y));
        }

        // Plus: the bus falls.
        Line(new(bus, plus), new(edge, plus));
        Inputs(place, amp.Plus, plusLegs, plus, up: false);
        for (int k = 0; k < positive.Count; k++)
        {
            var from = new Spot(bus, plus + 100 + Row * k);
            Level(positive[k], amp.Plus, from, output - bus);
            Line(new(bus, plus), from);
            Line(new(output, middle), new(output, from.Y));
        }

        Line(placed.Terminals[2], new(output, middle));
        return (amp.Output, Named(amp.Output, new(output, middle)));
    }

    /// <summary>Where an amplifier's inputs are placed.</summary>
    /// <param name="Node">The signal's node.</param>
    /// <param name="At">Where the signal arrives.</param>
    /// <param name="Bus">Where the wires of both inputs stand.</param>
    /// <param name="Leg">How long a leg is.</param>
    /// <param name="FallsBack">Whether parts lead from the output to the plus input.</param>
    private sealed record AmplifierPlace(string Node, Spot At, int Bus, int Leg, bool FallsBack);

    /// <summary>What leads into an input: legs a row apart from the bus of its node, those to ground hanging from that of the lower
    /// one.</summary>
    private void Inputs(AmplifierPlace place, string input, List<Part> legs, int y, bool up)
    {
        var (node, at, bus, leg, fallsBack) = place;
        if (input == node)
        {
            Line(at, new(bus, at.Y));
            Line(new(bus, at.Y), new(bus, y));
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
                Line(new(bus, y), end);
            if (far == node && row == 0 && start.Y == at.Y)
                Line(at, start);
            else if (IsSupply(far))
                _flags.Add(new Flag(far, start, far == Circuit.Ground ? FlagLook.Ground : FlagLook.SupplyAtLeft));
            row++;
        }
        // Positive feedback falls from the same bus: what hangs then keeps to the left of it, below the legs.
        int beside = !up && fallsBack ? 1 : 0;
        int low = y + Row * (beside > 0 ? row : Math.Max(0, row - 1));
        if (hanging.Length > 0 && low > y)
            Line(new(bus, y), new(bus, low));
        for (int k = 0; k < hanging.Length; k++)
        {
            var tap = new Spot(bus - Step * (k + beside), low);
            if (k + beside > 0)
                Line(tap, tap.Plus(Step, 0));
            // Below the words of the leg above it.
            var near = tap.Plus(0, row > 0 && beside == 0 ? 40 : 20);
            Line(tap, near);
            Supply(Circuit.Ground, Upright(hanging[k], input, near, above: false, wordsAtLeft: true), above: false);
        }
        if (row == 0 && hanging.Length == 0 && IsSupply(input))
        {
            if (input == Circuit.Ground)
                Line(new(bus, y), new(bus, y + 20));
            _flags.Add(new Flag(input, new(bus, input == Circuit.Ground ? y + 20 : y), input == Circuit.Ground
                ? FlagLook.Ground : FlagLook.SupplyAtLeft));
        }
    }
}
