using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What a part stands against one of its ratings.</summary>
/// <param name="Rating">The rating.</param>
/// <param name="Found">The rated quantity at its worst, in the unit of the rating, as a magnitude.</param>
/// <param name="Limit">The limit that it was held against: that of the pulse whose duration decides.</param>
/// <param name="Seconds">That duration, s; null where the limit for any time was held against it.</param>
public sealed record RatingStress(Rating Rating, double Found, double Limit, double? Seconds = null)
{
    /// <summary>What is stood over the limit: 1 is all of it.</summary>
    public double Share => Found / Limit;

    // Durations looked at in each decade: a pulse between two of them is judged by the nearer to within a twelfth of its logarithm.
    private const int PerDecade = 8;

    /// <summary>At an operating point.</summary>
    public static RatingStress At(Rating rating, OperatingPoint point)
    {
        double found = rating.Quantity switch
        {
            PowerIn p => p.Elements.Sum(e => point.Parts[e].Watts),
            VoltageAcross v => v.EitherWay ? Math.Abs(point.Nodes[v.From] - point.Nodes[v.To]) : point.Nodes[v.From] - point.Nodes[v.To],
            CurrentThrough c => c.Elements.Max(e => c.EitherWay ? Math.Abs(point.Parts[e].Amps) : point.Parts[e].Amps),
            EffectiveCurrent e => Math.Abs(point.Parts[e.Element].Amps),
            // What flows for ever adds up without end, and what melts a fuse slowly is its rated current.
            SquaredCurrent => 0,
            _ => throw new NotSupportedException($"No measure of {rating.Quantity}."),
        };
        return new(rating, Math.Max(0, found), rating.Limit);
    }

    /// <summary>Over a transient.</summary>
    /// <param name="rating">The rating.</param>
    /// <param name="run">The transient.</param>
    /// <param name="thermalSeconds">Time over which the part's heat averages its power where the rating has no limits for pulses, s.</param>
    /// <param name="isLasting">Whether what stands at the end goes on for ever.</param>
    /// <param name="period">Period of what repeats for ever, s, so that its power is the mean of the last whole one; null where nothing does.</param>
    public static RatingStress In(Rating rating, TransientResult run, double thermalSeconds, bool isLasting, double? period)
    {
        switch (rating.Quantity)
        {
            case PowerIn p:
                var watts = p.Elements.Select(run.Power).Aggregate((a, b) => a.Plus(b));
                double atEnd = Lasting(watts, run, period);
                if (!rating.Pulses.IsEmpty)
                    return Worst(rating, new RunningIntegral(watts, run.Times), square: false, isLasting ? atEnd : null);
                double warm = Warm(watts, run.Times, thermalSeconds);
                return new(rating, isLasting ? Math.Max(warm, atEnd) : warm, rating.Limit);
            case VoltageAcross v when !rating.Pulses.IsEmpty:
                return Longest(rating, EventStudy.Between(run, v.From, v.To), v.EitherWay);
            case VoltageAcross v:
                return new(rating, Peak(EventStudy.Between(run, v.From, v.To), v.EitherWay), rating.Limit);
            case CurrentThrough c when rating.Pulses.IsEmpty:
                return new(rating, c.Elements.Max(e => Peak(run.Current(e), c.EitherWay)), rating.Limit);
            case CurrentThrough c:
                return c.Elements.Select(e => Worst(rating, Squared(run, e), square: true, isLasting ? Math.Sqrt(Lasting(run.Current(e).Times(run.Current(e)), run, period)) : null)).MaxBy(s => s.Share)!;
            case EffectiveCurrent e:
                return new(rating, Math.Sqrt(Squared(run, e.Element).Largest(e.Seconds) / e.Seconds), rating.Limit);
            case SquaredCurrent s:
                return new(rating, Squared(run, s.Element).Largest(s.Seconds), rating.Limit);
            default:
                throw new NotSupportedException($"No measure of {rating.Quantity}.");
        }
    }

    /// <summary>What goes on for ever: the value at the end, or its mean over the last whole period.</summary>
    internal static double Lasting(Trace trace, TransientResult run, double? period) => period is not { } seconds || seconds > trace.End - trace.Start
        ? trace.At(trace.End) : new RunningIntegral(trace, run.Times).Last(seconds) / seconds;

    /// <summary>The mean over a whole period that ended some time before the end.</summary>
    internal static double Before(Trace trace, TransientResult run, double period, double seconds)
    {
        var sum = new RunningIntegral(trace, run.Times);
        return (sum.Last(seconds + period) - sum.Last(seconds)) / period;
    }

    /// <summary>Mean power, or effective current, over every window of each duration, against what a pulse of that duration may reach.</summary>
    private static RatingStress Worst(Rating rating, RunningIntegral integral, bool square, double? lasting)
    {
        double Found(double seconds) => square ? Math.Sqrt(integral.Largest(seconds) / seconds) : integral.Largest(seconds) / seconds;
        double shortest = rating.Pulses[0].Seconds, longest = rating.Pulses[^1].Seconds;
        int steps = Math.Max(1, (int)Math.Ceiling(PerDecade * Math.Log10(longest / shortest)));
        var worst = Enumerable.Range(0, steps + 1).Select(k => shortest * Math.Pow(longest / shortest, (double)k / steps))
            .Select(t => new RatingStress(rating, Found(t), rating.LimitFor(t), t)).MaxBy(s => s.Share)!;
        // Longer than any pulse: what remains is the limit for any time.
        double beyond = 10 * longest;
        var mean = new RatingStress(rating, Math.Max(Found(beyond), lasting ?? 0), rating.Limit);
        return mean.Share > worst.Share ? mean : worst;
    }

    /// <summary>Every voltage against what may stand for as long as it, or more, is there.</summary>
    private static RatingStress Longest(Rating rating, Trace volts, bool eitherWay)
    {
        double peak = Peak(volts, eitherWay);
        if (peak <= rating.Limit)
            return new(rating, peak, rating.Limit);
        return Enumerable.Range(1, Levels).Select(k => peak * k / Levels).Select(level =>
        {
            double seconds = level < peak ? volts.TimeAbove(level) + (eitherWay ? volts.TimeBelow(-level) : 0) : 0;
            bool ends = volts.At(volts.End) > level || eitherWay && -volts.At(volts.End) > level;
            double limit = ends ? rating.Limit : rating.LimitFor(Math.Max(seconds, double.Epsilon));
            return new RatingStress(rating, level, limit, ends ? null : seconds);
        }).MaxBy(s => s.Share)!;
    }

    // How many levels of a voltage are looked at.
    private const int Levels = 50;

    private static RunningIntegral Squared(TransientResult run, string element) => new(run.Current(element).Times(run.Current(element)), run.Times);

    private static double Peak(Trace trace, bool eitherWay) =>
        Math.Max(0, eitherWay ? Math.Max(trace.Maximum().Value, -trace.Minimum().Value) : trace.Maximum().Value);

    /// <summary>
    /// Highest power averaged as the part's heat averages it: a first-order lag of the thermal time, so that a pulse much
    /// shorter than it counts as energy over thermal time and a lasting load as its power.
    /// </summary>
    internal static double Warm(Trace watts, IReadOnlyList<double> times, double thermalSeconds)
    {
        double warm = watts.At(times[0]), highest = warm;
        for (int k = 1; k < times.Count; k++)
        {
            double span = times[k] - times[k - 1], middle = times[k - 1] + span / 2;
            double mean = (watts.At(times[k - 1]) + 4 * watts.At(middle) + watts.At(times[k])) / 6;
            warm += (mean - warm) * -double.ExpM1(-span / thermalSeconds);
            highest = Math.Max(highest, warm);
        }
        return highest;
    }

    /// <summary>The integral of a trace from its start, at the times of its steps and straight between them.</summary>
    private sealed class RunningIntegral
    {
        private const int Within = 4;

        private readonly double[] _times, _sums;
        private readonly double _first;

        public RunningIntegral(Trace trace, IReadOnlyList<double> times)
        {
            // Steps are cubics: a few points within each keep a steep decay's energy where it belongs.
            _times = [times[0], .. times.Zip(times.Skip(1)).SelectMany(step => Enumerable.Range(1, Within)
                .Select(k => k == Within ? step.Second : step.First + (step.Second - step.First) * k / Within))];
            _sums = new double[_times.Length];
            // Before the start the circuit was at rest for ever.
            _first = trace.At(_times[0]);
            for (int k = 1; k < _times.Length; k++)
            {
                double width = _times[k] - _times[k - 1];
                // Just inside the step: at a jump its ends belong to its neighbours.
                double near = trace.At(_times[k - 1]), far = trace.At(_times[k] - 1e-9 * width), middle = trace.At(_times[k - 1] + width / 2);
                _sums[k] = _sums[k - 1] + width * (near + 4 * middle + far) / 6;
            }
        }

        /// <summary>The largest integral over any window of a width: windows that begin or end at a step.</summary>
        public double Largest(double seconds)
        {
            double largest = 0;
            foreach (double time in _times)
                largest = Math.Max(largest, Math.Max(At(time + seconds) - At(time), At(time) - At(time - seconds)));
            return largest;
        }

        /// <summary>The integral over the end of the trace.</summary>
        public double Last(double seconds) => _sums[^1] - At(_times[^1] - seconds);

        private double At(double time)
        {
            if (time <= _times[0])
                return _first * (time - _times[0]);
            if (time >= _times[^1])
                return _sums[^1];
            int k = Array.BinarySearch(_times, time);
            if (k >= 0)
                return _sums[k];
            k = ~k;
            double share = (time - _times[k - 1]) / (_times[k] - _times[k - 1]);
            return _sums[k - 1] + share * (_sums[k] - _sums[k - 1]);
        }
    }
}
