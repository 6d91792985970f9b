using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Report;

/// <summary>Every study that applies to a front end, of what is solved once.</summary>
public static class ReportStudy
{
    /// <summary>
    /// Check and operating point always; faults where a pin has ratings; hand calculation where there is a stage; budget and response
    /// for each pin that follows a sensor. One of the latter that cannot be made is left out, and the result says why.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="budget">What is asked of the error budgets; null for the defaults. The sensor is set by each.</param>
    /// <param name="progress">Told now and then how far it is; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ReportResult Run(SolvedFrontEnd solved, BudgetSettings? budget = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var leftOut = ImmutableArray.CreateBuilder<LeftOut>();
        return new ReportResult(solved.Mended(progress, cancel), BiasStudy.Run(solved, cancel: cancel))
        {
            // Without ratings no fault can be told from another.
            Faults = frontEnd.Pins.Any(p => p.RatedLow is not null || p.RatedHigh is not null || p.InjectionAmps is not null)
                ? solved.Faults(progress, cancel) : null,
            Explained = frontEnd.Stages.IsEmpty ? null
                : Try(LeftOutKind.HandCalculation, null, null, () => ExplainStudy.Run(solved, cancel: cancel)),
            Budgets =
            [
                .. from pin in frontEnd.Pins
                   from sensor in frontEnd.Sensors
                   where MappingStudy.Maps(frontEnd, pin, sensor)
                   let made = Try(LeftOutKind.Budget, pin.Name, sensor.Name,
                       () => BudgetStudy.Run(solved, pin.Name, (budget ?? new BudgetSettings()) with { Sensor = sensor.Name },
                           progress, cancel))
                   where made is not null
                   select made,
            ],
            Responses =
            [
                .. frontEnd.Pins.Select(p => Try(LeftOutKind.Response, p.Name, null, () =>
                    RespondStudy.Run(solved, p.Name, cancel: cancel))).OfType<RespondResult>(),
            ],
            Build = BuildStudy.Run(solved, progress: progress, cancel: cancel),
            LeftOut = leftOut.ToImmutable(),
        };

        T? Try<T>(LeftOutKind kind, string? pin, string? sensor, Func<T> study) where T : class
        {
            try
            {
                return study();
            }
            catch (Exception e) when (e is StudyProblemException or SolveException)
            {
                leftOut.Add(new(kind, pin, sensor, e.Message));
                return null;
            }
        }
    }
}
