using FrontEndSim.FrontEnds.Parts;


namespace FrontEndSim.Reporting.Schematic;

/// <summary>Places what has more than two ends and is no op amp, and what hangs on the output in chains.</summary>
internal sealed partial class Layout
{
    private PotentiometerPart? NextPotentiometer(string node) => IsSupply(node) ? null
        : _left.OfType<PotentiometerPart>().FirstOrDefault(p => !IsTwoEnded(p) && p.Nodes.Contains(node));

    /// <summary>A part with an input, an output and up to two supplies, in this order, whose input is at a node.</summary>
    private Part? NextBlock(string node) => _left.FirstOrDefault(p => p is not (OpAmpPart or PotentiometerPart) && !IsTwoEnded(p) && p.Nodes[0] == node);

    /// <summary>The track hangs upright from the signal and the wiper leads on; or the signal is the wiper's and the track stands beside it.</summary>
    private (string Node, Spot At) Potentiometer(PotentiometerPart part, string node, Spot at)
    {
        _left.Remove(part);
        if (part.Wiper == node)
        {
            // Below the signal's wire, with room for the name of its upper end.
            var corner = at.Plus(20, 90);
            var middle = corner.Plus(40, 0);
            _wires.Add(new Wire(at, at.Plus(20, 0)));
            _wires.Add(new Wire(at.Plus(20, 0), corner));
            _wires.Add(new Wire(corner, corner.Plus(20, 0)));
            var (above, below) = (middle.Plus(0, -30), middle.Plus(0, 30));
            // The higher voltage stands on top.
            bool turned = _rails.GetValueOrDefault(part.To) > _rails.GetValueOrDefault(part.From);
            _placed.Add(new PlacedPart(part, middle, turned ? 270 : 90, turned ? [below, above, corner.Plus(20, 0)] : [above, below, corner.Plus(20, 0)]));
            Supply(turned ? part.To : part.From, above, above: true);
            Supply(turned ? part.From : part.To, below, above: false);
            var past = at.Plus(20 + 40 + StepPast(part), 0);
            _wires.Add(new Wire(at.Plus(20, 0), past));
            return (node, past);
        }
        bool first = part.From == node;
        // Words stand at the left of the track.
        var top = at.Plus(StepPast(part) - 30, 0);
        _wires.Add(new Wire(at, top));
        var near = top.Plus(0, 20);
        _wires.Add(new Wire(top, near));
        var (far, wiper) = (near.Plus(0, 60), near.Plus(20, 30));
        _placed.Add(new PlacedPart(part, near.Plus(0, 30), first ? 90 : 270, first ? [near, far, wiper] : [far, near, wiper], WordsAtLeft: true));
        Supply(first ? part.To : part.From, far, above: false);
        return (part.Wiper, Named(part.Wiper, wiper));
    }

    private (string Node, Spot At) Block(Part part, string node, Spot at)
    {
        _left.Remove(part);
        int half = Symbols.HalfWidth(part) + 10;
        var input = at.Plus(40, 0);
        var centre = input.Plus(half, 0);
        var output = centre.Plus(half, 0);
        Spot[] supplies = [centre.Plus(0, -40), centre.Plus(0, 40)];
        _placed.Add(new PlacedPart(part, centre, 0, [input, output, .. supplies.Take(part.Nodes.Length - 2)]));
        _wires.Add(new Wire(at, input));
        for (int k = 2; k < part.Nodes.Length; k++)
            SupplyPin(part.Nodes[k], supplies[k - 2], above: k == 2);
        // The value stands below the box, to the right of the lower supply.
        var past = output.Plus(Math.Max(0, CharacterWidth * part.ValueText.Length - half), 0);
        _wires.Add(new Wire(output, past));
        return (part.Nodes[1], Named(part.Nodes[1], past));
    }

    /// <summary>Draws what leads from a node through two or three parts to ground or a rail and nowhere else: an indicator and its resistor.</summary>
    private Spot Chains(string node, Spot at)
    {
        const int joint = 44; // room for the name of the node between two parts
        foreach (var start in _left.Where(p => IsLeg(p, node)).ToArray())
        {
            List<Part> chain = [start];
            string far = Far(start, node)!;
            while (!IsSupply(far) && chain.Count < 3 && _left.Where(p => !chain.Contains(p) && p.Nodes.Contains(far)).ToArray() is [var next] && IsLeg(next, far))
            {
                chain.Add(next);
                far = Far(next, far)!;
            }
            if (!IsSupply(far))
                continue;
            bool above = _rails.GetValueOrDefault(far) > 0;
            int down = above ? -1 : 1;
            var tap = at.Plus(40, 0);
            _wires.Add(new Wire(at, tap));
            var (end, from) = (tap, node);
            foreach (var part in chain)
            {
                var near = end.Plus(0, down * (part == start ? above ? 30 : 20 : joint));
                _wires.Add(new Wire(end, near));
                if (part != start)
                    _flags.Add(new Flag(from, end, above ? FlagLook.Tag : FlagLook.TagBelow));
                end = Upright(part, from, near, above);
                from = Far(part, from)!;
            }
            Supply(far, end, above);
            at = tap.Plus(chain.Max(StepPast) - 20, 0);
            _wires.Add(new Wire(tap, at));
        }
        return at;
    }
}
