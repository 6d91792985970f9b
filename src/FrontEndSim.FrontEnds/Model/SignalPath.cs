using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Where a node's signal comes from, by the wiring alone: through any part, but not through ground or a rail.</summary>
internal static class SignalPath
{
    /// <summary>Whether a node is joined, by other parts than gates, with both the input and the output of one gate that
    /// inverts.</summary>
    public static bool Oscillates(FrontEnd frontEnd, string node)
    {
        GatePart[] inverting = [.. frontEnd.AllParts.OfType<GatePart>().Where(g => g.Inverts)];
        return inverting.Length > 0 && Upstream(frontEnd, node, p => p is not GatePart).ToHashSet() is var joined
            && inverting.Any(g => joined.Contains(g.Input) && joined.Contains(g.Output));
    }

    /// <summary>The nodes that the signal at <paramref name="node"/> may come from, nearest first, the node itself included.</summary>
    public static IReadOnlyList<string> Upstream(FrontEnd frontEnd, string node) => Upstream(frontEnd, node, _ => true);

    private static List<string> Upstream(FrontEnd frontEnd, string node, Func<Part, bool> through)
    {
        var stops = frontEnd.Rails.Select(r => r.Name).Append(Circuit.Ground).ToHashSet();
        var neighbours = frontEnd.AllParts.Where(through)
            .SelectMany(p => p.SignalNodes.Where(n => !stops.Contains(n)).SelectMany(n => p.SignalNodes.Select(other => (n, other))))
            .Where(pair => !stops.Contains(pair.other)).ToLookup(pair => pair.n, pair => pair.other);
        List<string> found = [node];
        var seen = new HashSet<string> { node };
        for (int k = 0; k < found.Count; k++)
            found.AddRange(neighbours[found[k]].Where(seen.Add));
        return found;
    }

    /// <summary>The sensor that a pin reads: the one that it is said to map, else the one that its nearest stage maps, else the
    /// nearest while it is read; null if none reaches it.</summary>
    public static Sensor? SensorOf(FrontEnd frontEnd, Pin pin)
    {
        if (pin.Wanted is { } wanted)
            return frontEnd.Sensors.FirstOrDefault(s => s.Name == wanted.Sensor);
        foreach (string node in Upstream(frontEnd.Selecting(pin), pin.Node))
        {
            if (frontEnd.Stages.FirstOrDefault(s => s.Mapping is not null && s.Ports[^1].Node == node) is { Mapping.Sensor: var mapped })
                return frontEnd.Sensors.FirstOrDefault(s => s.Name == mapped);
            if (frontEnd.Sensors.FirstOrDefault(s => s.Nodes.Contains(node)) is { } sensor)
                return sensor;
        }
        return null;
    }

    /// <summary>The sensor nearest to a node, or null if none reaches it.</summary>
    public static Sensor? SensorOf(FrontEnd frontEnd, string node) => Upstream(frontEnd, node)
        .Select(n => frontEnd.Sensors.FirstOrDefault(s => s.Nodes.Contains(n))).FirstOrDefault(s => s is not null);

    /// <summary>The mapping of a sensor that is wanted at a pin while it is read; null for none.</summary>
    public static WantedMapping? MappingOf(FrontEnd frontEnd, Pin pin, string sensor) =>
        pin.Wanted?.Sensor == sensor ? pin.Wanted : MappingOf(frontEnd.Selecting(pin), pin.Node, sensor);

    /// <summary>
    /// The mapping of a sensor that is wanted at a node: by a pin there, or by the stage nearest to it; null for none. What a pin wants is
    /// in
    /// the sensor's unit, what a stage wants is of the sensor's voltage.
    /// </summary>
    public static WantedMapping? MappingOf(FrontEnd frontEnd, string node, string sensor) =>
        frontEnd.Pins.FirstOrDefault(p => p.Node == node && p.Wanted?.Sensor == sensor)?.Wanted ?? OfStage(frontEnd, node, sensor);

    private static WantedMapping? OfStage(FrontEnd frontEnd, string node, string sensor) => Upstream(frontEnd, node)
        .Select(n => frontEnd.Stages.FirstOrDefault(s => s.Mapping?.Sensor == sensor && s.Ports[^1].Node == n)?.Mapping)
        .FirstOrDefault(m => m is not null) is { } wanted
            ? frontEnd.Sensors.FirstOrDefault(s => s.Name == sensor)?.Law is { } law
                ? wanted with { Law = law, Celsius = frontEnd.Celsius } : wanted
            : null;
}
