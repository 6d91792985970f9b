using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Reads from a transient what a part stands.</summary>
internal static class PartStresses
{
    public static PartStress Run(FrontEnd frontEnd, Part part, TransientResult run, Disturbance disturbance)
    {
        var (lastsAt, period) = (LastsAt(disturbance, run), disturbance.PeriodSeconds);
        var elements = part.ElementNames;
        var watts = elements.Select(run.Power).Aggregate((a, b) => a.Plus(b));
        double warm = watts.LargestLagged(part.ThermalSeconds);
        if (lastsAt is { } at)
            warm = Math.Max(warm, RatingStress.Lasting(watts, period, at));
        double amps = elements.Select(e => Largest(run.Current(e))).Max();
        string[] nodes = [.. part.Nodes.Distinct()];
        double volts = nodes.SelectMany((a, k) => nodes[(k + 1)..].Select(b => Largest(EventStudy.Between(run, a, b)))).Append(0).Max();
        var stresses = Stresses(frontEnd, part, run, disturbance);
        var tightest = stresses.MaxBy(s => s.Share);
        double joules = watts.Integral();
        return new PartStress(part, watts.Maximum().Value, joules, warm, volts, amps, tightest?.Rating, tightest?.Share)
        {
            MeanWatts = joules / (watts.End - watts.Start),
            Stresses = stresses,
            LastingKelvin = part.KelvinPerWatt > 0 ? part.KelvinPerWatt * LastingWatts(part, run, disturbance) : 0,
        };
    }

    /// <summary>What it stands against each of its ratings, in their order.</summary>
    public static ImmutableArray<RatingStress> Stresses(FrontEnd frontEnd, Part part, TransientResult run, Disturbance disturbance) =>
        [.. part.Ratings(frontEnd.Celsius).Select(r => Stress(frontEnd, part, r, run, disturbance))];

    /// <summary>What it stands against one of its ratings.</summary>
    public static RatingStress Stress(FrontEnd frontEnd, Part part, Rating rating, TransientResult run, Disturbance disturbance) =>
        IsReplaced(part, run) ? new(rating, 0, rating.Limit) : RatingStress.In(Inside(frontEnd, part, rating, disturbance), run,
            part.ThermalSeconds, LastsAt(disturbance, run) ?? (part.StaysOn ? run.End : null), disturbance.PeriodSeconds);

    /// <summary>What it dissipates for ever once an event lasts, W: the mean over whole periods of what repeats; 0 where nothing
    /// lasts.</summary>
    public static double LastingWatts(Part part, TransientResult run, Disturbance disturbance) =>
        LastsAt(disturbance, run) is not { } at || !part.ElementNames.All(run.Has) ? 0
            : RatingStress.Lasting(part.ElementNames.Select(run.Power).Aggregate((a, b) => a.Plus(b)), disturbance.PeriodSeconds, at);

    /// <summary>The same where the run starts from.</summary>
    public static RatingStress AtStart(FrontEnd frontEnd, Part part, Rating rating, TransientResult run, Disturbance disturbance) =>
        IsReplaced(part, run) ? new(rating, 0, rating.Limit)
            : RatingStress.At(Inside(frontEnd, part, rating, disturbance), run.Start);

    // An event may stand in the place of a sensor or of what delivers a rail.
    private static bool IsReplaced(Part part, TransientResult run) => part is SensorOutput or RailOutput && !run.Has(part.Name);

    private static Rating Inside(FrontEnd frontEnd, Part part, Rating rating, Disturbance disturbance) =>
        disturbance.Strays is not { } strays ? rating : rating with
        {
            Quantity = strays.Inside(part, rating.Quantity, n => n == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == n)),
        };

    // A run may be longer than the event suggests.
    private static double? LastsAt(Disturbance disturbance, TransientResult run) =>
        disturbance.IsLasting ? run.End : disturbance.LastsAt;

    internal static double Largest(Trace trace) => Math.Max(Math.Abs(trace.Maximum().Value), Math.Abs(trace.Minimum().Value));
}
