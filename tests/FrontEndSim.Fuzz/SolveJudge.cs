using FrontEndSim.Cli;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;

namespace FrontEndSim.Fuzz;

/// <summary>Solves a front end at rest, at three places of its first sensor, and through its last event, and judges every node, part and
/// audit of the three.</summary>
internal static class SolveJudge
{
    // The last event strikes after a millisecond; what follows it takes no longer.
    private const double Seconds = 2e-3;

    // Eight kilovolts are the most that an event brings; what winds and pumps may make a little more of them.
    private const double MostVolts = 1e6;

    /// <summary>What is wrong with how the file at a path is solved, or null; and the exit code that a verb would end with.</summary>
    public static (Finding? Finding, int Code) Run(string path)
    {
        var read = CircuitFile.Load(path);
        if (read.FrontEnd is not { } frontEnd)
        {
            var first = read.Diagnostics.First(d => d.IsError);
            return (Finding.Refused(first.Code, first.Message), ExitCode.BadInput);
        }
        try
        {
            var session = new SolvedFrontEnd(frontEnd);
            var rest = session.Rest();
            var sensor = frontEnd.Sensors[0];
            var sweep = session.Sweep(sensor.Name, [sensor.Span.Low, sensor.Span.Middle, sensor.Span.High]);
            var run = session.Transient(frontEnd.Events[^1], Seconds);
            return (Of("rest", rest) ?? sweep.Points.Select(p => Of("sweep", p)).FirstOrDefault(f => f is not null)
                ?? Of("sweep", sweep.Audit) ?? Of(run), ExitCode.Met);
        }
        // An oscillator has no operating point: to say so is right.
        catch (SolveException e) when (e.IsRestless)
        {
            return (null, ExitCode.NoSolution);
        }
        catch (Exception e) when (e is SolveException or CircuitException)
        {
            return (Finding.GivenUp(e.Message), ExitCode.NoSolution);
        }
    }

    // The audit of the last instant is the run's, whose largest current flowed earlier.
    private static Finding? Of(TransientResult run) => Of("event", run.Start) ?? Read("event", run.Final) ?? Of("event", run.Audit)
        ?? run.Start.Nodes.Keys.Select(n => Of("event", n, run.Voltage(n), MostVolts)).FirstOrDefault(f => f is not null)
        ?? run.Start.Parts.Keys.Where(run.Has).Select(p => Of("event", p, run.Current(p), double.MaxValue)
            ?? Of("event", p, run.Power(p), double.MaxValue)).FirstOrDefault(f => f is not null);

    private static Finding? Of(string where, string what, Trace trace, double most)
    {
        // A sum over all of the trace is finite only if each of its values is.
        double sum = trace.Integral(), largest = Math.Max(trace.Maximum().Value, -trace.Minimum().Value);
        return !double.IsFinite(sum) || !double.IsFinite(largest) ? new($"not finite: {where}", what)
            : largest > most ? new($"blow-up: {where}", FormattableString.Invariant($"{what} at {largest:G3} V")) : null;
    }

    private static Finding? Of(string where, OperatingPoint point) => Read(where, point) ?? Of(where, point.Audit);

    private static Finding? Read(string where, OperatingPoint point) =>
        point.Nodes.Where(n => !double.IsFinite(n.Value)).Select(n => n.Key)
            .Concat(point.Parts.Where(p => !double.IsFinite(p.Value.Volts + p.Value.Amps + p.Value.Watts)).Select(p => p.Key))
            .Select(n => new Finding($"not finite: {where}", n)).FirstOrDefault()
        ?? point.Nodes.Where(n => Math.Abs(n.Value) > MostVolts)
            .Select(n => new Finding($"blow-up: {where}", FormattableString.Invariant($"{n.Key} at {n.Value:G3} V"))).FirstOrDefault();

    private static Finding? Of(string where, Audit audit) => audit.IsWithinLimits ? null
        : new($"unbalanced: {where}", FormattableString.Invariant(
            $"currents by {audit.KirchhoffShare:P2} at {audit.KirchhoffNode}, energy by {audit.EnergyImbalance:P2}"));
}
