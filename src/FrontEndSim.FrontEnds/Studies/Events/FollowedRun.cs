using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>
/// A run through an event that ends no sooner than what it moves: a filter of seconds behind 24 V, or the charge of a finger on its way to
/// a pin, is further from rest a while after the usual end than at it. An event whose length nothing bounds goes on for as long.
/// </summary>
/// <param name="Fault">The event as it was run.</param>
/// <param name="Run">The run.</param>
internal sealed record FollowedRun(FaultEvent Fault, TransientResult Run)
{
    // Each time so much longer, and so often: from 100 µs to 0.4 s, from 100 ms to 400 s.
    private const double Longer = 8;
    private const int MostTimes = 4;

    // What a node still moves in the last quarter of a run, over all that it moved: an exponential of a fifth of the run's length.
    private const double Moving = 0.02;
    private const double LastPart = 0.25;
    private const int Places = 8;

    // What moves less in a run of the usual length goes nowhere in one that is longer.
    private const double LeastVolts = 1e-3;

    /// <summary>Runs an event to its end.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event.</param>
    /// <param name="scenario">Where the sensors stand; null for mid-span.</param>
    /// <param name="like">Length that the same event was followed to in a circuit that differs little, s; null where it was not.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static FollowedRun Of(SolvedFrontEnd solved, FaultEvent fault, Scenario? scenario, double? like = null,
        CancellationToken cancel = default)
    {
        double? seconds = like;
        if (seconds is not null)
            fault = fault with { Disturbance = fault.Disturbance.ForEver() };
        var run = solved.Transient(fault, seconds, scenario, cancel);
        // What repeats or alternates has a rule of its own for its end.
        bool isSteady = fault.Disturbance.PeriodSeconds is null && solved.FrontEnd.OwnCourse is null;
        bool wasFollowed = seconds is not null;
        for (int times = wasFollowed ? 1 : 0; isSteady && times < MostTimes && StillLeaves(solved.FrontEnd, fault, run); times++)
        {
            fault = fault with { Disturbance = fault.Disturbance.ForEver() };
            run = solved.Transient(fault, Longer * run.End, scenario, cancel);
            wasFollowed = true;
        }
        return new(fault, run) { WasFollowed = wasFollowed };
    }

    /// <summary>Its length, s, where that is longer than the event suggests; else null.</summary>
    public double? FollowedSeconds => WasFollowed ? Run.End : null;

    private bool WasFollowed { get; init; }

    /// <summary>Whether a node is further from where it began than ever before, and still on its way.</summary>
    private static bool StillLeaves(FrontEnd frontEnd, FaultEvent fault, TransientResult run)
    {
        double end = fault.Disturbance.IsLasting ? run.End : Math.Min(fault.Disturbance.LastsAt ?? run.End, run.End);
        return frontEnd.AllParts.SelectMany(p => p.Nodes).Concat(frontEnd.OwnPins.Select(p => p.Node)).Distinct()
            .Where(n => n != Circuit.Ground).Any(n => StillLeaves(run.Voltage(n), end));
    }

    private static bool StillLeaves(Trace volts, double end)
    {
        double[] last = volts.Sample([.. Enumerable.Range(0, Places + 1).Select(k => end * (1 - LastPart * (1 - (double)k / Places)))]);
        double moved = last[^1] - last[0];
        if (Math.Abs(moved) < LastPart * LeastVolts || last.Zip(last.Skip(1), (a, b) => (b - a) * moved).Any(step => step <= 0))
            return false;
        double highest = volts.Maximum().Value, lowest = volts.Minimum().Value, near = Moving * (highest - lowest);
        return Math.Abs(moved) > near && (moved > 0 ? last[^1] > highest - near : last[^1] < lowest + near);
    }
}
