namespace FrontEndSim.Engine.Results;

/// <summary>
/// The integral of a trace from its start, in the trace's unit times seconds: known at a few points within each step and straight
/// between them. Before its start the trace stands at its first value for ever; after its end nothing is added. Immutable.
/// </summary>
public sealed class RunningIntegral
{
    // Steps are cubics: a few points within each keep a steep decay's energy where it belongs.
    internal const int Within = 4;

    private readonly double[] _times, _sums;
    private readonly double _first, _rise, _steepest;

    // Of points: the one after the end of each is where it has passed for the last time.
    private readonly Repeat[] _repeats;

    internal RunningIntegral(double[] times, double[] sums, double first, Repeat[] repeats)
    {
        (_times, _sums, _first, _steepest, _repeats) = (times, sums, first, Math.Max(0, first), repeats);
        int next = 0;
        double atFirst = 0;
        for (int k = 1; k < times.Length; k++)
        {
            if (next < repeats.Length && k - 1 == repeats[next].First)
                atFirst = _rise;
            if (next < repeats.Length && k == repeats[next].End + 1)
            {
                _rise += repeats[next++].Times * (_rise - atFirst);
                // The next may begin where this one ends.
                continue;
            }
            double more = sums[k] - sums[k - 1];
            if (!(more > 0))
                continue;
            _rise += more;
            _steepest = Math.Max(_steepest, more / (times[k] - times[k - 1]));
        }
    }

    /// <summary>The largest integral over any window of a width: windows that begin or end at a point.</summary>
    /// <param name="seconds">The width, s, at least 0.</param>
    public double Largest(double seconds)
    {
        double largest = 0;
        int ahead = 0, behind = 0;
        for (int k = 0; k < _times.Length; k++)
        {
            double time = _times[k], here = _sums[k];
            largest = Math.Max(largest, Math.Max(At(time + seconds, ref ahead) - here, here - At(time - seconds, ref behind)));
        }
        foreach (var repeat in _repeats)
        {
            double begin = _times[repeat.First], end = _times[repeat.End + 1], more = _sums[repeat.End] - _sums[repeat.First];
            for (int k = repeat.First; k <= repeat.End; k++)
            {
                (ahead, behind) = (0, 0);
                // A window that lies within the stretch holds what the one a period before or after holds: those that begin and end
                // elsewhere are left.
                double over = (end - seconds - _times[k]) / repeat.Period, under = (begin + seconds - _times[k]) / repeat.Period;
                for (int n = (int)Math.Max(1, Math.Floor(over)); n <= repeat.Times; n++)
                {
                    double time = _times[k] + n * repeat.Period, here = _sums[k] + n * more;
                    largest = Math.Max(largest, At(time + seconds, ref ahead) - here);
                }
                for (int n = 1; n <= repeat.Times; n = n > under ? Math.Max(repeat.Times, n + 1) : n + 1)
                {
                    double time = _times[k] + n * repeat.Period, here = _sums[k] + n * more;
                    largest = Math.Max(largest, here - At(time - seconds, ref behind));
                }
            }
        }
        return largest;
    }

    /// <summary>What no window of a width exceeds: all that is ever added, or the steepest rise all the time. At the price of a few
    /// operations.</summary>
    /// <param name="seconds">The width, s, at least 0.</param>
    public double Bound(double seconds) => Math.Min(_steepest * seconds, _rise + Math.Max(0, _first) * seconds) * (1 + 1e-9);

    /// <summary>The integral over the end of the trace.</summary>
    /// <param name="seconds">How long before the end it begins, s.</param>
    public double Last(double seconds)
    {
        int place = 0;
        return _sums[^1] - At(_times[^1] - seconds, ref place);
    }

    /// <summary>The integral up to a time. The place looked at last only moves forward: times are asked for in their order.</summary>
    private double At(double time, ref int place)
    {
        if (time <= _times[0])
            return _first * (time - _times[0]);
        if (time >= _times[^1])
            return _sums[^1];
        while (_times[place] < time)
            place++;
        if (_times[place] == time)
            return _sums[place];
        foreach (var repeat in _repeats)
        {
            if (place == repeat.End + 1)
                return Passing(repeat, time);
        }
        double share = (time - _times[place - 1]) / (_times[place] - _times[place - 1]);
        return _sums[place - 1] + share * (_sums[place] - _sums[place - 1]);
    }

    /// <summary>The integral up to a time at which a stretch passes once more.</summary>
    private double Passing(Repeat repeat, double time)
    {
        double end = _times[repeat.End];
        double passed = Math.Min(Math.Floor((time - end) / repeat.Period) + 1, repeat.Times);
        double before = passed * (_sums[repeat.End] - _sums[repeat.First]);
        double recorded = Math.Clamp(time - passed * repeat.Period, _times[repeat.First], end);
        int place = Array.BinarySearch(_times, repeat.First, repeat.End - repeat.First + 1, recorded);
        if (place >= 0)
            return before + _sums[place];
        place = ~place;
        double share = (recorded - _times[place - 1]) / (_times[place] - _times[place - 1]);
        return before + _sums[place - 1] + share * (_sums[place] - _sums[place - 1]);
    }
}
