namespace FrontEndSim.Engine.Results;

/// <summary>The circuit at rest for a series of values of one source. Immutable.</summary>
public sealed class SweepResult
{
    private readonly Dictionary<string, int> _nodes;
    private readonly double[][] _solutions;
    private readonly Lazy<IReadOnlyList<OperatingPoint>> _points;
    private readonly Lazy<Audit> _audit;

    internal SweepResult(string source, double[] values, double[][] solutions, Dictionary<string, int> nodes, Audit audit,
        Func<IReadOnlyList<OperatingPoint>> points)
    {
        (Source, Values, _solutions, _nodes) = (source, values, solutions, nodes);
        _points = new Lazy<IReadOnlyList<OperatingPoint>>(points);
        _audit = new Lazy<Audit>(() => audit with { LargestAmps = _points.Value.Max(p => p.Audit.LargestAmps) });
    }

    /// <summary>Name of the source that was swept.</summary>
    public string Source { get; }

    /// <summary>Its values, V or A, in order, with the points that refining added.</summary>
    public IReadOnlyList<double> Values { get; }

    /// <summary>The worst residual of all points, and the work in all.</summary>
    public Audit Audit => _audit.Value;

    /// <summary>A sweep of one point as that of another source, which stands at a value there: the same solution.</summary>
    /// <param name="source">Name of the other source.</param>
    /// <param name="value">Its value, V or A.</param>
    /// <exception cref="InvalidOperationException">It has more points than one.</exception>
    public SweepResult As(string source, double value) => Values.Count == 1
        ? new SweepResult(source, [value], _solutions, _nodes, Audit, () => Points)
        : throw new InvalidOperationException("Only a single point is one of every source.");

    /// <summary>Every point in full; worked out when first asked for.</summary>
    public IReadOnlyList<OperatingPoint> Points => _points.Value;

    /// <summary>The voltage of a node at each of <see cref="Values"/>, V.</summary>
    /// <exception cref="ArgumentException">The circuit has no such node.</exception>
    public double[] Voltage(string node)
    {
        if (!_nodes.TryGetValue(node, out int row))
            throw new ArgumentException($"The circuit has no node named {node}.", nameof(node));
        return [.. _solutions.Select(x => x[row])];
    }
}
