namespace FrontEndSim.Engine.Waveforms;

/// <summary>
/// An impulse that strikes again and again, in bursts: Count strikes a Period apart, and that Bursts times, a BurstPeriod apart.
/// Each strike begins the impulse anew; what is left of the one before is cut off, so it must have died away by then.
/// </summary>
/// <param name="Impulse">One strike, in its own time: it must be zero at and before 0 s.</param>
/// <param name="Start">When the first strike begins, s.</param>
/// <param name="Period">From one strike to the next, s, above zero.</param>
/// <param name="Count">Strikes in a burst, at least 1.</param>
/// <param name="BurstPeriod">From one burst to the next, s, at least Count · Period; only used with more than one burst.</param>
/// <param name="Bursts">Number of bursts, at least 1.</param>
public sealed record Repeated(Waveform Impulse, double Start, double Period, int Count, double BurstPeriod = double.PositiveInfinity,
    int Bursts = 1) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t) => t <= Start ? 0 : Impulse.At(t - StrikeAt(t));

    /// <inheritdoc/>
    public override double NextCorner(double t)
    {
        if (t < Start)
            return Start;
        double strike = StrikeAt(t);
        double inside = strike + Impulse.NextCorner(t - strike);
        double next = NextStrike(t);
        return inside > t && inside < next ? inside : next;
    }

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t)
    {
        if (t < Start)
            return Repetition.Stays(Start);
        int burst = BurstAt(t), strike = StrikeAt(burst, t);
        if (strike + 1 < Count)
            return new(Period, Strike(burst, Count - 1) + Period);
        double last = Strike(burst, strike);
        return Impulse.RepeatsFrom(t - last) is { } own ? own with { Until = Math.Min(last + own.Until, NextStrike(t)) } : null;
    }

    /// <inheritdoc/>
    public override bool JumpsAt(double t) => t >= Start && Impulse.JumpsAt(t - StrikeAt(t));

    /// <inheritdoc/>
    public override double LongestStep(double t) => t < Start ? double.PositiveInfinity : Impulse.LongestStep(t - StrikeAt(t));

    /// <summary>The beginning of the last strike at or before a time not before the start.</summary>
    private double StrikeAt(double t)
    {
        int burst = BurstAt(t);
        return Strike(burst, StrikeAt(burst, t));
    }

    private double NextStrike(double t)
    {
        int burst = BurstAt(t), strike = StrikeAt(burst, t);
        return strike + 1 < Count ? Strike(burst, strike + 1)
            : burst + 1 < Bursts ? Strike(burst + 1, 0) : double.PositiveInfinity;
    }

    // Floor of a rounded quotient can miss by one at a corner: comparison settles it.
    private int BurstAt(double t)
    {
        if (Bursts == 1)
            return 0;
        int n = Whole((t - Start) / BurstPeriod, Bursts);
        return n + 1 < Bursts && Strike(n + 1, 0) <= t ? n + 1 : n > 0 && Strike(n, 0) > t ? n - 1 : n;
    }

    private int StrikeAt(int burst, double t)
    {
        int n = Whole((t - Strike(burst, 0)) / Period, Count);
        return n + 1 < Count && Strike(burst, n + 1) <= t ? n + 1 : n > 0 && Strike(burst, n) > t ? n - 1 : n;
    }

    private static int Whole(double quotient, int count) => Math.Clamp((int)Math.Min(Math.Floor(quotient), int.MaxValue), 0, count - 1);

    // One formula for every strike, so that a corner is the same number however it is reached.
    private double Strike(int burst, int strike) => Start + (burst == 0 ? 0 : burst * BurstPeriod) + strike * Period;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Impulse.Problems().Concat(Finite(("the start", Start), ("the period", Period))))
            yield return c;
        if (!(Period > 0) || Count < 1 || Bursts < 1)
            yield return "a repeated impulse needs a period above 0 s and at least one strike and one burst";
        if (Bursts > 1 && !(BurstPeriod >= Count * Period && double.IsFinite(BurstPeriod)))
            yield return $"the bursts must not overlap: {Count} strikes take {Count * Period} s, but a burst comes every {BurstPeriod} s";
    }
}
