using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Solving;

namespace FrontEndSim.Engine;

/// <summary>
/// A sweep that trials of the parts' numbers are made of, with its nominal solution. Several threads may use it; the result of a run
/// depends on its trials' numbers only.
/// </summary>
public sealed class TrialSweep
{
    private readonly TrialRun _run;

    internal TrialSweep(TrialRun run) => _run = run;

    /// <summary>Runs trials on all cores.</summary>
    /// <param name="trials">How many.</param>
    /// <param name="numbers">Gives each trial's numbers; called from several threads.</param>
    /// <param name="cores">How many cores to use at most; 0 for all.</param>
    /// <param name="cancel">Stops between trials.</param>
    /// <exception cref="SolveException">Some trial has no solution.</exception>
    public TrialResult Run(int trials, TrialNumbers numbers, int cores = 0, CancellationToken cancel = default)
    {
        try
        {
            return _run.Run(trials, numbers, cores > 0 ? cores : Environment.ProcessorCount, cancel);
        }
        catch (AggregateException many) when (many.InnerExceptions.OfType<SolveException>().FirstOrDefault() is { } first)
        {
            throw first;
        }
    }
}
