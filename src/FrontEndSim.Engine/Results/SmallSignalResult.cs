using System.Numerics;

namespace FrontEndSim.Engine.Results;

/// <summary>
/// The circuit's response to a small change of one source about its operating point, and its noise, against frequency.
/// Immutable.
/// </summary>
public sealed class SmallSignalResult
{
    private readonly Dictionary<string, int> _nodes;
    private readonly Complex[][] _response;
    private readonly Func<string, NoiseSpectrum> _noise;

    internal SmallSignalResult(string source, double[] hertz, OperatingPoint point, Dictionary<string, int> nodes, Complex[][] response,
        Func<string, NoiseSpectrum> noise) =>
        (Source, Hertz, OperatingPoint, _nodes, _response, _noise) = (source, hertz, point, nodes, response, noise);

    /// <summary>The source that is changed.</summary>
    public string Source { get; }

    /// <summary>The frequencies, Hz.</summary>
    public IReadOnlyList<double> Hertz { get; }

    /// <summary>Where the circuit rests.</summary>
    public OperatingPoint OperatingPoint { get; }

    /// <summary>Voltage at a node for one unit of the source, V/V or V/A, at each frequency; its phase is the angle.</summary>
    /// <exception cref="ArgumentException">The circuit has no such node.</exception>
    public Complex[] Response(string node)
    {
        if (!_nodes.TryGetValue(node, out int row))
            throw new ArgumentException($"The circuit has no node named {node}.", nameof(node));
        return [.. _response.Select(x => x[row])];
    }

    /// <summary>The noise at a node from every resistance, junction and op amp.</summary>
    /// <exception cref="ArgumentException">The circuit has no such node.</exception>
    public NoiseSpectrum Noise(string node) => _nodes.ContainsKey(node)
        ? _noise(node)
        : throw new ArgumentException($"The circuit has no node named {node}.", nameof(node));
}

/// <summary>Noise at one node against frequency.</summary>
/// <param name="Hertz">The frequencies, Hz, ascending.</param>
/// <param name="Density">Voltage density in all, V/√Hz, at each frequency.</param>
/// <param name="ByPart">Each part's share of the power density, V²/Hz, at each frequency.</param>
public sealed record NoiseSpectrum(
    IReadOnlyList<double> Hertz, IReadOnlyList<double> Density, IReadOnlyDictionary<string, IReadOnlyList<double>> ByPart)
{
    /// <summary>The root-mean-square voltage over the band of the frequencies given, V (trapezoidal in frequency).</summary>
    public double RmsVolts() => Rms(k => Density[k] * Density[k]);

    /// <summary>The same of what a part makes of it, V; the squares of all parts add up to that of the whole.</summary>
    /// <param name="part">Name of a part in <see cref="ByPart"/>.</param>
    /// <exception cref="KeyNotFoundException">It makes no noise.</exception>
    public double RmsVolts(string part)
    {
        var power = ByPart[part];
        return Rms(k => power[k]);
    }

    private double Rms(Func<int, double> power)
    {
        double sum = 0;
        for (int k = 1; k < Hertz.Count; k++)
            sum += 0.5 * (power(k) + power(k - 1)) * (Hertz[k] - Hertz[k - 1]);
        return Math.Sqrt(sum);
    }
}
