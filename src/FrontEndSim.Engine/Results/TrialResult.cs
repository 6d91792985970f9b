namespace FrontEndSim.Engine.Results;

/// <summary>A number of a part that varies from trial to trial: the resistance of "R1", for example.</summary>
/// <param name="Element">Part name.</param>
/// <param name="Number">Which of the part's numbers.</param>
public readonly record struct VariedNumber(string Element, Parameter Number);

/// <summary>Gives the varied numbers of one trial, in SI units, in the order in which they were named.</summary>
/// <param name="trial">Index of the trial, from zero; the numbers must depend on nothing else.</param>
/// <param name="numbers">Holds the nominal values; write the trial's values over them.</param>
public delegate void TrialNumbers(int trial, Span<double> numbers);

/// <summary>The voltages of chosen nodes for each trial and each value of a sweep. Immutable.</summary>
public sealed class TrialResult
{
    private readonly double[] _volts;
    private readonly int _points;
    private readonly string[] _nodes;

    internal TrialResult(double[] volts, int trials, int points, string[] nodes) =>
        (_volts, Count, _points, _nodes) = (volts, trials, points, nodes);

    /// <summary>How many trials.</summary>
    public int Count { get; }

    /// <summary>The voltages of a node over the sweep in one trial, V.</summary>
    /// <param name="trial">From zero.</param>
    /// <param name="node">One of the nodes asked for.</param>
    /// <exception cref="ArgumentException">The node was not asked for.</exception>
    public ReadOnlySpan<double> Voltage(int trial, string node)
    {
        int place = Array.IndexOf(_nodes, node);
        if (place < 0)
            throw new ArgumentException($"The voltages of {node} were not asked for.", nameof(node));
        ArgumentOutOfRangeException.ThrowIfNegative(trial);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(trial, Count);
        return _volts.AsSpan((trial * _nodes.Length + place) * _points, _points);
    }
}
