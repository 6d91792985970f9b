namespace FrontEndSim.Engine.Results;

/// <summary>The circuit at rest, or at one instant of a transient. Immutable.</summary>
/// <param name="Nodes">Voltage of each node against ground, V.</param>
/// <param name="Parts">Reading of each part by name.</param>
/// <param name="Audit">How well the solution satisfies the equations, and the work it took.</param>
public sealed record OperatingPoint(
    IReadOnlyDictionary<string, double> Nodes, IReadOnlyDictionary<string, ElementReading> Parts, Audit Audit)
{
    /// <summary>Voltage of a node against ground, V: 0 for ground itself.</summary>
    /// <param name="node">Its name.</param>
    /// <exception cref="KeyNotFoundException">There is no such node.</exception>
    public double Voltage(string node) => node == Circuit.Ground ? 0 : Nodes[node];

    /// <summary>The unknowns, for circuits of the same structure to start from; null where they were not kept.</summary>
    internal Foothold? Foothold { get; init; }
}

/// <summary>What a meter would read at a part.</summary>
/// <param name="Volts">v(From) − v(To); an op amp's output voltage.</param>
/// <param name="Amps">Current from From through the part to To; into an op amp's output pin.</param>
/// <param name="Watts">Power that the part takes in; negative for a source that delivers.</param>
public readonly record struct ElementReading(double Volts, double Amps, double Watts);

/// <summary>Evidence that a solution satisfies the equations, and the work that it took.</summary>
public sealed record Audit
{
    /// <summary>The largest sum of currents left over at any node, A.</summary>
    public double KirchhoffAmps { get; init; }

    /// <summary>The largest current through any part, A (transients: at any time, that into capacitances apart).</summary>
    public double LargestAmps { get; init; }

    /// <summary>The current left over against the largest one that flows, or against a microampere where less flows.</summary>
    public double KirchhoffShare => KirchhoffAmps / Math.Max(LargestAmps, 1e-6);

    /// <summary>
    /// The largest <see cref="KirchhoffShare"/> of a result that may be relied on: a thousandth, a tenth of what the parts of a
    /// front end are known to.
    /// </summary>
    public const double KirchhoffLimit = 1e-3;

    /// <summary>The largest <see cref="EnergyImbalance"/> of a transient that may be relied on.</summary>
    public const double EnergyLimit = 1e-2;

    /// <summary>
    /// Whether the solution satisfies its own equations within <see cref="KirchhoffLimit"/> and <see cref="EnergyLimit"/>; where
    /// it does not, nothing that was read from it is known.
    /// </summary>
    public bool IsWithinLimits => KirchhoffShare <= KirchhoffLimit && EnergyImbalance <= EnergyLimit;

    /// <summary>The node where it was left over.</summary>
    public string? KirchhoffNode { get; init; }

    /// <summary>
    /// Transients: |energy from sources − dissipated − stored| over the gross energy that passed from part to part, either way
    /// (0 where no energy flows).
    /// </summary>
    public double EnergyImbalance { get; init; }

    /// <summary>Transients: time steps taken.</summary>
    public int StepsTaken { get; init; }

    /// <summary>Transients: time steps refused and repeated smaller.</summary>
    public int StepsRefused { get; init; }

    /// <summary>Transients: periods of repeating sources that were not solved, since the one before had ended where it began or they
    /// drifted on as it did.</summary>
    public int PeriodsRepeated { get; init; }

    /// <summary>
    /// Transients so long that recorded steps were merged, or that periods that drift were passed over: how far the traces may lie from
    /// what was computed, over the largest value of each; 0 where none were.
    /// </summary>
    public double DrawingShare { get; init; }

    /// <summary>Newton iterations in all.</summary>
    public long NewtonIterations { get; init; }

    /// <summary>How the solution was found, in words.</summary>
    public string Method { get; init; } = "";
}
