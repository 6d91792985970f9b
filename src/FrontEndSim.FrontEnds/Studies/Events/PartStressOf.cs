using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Reads from a transient what a part stands.</summary>
internal static class PartStressOf
{
    public static PartStress Run(Part part, TransientResult run, bool isLasting)
    {
        string[] elements = [.. part.ToElements().Select(e => e.Name)];
        var watts = elements.Select(run.Power).Aggregate((a, b) => a.Plus(b));
        double warm = Warm(watts, run.Times, part.ThermalSeconds);
        if (isLasting)
            warm = Math.Max(warm, watts.At(watts.End));
        double amps = elements.Select(e => Largest(run.Current(e))).Max();
        double volts = part.Nodes.Length == 2 ? Largest(EventStudy.Between(run, part.Nodes[0], part.Nodes[1])) : 0;
        double Stands(Rating rating) => rating.Kind switch
        {
            RatingKind.Power => warm,
            RatingKind.Voltage => volts,
            _ => amps,
        };
        var tightest = part.Ratings.MaxBy(r => Stands(r) / r.Limit);
        double joules = watts.Integral();
        return new PartStress(part, watts.Maximum().Value, joules, warm, volts, amps, tightest,
            tightest is null ? null : Stands(tightest) / tightest.Limit)
        {
            MeanWatts = joules / (watts.End - watts.Start),
        };
    }

    private static double Largest(Trace trace) => Math.Max(Math.Abs(trace.Maximum().Value), Math.Abs(trace.Minimum().Value));

    /// <summary>
    /// Highest power averaged as the part's heat averages it: a first-order lag of the thermal time, so that a pulse much
    /// shorter than it counts as energy over thermal time and a lasting load as its power.
    /// </summary>
    private static double Warm(Trace watts, IReadOnlyList<double> times, double thermalSeconds)
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
}
