using MathNet.Numerics.RootFinding;

namespace FrontEndSim.Engine.Waveforms;

/// <summary>An impulse that a limiter cuts off: nowhere beyond the limit, in the direction of its peak.</summary>
/// <param name="Impulse">The impulse without the limiter.</param>
/// <param name="Limit">What is left of it at most, in the impulse's unit and with the sign of its peak.</param>
public sealed record Clipped(DoubleExponential Impulse, double Limit) : Waveform
{
    // Get-only, so that a copy cannot change them and keep the old corners.
    /// <summary>The impulse without the limiter.</summary>
    public DoubleExponential Impulse { get; } = Impulse;

    /// <summary>What is left of it at most.</summary>
    public double Limit { get; } = Limit;

    private readonly (double From, double To) _flat = FlatPart(Impulse, Limit);

    // The impulse rises to its peak and falls from there: each side is crossed once.
    private static (double, double) FlatPart(DoubleExponential impulse, double limit)
    {
        double share = limit / impulse.Peak, top = impulse.Start + impulse.PeakDelay;
        if (!(share is > 0 and < 1) || impulse.Problems().Any())
            return (double.PositiveInfinity, double.PositiveInfinity);
        double rise = impulse.PeakDelay, decay = 100 * impulse.FallConstant;
        double Over(double t) => impulse.At(t) / impulse.Peak - share;
        // In units of each stretch, so that the accuracy means the same for a nanosecond and a second.
        return (impulse.Start + rise * Brent.FindRoot(u => Over(impulse.Start + rise * u), 0, 1, 1e-15, 200),
            top + decay * Brent.FindRoot(u => Over(top + decay * u), 0, 1, 1e-15, 200));
    }

    /// <inheritdoc/>
    public override double At(double t) => t >= _flat.From && t <= _flat.To ? Limit : Impulse.At(t);

    /// <inheritdoc/>
    public override double NextCorner(double t) => t < Impulse.Start ? Impulse.NextCorner(t)
        : t < _flat.From ? _flat.From : t < _flat.To ? _flat.To : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double t) => Impulse.LongestStep(t);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Impulse.Problems())
            yield return c;
        if (!(Limit / Impulse.Peak > 0))
            yield return $"the limit must have the sign of the peak and not be 0, but the peak is {Impulse.Peak} and the limit {Limit}";
    }
}
