using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>The noise of one reading of a pin: at its sampling capacitor, if it has one, else at the pin; sensor at mid-span.</summary>
/// <param name="RmsVolts">Root mean square over the whole band, V. Sampling folds all of it into the reading.</param>
/// <param name="Parts">What each part makes of it, the largest first.</param>
public sealed record PinNoise(double RmsVolts, ImmutableArray<NoiseShare> Parts)
{
    /// <summary>The band, Hz: from below any reading's rate to far above the bandwidth of any pin behind a guard.</summary>
    public const double LowestHertz = 0.1, HighestHertz = 1e9;

    // Steps fine enough for the trapezoidal rule to hold a pole's noise to a thousandth.
    private const int PointsPerDecade = 40;

    /// <summary>Adds up the noise of every resistance, junction and op amp.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="value">What it measures, in its own unit; null for mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    internal static PinNoise Of(SolvedFrontEnd solved, Pin pin, string sensor, double? value, CancellationToken cancel = default)
    {
        string node = pin.Sampling is null ? pin.Node : pin.Name + ".held";
        ImmutableArray<Element> sampler = pin.Sampling is not { } sampling ? [] :
        [
            new Resistor(pin.Name + ".sampling switch", pin.Node, node, sampling.Ohms),
            new Capacitor(pin.Name + ".sampling capacitor", node, Circuit.Ground, sampling.Farads),
        ];
        int points = PointsPerDecade * (int)Math.Round(Math.Log10(HighestHertz / LowestHertz)) + 1;
        double[] hertz = [.. Enumerable.Range(0, points).Select(k => LowestHertz * Math.Pow(10, (double)k / PointsPerDecade))];
        var spectrum = solved.Compiled(value is { } v ? SolvedFrontEnd.At(sensor, v) : null, sampler)
            .SolveSmallSignal(sensor, hertz, cancel).Noise(node);
        var closed = solved.FrontEnd.ClosedParts();
        return new(spectrum.RmsVolts(), [.. spectrum.ByPart.Keys.GroupBy(p => closed(p)?.Name ?? p)
            .Select(g => new NoiseShare(g.Key, Math.Sqrt(g.Sum(p => Math.Pow(spectrum.RmsVolts(p), 2)))))
            .Where(s => s.RmsVolts > 0)
            .OrderByDescending(s => s.RmsVolts).ThenBy(s => s.Part, StringComparer.Ordinal)]);
    }
}

/// <summary>What a part makes of the noise.</summary>
/// <param name="Part">Name of the part, or of what stands for a pin's switch or clamp.</param>
/// <param name="RmsVolts">Its root mean square, V; the squares of all add up to that of the whole.</param>
public sealed record NoiseShare(string Part, double RmsVolts);
