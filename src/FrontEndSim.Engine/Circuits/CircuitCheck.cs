namespace FrontEndSim.Engine.Circuits;

/// <summary>Finds what makes a circuit unsolvable, before solving: numbers that cannot be, loops of sources, floating nodes.</summary>
internal static class CircuitCheck
{
    public static ImmutableArray<CircuitProblem> Find(Circuit circuit)
    {
        var problems = ImmutableArray.CreateBuilder<CircuitProblem>();
        if (!(circuit.Celsius > -Constants.ZeroCelsius) || !double.IsFinite(circuit.Celsius))
            problems.Add(new($"The temperature must be a finite number above absolute zero, but is {circuit.Celsius} °C."));
        foreach (var twin in circuit.Elements.GroupBy(e => e.Name).Where(g => g.Count() > 1))
            problems.Add(new($"Two parts have the name {twin.Key}.", twin.Key));
        foreach (var element in circuit.Elements)
        {
            foreach (string problem in element.Problems())
                problems.Add(new($"{element.Name}: {problem}.", element.Name));
        }
        if (!circuit.Elements.Any(e => e.Terminals.Contains(Circuit.Ground)))
            problems.Add(new($"No part is connected to {Circuit.Ground}, so no voltage can be measured against it.", Node: Circuit.Ground));
        else
            problems.AddRange(FloatingNodes(circuit));
        problems.AddRange(RigidLoops(circuit));
        return problems.ToImmutable();
    }

    private static IEnumerable<CircuitProblem> FloatingNodes(Circuit circuit)
    {
        var joined = new DisjointSets<string>();
        foreach (var (a, b) in circuit.Elements.SelectMany(e => e.DirectPaths()))
            joined.Join(a, b);
        string ground = joined.Of(Circuit.Ground);
        return circuit.Elements.SelectMany(e => e.Terminals.Select(node => (node, e.Name)))
            .Where(t => joined.Of(t.node) != ground)
            .GroupBy(t => joined.Of(t.node))
            .Select(island =>
            {
                string[] nodes = [.. island.Select(t => t.node).Distinct().Order(StringComparer.Ordinal)];
                string some = string.Join(", ", nodes.Take(6)) + (nodes.Length > 6 ? ", …" : "");
                string who = nodes.Length == 1 ? $"Node {some} has" : $"Nodes {some} have";
                return new CircuitProblem(
                    $"{who} no way to {Circuit.Ground} for a direct current, so the voltage there is not defined; "
                    + "a resistor to ground (or a leakage) gives it one.", island.First().Name, nodes[0]);
            });
    }

    private static IEnumerable<CircuitProblem> RigidLoops(Circuit circuit)
    {
        var joined = new DisjointSets<string>();
        foreach (var element in circuit.Elements)
        {
            foreach (var (a, b) in element.RigidPaths())
            {
                if (a == b)
                    yield return new($"{element.Name} has both terminals on node {a}: it is shorted by its own wiring.", element.Name, a);
                else if (!joined.Join(a, b))
                {
                    yield return new($"{element.Name} closes a loop of ideal voltage sources (or coils without resistance) between "
                        + $"{a} and {b}; give one of them a series resistance.", element.Name, a);
                }
            }
        }
    }
}
