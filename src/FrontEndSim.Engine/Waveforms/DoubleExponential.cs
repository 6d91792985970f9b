namespace FrontEndSim.Engine.Waveforms;

/// <summary>
/// peak · (e^(−t/fall) − e^(−t/rise)) / n from its start, where n makes the largest value equal to the peak:
/// the usual closed form of an impulse such as the 1.2/50 µs open-circuit surge.
/// </summary>
/// <param name="Peak">The largest value (or the most negative one), in the source's unit.</param>
/// <param name="RiseConstant">Time constant of the rising exponential, s.</param>
/// <param name="FallConstant">Time constant of the falling exponential, s; longer than the rise.</param>
/// <param name="Start">When it starts, s; the value is zero before.</param>
public sealed record DoubleExponential(double Peak, double RiseConstant, double FallConstant, double Start = 0) : Waveform
{
    // Get-only, so that a copy cannot change them and keep the old scale.
    /// <summary>Time constant of the rising exponential, s.</summary>
    public double RiseConstant { get; } = RiseConstant;

    /// <summary>Time constant of the falling exponential, s.</summary>
    public double FallConstant { get; } = FallConstant;

    /// <summary>Time from the start to the peak, s: ln(fall/rise) · rise · fall / (fall − rise).</summary>
    public double PeakDelay => Math.Log(FallConstant / RiseConstant) * RiseConstant * FallConstant / (FallConstant - RiseConstant);

    private readonly double _scale = 1 / Shape(
        Math.Log(FallConstant / RiseConstant) * RiseConstant * FallConstant / (FallConstant - RiseConstant), RiseConstant, FallConstant);

    private static double Shape(double t, double rise, double fall) => Math.Exp(-t / fall) - Math.Exp(-t / rise);

    /// <inheritdoc/>
    public override double At(double t) => t <= Start ? 0 : Peak * _scale * Shape(t - Start, RiseConstant, FallConstant);

    /// <inheritdoc/>
    public override double NextCorner(double t) => t < Start ? Start : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double t)
    {
        double since = t - Start;
        return since < 0 ? double.PositiveInfinity
            : since < 10 * RiseConstant ? RiseConstant
            : since < 40 * FallConstant ? FallConstant : double.PositiveInfinity;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Finite(("the peak", Peak), ("the rise constant", RiseConstant), ("the fall constant", FallConstant),
            ("the start", Start)))
            yield return c;
        if (!(RiseConstant > 0 && FallConstant > RiseConstant))
            yield return $"the time constants must satisfy 0 s < rise < fall, but rise is {RiseConstant} s and fall is {FallConstant} s";
    }
}
