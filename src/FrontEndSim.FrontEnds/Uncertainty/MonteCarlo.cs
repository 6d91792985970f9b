using MathNet.Numerics.Statistics;

namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>Settings of a Monte Carlo propagation.</summary>
public sealed record MonteCarloSettings
{
    /// <summary>The same seed gives the same result, bit for bit, on any number of cores.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Probability that the coverage interval holds, above 0 and below 1.</summary>
    public double Probability { get; init; } = 0.95;

    /// <summary>Trials in one batch (10^4 for 95 %: JCGM 101:2008, 7.9.4 b).</summary>
    public int BatchDraws { get; init; } = 10_000;

    /// <summary>Batches after which the run ends even if it has not settled, at least 2.</summary>
    public int MostBatches { get; init; } = 20;

    /// <summary>Significant digits of the standard uncertainty that must have settled (JCGM 101:2008, 7.9.2).</summary>
    public int SettledDigits { get; init; } = 2;
}

/// <summary>An output quantity's distribution, by trials (JCGM 101:2008, clause 7).</summary>
/// <param name="Mean">Average of the trials.</param>
/// <param name="StandardUncertainty">Standard deviation of the trials.</param>
/// <param name="Interval">The interval that leaves the same probability on both sides.</param>
/// <param name="Shortest">The shortest interval with the same coverage.</param>
/// <param name="Probability">The coverage.</param>
/// <param name="Trials">How many trials.</param>
/// <param name="Spread">Twice the standard deviation of the average over batches of the four results above, the largest: how far they may
/// be off.</param>
/// <param name="HasSettled">Whether that is below half of the last digit wanted of the standard uncertainty.</param>
public sealed record MonteCarloResult(double Mean, double StandardUncertainty, CoverageInterval Interval, CoverageInterval Shortest,
    double Probability, int Trials, double Spread, bool HasSettled);

/// <summary>An interval that holds a quantity with a stated probability, both ends included.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end, not below the lower.</param>
public readonly record struct CoverageInterval(double Low, double High)
{
    /// <summary>Half of the width.</summary>
    public double HalfWidth => (High - Low) / 2;

    /// <summary>The probabilistically symmetric interval (JCGM 101:2008, 7.7.2).</summary>
    internal static CoverageInterval Symmetric(double[] sorted, double probability)
    {
        int inside = Inside(sorted, probability);
        int low = (sorted.Length - inside) / 2;
        return new(sorted[low], sorted[Math.Min(sorted.Length - 1, low + inside)]);
    }

    /// <summary>The shortest interval (JCGM 101:2008, 7.7.4).</summary>
    internal static CoverageInterval ShortestOf(double[] sorted, double probability)
    {
        int inside = Inside(sorted, probability);
        var best = new CoverageInterval(sorted[0], sorted[^1]);
        for (int low = 0; low + inside < sorted.Length; low++)
        {
            if (sorted[low + inside] - sorted[low] < best.High - best.Low)
                best = new(sorted[low], sorted[low + inside]);
        }
        return best;
    }

    private static int Inside(double[] sorted, double probability) => (int)Math.Floor(probability * sorted.Length + 0.5);
}

/// <summary>
/// Propagation of distributions by a Monte Carlo method, in batches until the results have settled (JCGM 101:2008, 7.9).
/// </summary>
public static class MonteCarlo
{
    /// <summary>Draws the input quantities, evaluates the function, and describes each output.</summary>
    /// <param name="function">The measurement function.</param>
    /// <param name="inputs">Its input quantities, in its order; they do not depend on each other.</param>
    /// <param name="settings">Seed, coverage and effort; null for the defaults.</param>
    /// <param name="progress">Gets the fraction of the largest effort that is done; may be null.</param>
    /// <param name="cancel">Stops between batches.</param>
    /// <returns>One for each output of the function.</returns>
    public static ImmutableArray<MonteCarloResult> Propagate(MeasurementFunction function, IReadOnlyList<InputQuantity> inputs,
        MonteCarloSettings? settings = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        var s = settings ?? new MonteCarloSettings();
        Drawn[]? drawn = null; // by output
        for (int batch = 0; ; batch++)
        {
            cancel.ThrowIfCancellationRequested();
            int first = batch * s.BatchDraws;
            double[][] outputs = function(s.BatchDraws, (draw, values) =>
            {
                for (int k = 0; k < inputs.Count; k++)
                    values[k] = inputs[k].Distribution.Quantile(DrawUniform.Value(s.Seed, first + draw, k));
            });
            drawn ??= [.. outputs[0].Select(_ => new Drawn(s))];
            Parallel.For(0, drawn.Length, output => drawn[output].Add([.. outputs.Select(o => o[output])]));
            progress?.Report((batch + 1.0) / s.MostBatches);
            if (batch > 0 && (batch + 1 >= s.MostBatches || drawn.All(d => d.HasSettled)))
                return [.. drawn.Select(d => d.Describe())];
        }
    }

    /// <summary>What was drawn of one output so far.</summary>
    private sealed class Drawn(MonteCarloSettings settings)
    {
        private readonly List<double> _means = [], _deviations = [], _lows = [], _highs = []; // of the batches
        private double[] _all = []; // sorted
        private double _deviation;

        /// <summary>How far the results may be off.</summary>
        private double Spread => new[] { _means, _deviations, _lows, _highs }.Max(of => ArrayStatistics.StandardDeviation(of.ToArray()))
            * 2 / Math.Sqrt(_means.Count);

        public bool HasSettled => Spread <= Tolerance(_deviation, settings.SettledDigits);

        public void Add(double[] batch)
        {
            Array.Sort(batch);
            var interval = CoverageInterval.Symmetric(batch, settings.Probability);
            _means.Add(batch.Average());
            _deviations.Add(ArrayStatistics.StandardDeviation(batch));
            _lows.Add(interval.Low);
            _highs.Add(interval.High);
            _all = Merged(_all, batch);
            _deviation = ArrayStatistics.StandardDeviation(_all);
        }

        public MonteCarloResult Describe() => new(_all.Average(), _deviation, CoverageInterval.Symmetric(_all, settings.Probability),
            CoverageInterval.ShortestOf(_all, settings.Probability), settings.Probability, _all.Length, Spread, HasSettled);
    }

    /// <summary>Two sorted series as one.</summary>
    private static double[] Merged(double[] a, double[] b)
    {
        var all = new double[a.Length + b.Length];
        for (int i = 0, j = 0; i + j < all.Length;)
            all[i + j] = j == b.Length || (i < a.Length && a[i] <= b[j]) ? a[i++] : b[j++];
        return all;
    }

    /// <summary>Numerical tolerance δ: half of the last significant digit (JCGM 101:2008, 7.9.2).</summary>
    private static double Tolerance(double deviation, int digits) =>
        deviation == 0 ? 0 : 0.5 * Math.Pow(10, Math.Floor(Math.Log10(deviation)) - (digits - 1));
}
