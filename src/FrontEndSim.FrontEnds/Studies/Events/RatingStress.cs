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
            Ambient a => a.Celsius,
            _ => throw new NotSupportedException($"No measure of {rating.Quantity}."),
        };
        return new(rating, Math.Max(0, found), rating.Limit);
    }

    /// <summary>Over a transient.</summary>
    /// <param name="rating">The rating.</param>
    /// <param name="run">The transient.</param>
    /// <param name="thermalSeconds">Time over which the part's heat averages its power where the rating has no limits for pulses,
    /// s.</param>
    /// <param name="lastsAt">When what stands then goes on for ever, s; null where nothing does.</param>
    /// <param name="period">Period of what repeats for ever, s, so that its power is the mean of the last whole one; null where nothing
    /// does.</param>
    public static RatingStress In(Rating rating, TransientResult run, double thermalSeconds, double? lastsAt, double? period)
    {
        switch (rating.Quantity)
        {
            case PowerIn p:
                var watts = p.Elements.Select(run.Power).Aggregate((a, b) => a.Plus(b));
                double atEnd = lastsAt is { } at ? Lasting(watts, period, at) : 0;
                if (!rating.Pulses.IsEmpty)
                    return Worst(rating, watts.Running(), square: false, lastsAt is null ? null : atEnd);
                double warm = watts.LargestLagged(thermalSeconds);
                return new(rating, Math.Max(warm, atEnd), rating.Limit);
            case VoltageAcross v when !rating.Pulses.IsEmpty:
                return Longest(rating, EventStudy.Between(run, v.From, v.To), v.EitherWay, lastsAt);
            case VoltageAcross v:
                return new(rating, Peak(EventStudy.Between(run, v.From, v.To), v.EitherWay), rating.Limit);
            case CurrentThrough c when rating.Pulses.IsEmpty:
                return new(rating, c.Elements.Max(e => Peak(run.Current(e), c.EitherWay)), rating.Limit);
            case CurrentThrough c:
                return c.Elements.Select(e => Worst(rating, Squared(run, e), square: true, lastsAt is { } then
                    ? Math.Sqrt(Lasting(run.Current(e).Times(run.Current(e)), period, then)) : null)).MaxBy(s => s.Share)!;
            case Ambient a:
                return new(rating, Math.Max(0, a.Celsius), rating.Limit);
            case EffectiveCurrent e:
                return new(rating, Math.Sqrt(Squared(run, e.Element).Largest(e.Seconds) / e.Seconds), rating.Limit);
            case SquaredCurrent s:
                return new(rating, Squared(run, s.Element).Largest(s.Seconds), rating.Limit);
            default:
                throw new NotSupportedException($"No measure of {rating.Quantity}.");
        }
    }

    /// <summary>What goes on for ever: the value at a time, or the mean over the last whole period.</summary>
    internal static double Lasting(Trace trace, double? period, double at) => period is not { } seconds || seconds > trace.End - trace.Start
        ? trace.At(Math.Min(at, trace.End)) : trace.Running().Last(seconds) / seconds;

    /// <summary>Mean power, or effective current, over every window of each duration, against what a pulse of that duration may
    /// reach.</summary>
    private static RatingStress Worst(Rating rating, RunningIntegral integral, bool square, double? lasting)
    {
        double Mean(double sum, double seconds) => square ? Math.Sqrt(sum / seconds) : sum / seconds;
        double shortest = rating.Pulses[0].Seconds, longest = rating.Pulses[^1].Seconds;
        int steps = Math.Max(1, (int)Math.Ceiling(PerDecade * Math.Log10(longest / shortest)));
        // What cannot reach the worst so far is not worked out: the most promising durations first.
        var durations = Enumerable.Range(0, steps + 1).Select(k => shortest * Math.Pow(longest / shortest, (double)k / steps))
            .Select((t, place) => (Seconds: t, Place: place, Most: Mean(integral.Bound(t), t) / rating.LimitFor(t)))
                .OrderByDescending(d => d.Most);
        (RatingStress Stress, int Place)? worst = null;
        foreach (var (seconds, place, most) in durations)
        {
            if (worst is { } soFar && (most < soFar.Stress.Share || most == soFar.Stress.Share && place > soFar.Place))
                continue;
            var stress = new RatingStress(rating, Mean(integral.Largest(seconds), seconds), rating.LimitFor(seconds), seconds);
            if (worst is not { } before || stress.Share > before.Stress.Share
                || stress.Share == before.Stress.Share && place < before.Place)
                worst = (stress, place);
        }
        // Longer than any pulse: what remains is the limit for any time.
        double beyond = 10 * longest, share = worst!.Value.Stress.Share * rating.Limit;
        double found = Mean(integral.Bound(beyond), beyond) > share ? Mean(integral.Largest(beyond), beyond) : 0;
        var mean = new RatingStress(rating, Math.Max(found, lasting ?? 0), rating.Limit);
        return mean.Share > worst.Value.Stress.Share ? mean : worst.Value.Stress;
    }

    /// <summary>Every voltage against what may stand for as long as it, or more, is there.</summary>
    private static RatingStress Longest(Rating rating, Trace volts, bool eitherWay, double? lastsAt)
    {
        double peak = Peak(volts, eitherWay);
        if (peak <= rating.Limit)
            return new(rating, peak, rating.Limit);
        return Enumerable.Range(1, Levels).Select(k => peak * k / Levels).Select(level =>
        {
            double seconds = level < peak ? volts.TimeAbove(level) + (eitherWay ? volts.TimeBelow(-level) : 0) : 0;
            double end = lastsAt is { } at ? volts.At(Math.Min(at, volts.End)) : volts.At(volts.End);
            bool stays = end > level || eitherWay && -end > level;
            double limit = stays ? rating.Limit : rating.LimitFor(Math.Max(seconds, double.Epsilon));
            return new RatingStress(rating, level, limit, stays ? null : seconds);
        }).MaxBy(s => s.Share)!;
    }

    // How many levels of a voltage are looked at.
    private const int Levels = 50;

    private static RunningIntegral Squared(TransientResult run, string element) =>
        run.Current(element).Times(run.Current(element)).Running();

    private static double Peak(Trace trace, bool eitherWay) =>
        Math.Max(0, eitherWay ? Math.Max(trace.Maximum().Value, -trace.Minimum().Value) : trace.Maximum().Value);
}
