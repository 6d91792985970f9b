namespace FrontEndSim.Engine.Circuits;

/// <summary>
/// A circuit is numbers in arrays and a function that fills a matrix; this is the list of parts that both come from.
/// Immutable.
/// </summary>
public sealed class Circuit
{
    /// <summary>The node that all voltages are measured against, 0 V.</summary>
    public const string Ground = "GND";

    /// <summary>A circuit of the given parts at a temperature.</summary>
    /// <param name="elements">The parts, in any order.</param>
    /// <param name="celsius">Temperature of all parts, °C.</param>
    public Circuit(IEnumerable<Element> elements, double celsius = 25)
    {
        Elements = [.. elements];
        Celsius = celsius;
        Problems = CircuitCheck.Find(this);
    }

    /// <summary>The parts.</summary>
    public ImmutableArray<Element> Elements { get; }

    /// <summary>Temperature of all parts, °C.</summary>
    public double Celsius { get; }

    /// <summary>What stands in the way of solving this circuit; empty if nothing does.</summary>
    public ImmutableArray<CircuitProblem> Problems { get; }

    /// <summary>The circuit made ready to solve: the equations' structure, worked out once.</summary>
    /// <param name="settings">Accuracy and limits; null for the defaults.</param>
    /// <exception cref="CircuitException">The circuit has <see cref="Problems"/>.</exception>
    public CompiledCircuit Compile(SolverSettings? settings = null) =>
        Problems.IsEmpty ? new CompiledCircuit(this, settings ?? new SolverSettings()) : throw new CircuitException(Problems);
}

/// <summary>Something that makes a circuit unsolvable, found before solving.</summary>
/// <param name="Message">A sentence for the user.</param>
/// <param name="Element">The part concerned, if one is.</param>
/// <param name="Node">The node concerned, if one is.</param>
public sealed record CircuitProblem(string Message, string? Element = null, string? Node = null);

/// <summary>The circuit cannot be solved as it is; nothing was computed.</summary>
/// <param name="problems">What stands in the way.</param>
public sealed class CircuitException(ImmutableArray<CircuitProblem> problems)
    : Exception(string.Join(Environment.NewLine, problems.Select(p => p.Message)))
{
    /// <summary>What stands in the way, at least one.</summary>
    public ImmutableArray<CircuitProblem> Problems { get; } = problems;
}

/// <summary>No solution was found within the limits set.</summary>
/// <param name="message">What was tried, where it failed and what to try.</param>
/// <param name="node">The node that settled least, if known.</param>
/// <param name="element">A part at that node, if known.</param>
public sealed class SolveException(string message, string? node = null, string? element = null) : Exception(message)
{
    /// <summary>The node that settled least, or null.</summary>
    public string? Node { get; } = node;

    /// <summary>A part at that node, or null.</summary>
    public string? Element { get; } = element;

    /// <summary>Whether the circuit was followed in time, its sources standing still, and does not come to rest: it has no operating point
    /// that hardware would stay at.</summary>
    public bool IsRestless { get; init; }
}
