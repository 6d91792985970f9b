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

    // What was added up to each point, what was taken off again not counted; worked out where a stretch repeats.
    private readonly double[] _rises;

    // Of points: the one after the end of each is where it has passed for the last time.
    private readonly Repeat[] _repeats;

    internal RunningIntegral(double[] times, double[] sums, double first, Repeat[] repeats)
    {
        (_times, _sums, _first, _steepest, _repeats) = (times, sums, first, Math.Max(0, first), repeats);
        _rises = repeats.Length == 0 ? sums : new double[sums.Length];
        int next = 0;
        for (int k = 1; k < times.Length; k++)
        {
            double more = sums[k] - sums[k - 1];
            if (next < repeats.Length && k == repeats[next].End + 1)
            {
                var repeat = repeats[next++];
                _rise += repeat.Times * (_rises[repeat.End] - _rises[repeat.First]);
            }
            else if (more > 0)
            {
                _rise += more;
                _steepest = Math.Max(_steepest, more / (times[k] - times[k - 1]));
            }
            if (repeats.Length > 0)
                _rises[k] = _rise;
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
            double after = At(_sums, time + seconds, ref ahead) - here, before = here - At(_sums, time - seconds, ref behind);
            largest = Math.Max(largest, Math.Max(after, before));
        }
        foreach (var repeat in _repeats)
        {
            double begin = _times[repeat.First], end = _times[repeat.End + 1];
            for (int n = 1; n <= repeat.Times; n++)
            {
                // A window that lies within the stretch holds what the one a period before or after holds: those that begin or end
                // elsewhere are left, and of them those of a period in which no window can hold more.
                double from = begin + n * repeat.Period, to = from + repeat.Period, before = n * More(repeat);
                if (to + seconds > end && Rises(from, to + seconds) > largest)
                {
                    for (int k = repeat.First; k <= repeat.End; k++)
                        largest = Math.Max(largest, Anywhere(_sums, _times[k] + n * repeat.Period + seconds) - (_sums[k] + before));
                }
                if ((from - seconds < begin || n == repeat.Times) && Rises(from - seconds, to) > largest)
                {
                    for (int k = repeat.First; k <= repeat.End; k++)
                        largest = Math.Max(largest, _sums[k] + before - Anywhere(_sums, _times[k] + n * repeat.Period - seconds));
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
        return _sums[^1] - Anywhere(_sums, _times[^1] - seconds);
    }

    /// <summary>What a repeated stretch adds each time.</summary>
    private double More(Repeat repeat) => _sums[repeat.End] - _sums[repeat.First];

    /// <summary>All that is added between two times, what is taken off again not counted.</summary>
    private double Rises(double from, double to) => Anywhere(_rises, to) - Anywhere(_rises, from);

    /// <summary>A sum up to a time. The place looked at last only moves forward: times are asked for in their order.</summary>
    private double At(double[] sums, double time, ref int place)
    {
        if (time <= _times[0])
            return (ReferenceEquals(sums, _sums) ? _first : Math.Max(0, _first)) * (time - _times[0]);
        if (time >= _times[^1])
            return sums[^1];
        while (_times[place] < time)
            place++;
        if (_times[place] == time)
            return sums[place];
        return Ending(place - 1) is { } repeat ? Passing(sums, repeat, time) : Between(sums, place, time);
    }

    /// <summary>The repeated stretch that ends at a point; null for none.</summary>
    private Repeat? Ending(int point)
    {
        int low = 0, high = _repeats.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (_repeats[middle].End < point)
                low = middle + 1;
            else
                high = middle;
        }
        return low < _repeats.Length && _repeats[low].End == point ? _repeats[low] : null;
    }

    private double Between(double[] sums, int place, double time)
    {
        double share = (time - _times[place - 1]) / (_times[place] - _times[place - 1]);
        return sums[place - 1] + share * (sums[place] - sums[place - 1]);
    }

    private double Anywhere(double[] sums, double time)
    {
        int place = Array.BinarySearch(_times, time);
        place = place >= 0 ? place : Math.Min(~place, _times.Length - 1);
        return At(sums, time, ref place);
    }

    /// <summary>A sum up to a time at which a stretch passes once more.</summary>
    private double Passing(double[] sums, Repeat repeat, double time)
    {
        double end = _times[repeat.End];
        double passed = Math.Min(Math.Floor((time - end) / repeat.Period) + 1, repeat.Times);
        double before = passed * (sums[repeat.End] - sums[repeat.First]);
        double recorded = Math.Clamp(time - passed * repeat.Period, _times[repeat.First], end);
        int place = Array.BinarySearch(_times, repeat.First, repeat.End - repeat.First + 1, recorded);
        return before + (place >= 0 ? sums[place] : Between(sums, ~place, recorded));
    }
}
