using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Watches a circuit whose sources repeat: once a period ends where it began, those after it are the same, and need no solving. Of a run of
/// very many periods, those are passed over too that drift slowly and steadily: the unknowns go on as they did from the last period to this
/// one (Petzold, "An efficient numerical method for highly oscillatory ordinary differential equations", SIAM J. Numer. Anal. 18 (1981),
/// from memory), as far as the two periods that are solved after them bear out.
/// </summary>
/// <param name="moving">The waveforms that change.</param>
/// <param name="first">The first row of an unknown.</param>
/// <param name="size">Rows in all.</param>
internal sealed class PeriodWatch(Waveform[] moving, int first, int size)
{
    // How far the states of periods that are passed over may lie from those that stand for them, in the accuracy of a step: as where
    // steps are merged.
    private const double Share = 10;

    /// <summary>The same where they drift, in the accuracy of a step.</summary>
    public const double DriftShare = 100;

    // How far what drifts may stray over the periods passed over from the line that it is taken along, in the accuracy of a step; and by
    // how much its drift may differ from one period to the next. What dies away over a few periods would be taken far along its line, and
    // back again, for ever.
    private const double StrayShare = 30, SteadyShare = 0.05;

    // Runs of fewer periods are solved, but for those that are alike.
    private const double ManyPeriods = 10_000;

    // Fewer are not worth passing over, as two must be solved after them; and at first no more than this many are passed over.
    private const int LeastPassed = 4, FirstPassed = 16, MostPassed = 1_000_000;

    // How many at the next time follows from how far the last ones strayed, as the width of a step does.
    private const double Safety = 0.8, LeastGrowth = 0.25, MostGrowth = 4;

    // The two periods that bear a drift out, and the last one.
    private const int LeftOver = 3;

    // What changes from period to period is taken to shrink no faster than to a half: what shrinks fast may hide what does not.
    private const double FastestShrink = 0.5;

    // Corners and periods are told apart to this share of a period.
    private const double Rounding = 1e-6;

    private readonly double[] _state = new double[size], _change = new double[size], _drift = new double[size];
    private double _begun = double.NaN, _period;
    private int _firstStep, _mostPassed = FirstPassed, _drifted;
    private bool _hasChange;

    /// <summary>When the period that is watched ends, s; infinity where a corner does, or none is watched.</summary>
    public double Landing { get; private set; } = double.PositiveInfinity;

    /// <summary>Whether periods were passed over along a drift that is still to be borne out.</summary>
    public bool IsPending => _drifted > 0;

    /// <summary>Whether the period that is watched began at a time, s.</summary>
    public bool HasBegun(double t) => t == _begun;

    /// <summary>How each unknown changed over the last period.</summary>
    public ReadOnlySpan<double> Change => _change;

    /// <summary>Forgets the period that is watched.</summary>
    public void Forget() => (_begun, _hasChange, _drifted, Landing) = (double.NaN, false, 0, double.PositiveInfinity);

    /// <summary>Begins a period after others were passed over along a drift, or where that was taken back.</summary>
    /// <param name="t">The time, s.</param>
    /// <param name="x">The unknowns.</param>
    /// <param name="steps">Steps recorded so far.</param>
    public void Begin(double t, Scalar[] x, int steps)
    {
        for (int r = 0; r < size; r++)
            _state[r] = x[r].Value;
        (_begun, _firstStep, _hasChange, Landing) = (t, steps, false, t + _period);
    }

    /// <summary>
    /// Told of each corner and landing. At the end of a period like the one before it: how often it may pass once more from here, so that
    /// the last one before the sources cease to repeat, or before the end of the run, is left; null elsewhere.
    /// </summary>
    /// <param name="t">The time, s.</param>
    /// <param name="corner">The next corner of the sources, s; infinity for none.</param>
    /// <param name="until">End of the run, s.</param>
    /// <param name="x">The unknowns.</param>
    /// <param name="allowed">The error allowed of each in a step; infinity where a row is no state.</param>
    /// <param name="steps">Steps recorded so far.</param>
    public Passage? At(double t, double corner, double until, Scalar[] x, double[] allowed, int steps)
    {
        if (Common(t, corner) is not { } common)
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
        bool alike = ends && _hasChange && !common.Drifts;
        double unsteady = 0, moved = 0, strayed = 0;
        for (int r = 0; r < size; r++)
        {
            double signed = x[r].Value - _state[r], change = Math.Abs(signed);
            double shrink = Math.Max(change / Math.Abs(_change[r]), FastestShrink);
            // What is still to come, if it goes on shrinking as it did.
            alike &= r < first || change == 0
                || change * Math.Min(shrink < 1 ? shrink / (1 - shrink) : times, times) <= Share * allowed[r];
            moved = Math.Max(moved, change / allowed[r]);
            unsteady = Math.Max(unsteady, Math.Abs(signed - _change[r]) / allowed[r]);
            strayed = Math.Max(strayed, Math.Abs(signed - _drift[r]) / allowed[r]);
            (_state[r], _change[r]) = (x[r].Value, signed);
        }
        bool hadChange = _hasChange;
        int firstStep = _firstStep, drifted = _drifted;
        (_begun, _period, _firstStep, _hasChange) = (t, common.Period, steps, ends);
        bool isSmooth = corner > t + (1 + Rounding) * common.Period;
        Landing = isSmooth ? t + common.Period : double.PositiveInfinity;
        if (drifted > 0 && ends && hadChange)
        {
            _drifted = 0;
            // Over the periods passed over the change went from what it was to what it is: what that makes of them goes by their square.
            double error = 0.5 * drifted * strayed / StrayShare;
            bool holds = error <= 1;
            _mostPassed = (int)Math.Clamp(drifted * Math.Clamp(Safety / Math.Sqrt(error), LeastGrowth, MostGrowth), LeastPassed,
                MostPassed);
            if (!holds)
                return new(firstStep, drifted, common.Period, PassageKind.TakenBack);
        }
        if (alike && times is >= 1 and <= int.MaxValue)
        {
            Forget();
            return new(firstStep, (int)times, common.Period, PassageKind.Alike);
        }
        if (!(isSmooth && ends && hadChange && unsteady <= SteadyShare && until > ManyPeriods * common.Period))
            return null;
        double left = Math.Min(Math.Floor((Math.Min(corner, until) - t) / common.Period), times) - LeftOver;
        int passed = (int)Math.Min(Math.Min(_mostPassed, left), Math.Min(DriftShare / moved, StrayShare / unsteady));
        if (passed < LeastPassed)
            return null;
        _change.CopyTo(_drift, 0);
        _drifted = passed;
        return new(firstStep, passed, common.Period, PassageKind.Drifts);
    }

    /// <summary>How the sources that repeat do so together from a time on; null where they do not. Where others do not, or not as fast,
    /// they drift from one period to the next as long as they have no corner.</summary>
    private (double Period, double Until, bool Drifts)? Common(double t, double corner)
    {
        Repetition?[] each = [.. moving.Select(w => w.RepeatsFrom(t))];
        double period = each.Max(r => r?.Period) ?? 0;
        if (period == 0)
            return null;
        if (each.All(r => r is { } own && (own.Period == 0 || Math.Abs(period / own.Period - Math.Round(period / own.Period)) <= Rounding)))
            return (period, each.Min(r => r!.Value.Until), false);
        double shortest = each.Where(r => r is { Period: > 0 }).Min(r => r!.Value.Period);
        return corner > t + (1 + Rounding) * shortest ? (shortest, corner, true) : null;
    }
}

/// <summary>What becomes of periods that need no solving.</summary>
internal enum PassageKind
{
    /// <summary>They are like the last one.</summary>
    Alike,

    /// <summary>They drift on as from the one before it to the last one.</summary>
    Drifts,

    /// <summary>Those passed over last did not drift on as they were taken to.</summary>
    TakenBack,
}

/// <summary>Periods that need no solving.</summary>
/// <param name="FirstStep">The first step of the period that stands for them.</param>
/// <param name="Times">How many.</param>
/// <param name="Period">How long each takes, s.</param>
/// <param name="Kind">What becomes of them.</param>
internal readonly record struct Passage(int FirstStep, int Times, double Period, PassageKind Kind);
