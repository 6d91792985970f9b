using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Watches a circuit whose sources repeat: once a period ends where it began, those after it are the same, and need no solving.
/// </summary>
/// <param name="moving">The waveforms that change.</param>
/// <param name="first">The first row of an unknown.</param>
/// <param name="size">Rows in all.</param>
internal sealed class PeriodWatch(Waveform[] moving, int first, int size)
{
    // How far the states of periods that are passed over may lie from those that stand for them, in the accuracy of a step: as where
    // steps are merged.
    private const double Share = 10;

    // What changes from period to period is taken to shrink no faster than to a half: what shrinks fast may hide what does not.
    private const double FastestShrink = 0.5;

    // Corners and periods are told apart to this share of a period.
    private const double Rounding = 1e-6;

    private readonly double[] _state = new double[size], _change = new double[size];
    private double _begun = double.NaN, _period;
    private int _firstStep;
    private bool _hasChange;

    /// <summary>When the period that is watched ends, s; infinity where a corner does, or none is watched.</summary>
    public double Landing { get; private set; } = double.PositiveInfinity;

    /// <summary>Forgets the period that is watched.</summary>
    public void Forget() => (_begun, _hasChange, Landing) = (double.NaN, false, double.PositiveInfinity);

    /// <summary>
    /// Told of each corner and landing. At the end of a period like the one before it: how often it may pass once more from here, so that
    /// the last one before the sources cease to repeat, or before the end of the run, is left; null elsewhere.
    /// </summary>
    /// <param name="t">The time, s.</param>
    /// <param name="isLast">Whether no corner follows.</param>
    /// <param name="until">End of the run, s.</param>
    /// <param name="x">The unknowns.</param>
    /// <param name="allowed">The error allowed of each in a step; infinity where a row is no state.</param>
    /// <param name="steps">Steps recorded so far.</param>
    public (int FirstStep, int Times, double Period)? At(double t, bool isLast, double until, Scalar[] x, double[] allowed, int steps)
    {
        if (Common(t) is not { } common)
        {
            Forget();
            return null;
        }
        double since = t - _begun;
        bool isSame = common.Period == _period, ends = isSame && Math.Abs(since - _period) <= Rounding * _period;
        if (isSame && !ends && since < _period)
            return null;
        // Whole periods from here, but for the last.
        double whole = double.IsInfinity(common.Until) ? common.Until : Math.Floor((common.Until - t) / common.Period + Rounding);
        double times = Math.Min(whole, Math.Ceiling((until - t) / common.Period - Rounding)) - 1;
        bool alike = ends && _hasChange;
        for (int r = first; r < x.Length; r++)
        {
            double change = Math.Abs(x[r].Value - _state[r]), shrink = Math.Max(change / _change[r], FastestShrink);
            // What is still to come, if it goes on shrinking as it did.
            alike &= change == 0 || change * Math.Min(shrink < 1 ? shrink / (1 - shrink) : times, times) <= Share * allowed[r];
            (_state[r], _change[r]) = (x[r].Value, change);
        }
        int firstStep = _firstStep;
        (_begun, _period, _firstStep, _hasChange) = (t, common.Period, steps, ends);
        Landing = isLast ? t + common.Period : double.PositiveInfinity;
        if (!alike || !(times >= 1 && times <= int.MaxValue))
            return null;
        Forget();
        return (firstStep, (int)times, common.Period);
    }

    /// <summary>How all sources together repeat from a time on; null where they do not.</summary>
    private Repetition? Common(double t)
    {
        Repetition?[] each = [.. moving.Select(w => w.RepeatsFrom(t))];
        double period = each.Max(r => r?.Period) ?? 0;
        return period == 0 || each.Any(r => r is not { } own
            || own.Period > 0 && Math.Abs(period / own.Period - Math.Round(period / own.Period)) > Rounding)
            ? null : new(period, each.Min(r => r!.Value.Until));
    }
}
