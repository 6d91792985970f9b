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
    public static RatingStress At(Rating rating, OperatingPoint point) => new(rating, Math.Max(0, rating.Quantity.At(point)), rating.Limit);

    /// <summary>At rest while sensors alternate: what heats a part is the mean over their period, where its heat lasts longer than
    /// that.</summary>
    /// <param name="rating">The rating.</param>
    /// <param name="point">The crest.</param>
    /// <param name="period">Points of a period, evenly; empty where nothing alternates fast enough.</param>
    public static RatingStress At(Rating rating, OperatingPoint point, ImmutableArray<OperatingPoint> period) =>
        period.IsEmpty ? At(rating, point) : new(rating, Math.Max(0, rating.Quantity.Mean(period, point)), rating.Limit);

    /// <summary>Over a transient.</summary>
    /// <param name="rating">The rating.</param>
    /// <param name="run">The transient.</param>
    /// <param name="thermalSeconds">Time over which the part's heat averages its power where the rating has no limits for pulses,
    /// s.</param>
    /// <param name="lastsAt">When what stands then goes on for ever, s; null where nothing does.</param>
    /// <param name="period">Period of what repeats for ever, s, so that its power is the mean of the last whole one; null where nothing
    /// does.</param>
    public static RatingStress In(Rating rating, TransientResult run, double thermalSeconds, double? lastsAt, double? period) =>
        rating.Quantity.In(rating, run, new(thermalSeconds, lastsAt, period));

    /// <summary>What goes on for ever: the value at a time, or the mean over the last whole period.</summary>
    internal static double Lasting(Trace trace, double? period, double at) => period is not { } seconds || seconds > trace.End - trace.Start
        ? trace.At(Math.Min(at, trace.End)) : trace.Running().Last(seconds) / seconds;

    /// <summary>Mean power, or effective current, over every window of each duration, against what a pulse of that duration may
    /// reach.</summary>
    internal static RatingStress Worst(Rating rating, RunningIntegral integral, bool square, double? lasting)
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
    internal static RatingStress Longest(Rating rating, Trace volts, bool eitherWay, double? lastsAt)
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

    /// <summary>The largest value, V or A, of either sign or of the positive one.</summary>
    internal static double Peak(Trace trace, bool eitherWay) =>
        Math.Max(0, eitherWay ? Math.Max(trace.Maximum().Value, -trace.Minimum().Value) : trace.Maximum().Value);
}

/// <summary>What goes on of a stress once an event is over.</summary>
/// <param name="ThermalSeconds">Time over which the part's heat averages its power where a rating has no limits for pulses, s.</param>
/// <param name="At">When what stands then goes on for ever, s; null where nothing does.</param>
/// <param name="Period">Period of what repeats for ever, s; null where nothing does.</param>
internal sealed record LastingStress(double ThermalSeconds, double? At, double? Period)
{
    /// <summary>What goes on of a trace; null where nothing does.</summary>
    public double? Of(Trace trace) => At is { } at ? RatingStress.Lasting(trace, Period, at) : null;
}
