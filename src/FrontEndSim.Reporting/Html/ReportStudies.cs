using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.Reporting.Html;

/// <summary>Runs every study that applies to a front end, for its report.</summary>
public static class ReportStudies
{
    /// <summary>
    /// Check and operating point always; faults where a pin has ratings; hand math where there is a stage; budget and response
    /// for each pin that follows a sensor. One of the latter that cannot be made is left out, and the report says why.
    /// </summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="files">The circuit file and those that it includes, itself first.</param>
    /// <param name="version">Version of the program.</param>
    /// <param name="budget">What is asked of the error budgets; null for the defaults. The sensor is set by each.</param>
    /// <param name="progress">Told now and then how far it is; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ReportInput Run(FrontEnd frontEnd, ImmutableArray<ReportFile> files, string version, BudgetSettings? budget = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var leftOut = ImmutableArray.CreateBuilder<string>();
        var check = CheckStudy.Run(frontEnd, progress, cancel);
        return new ReportInput(frontEnd, check, BiasStudy.Run(frontEnd, cancel: cancel), files, version, new SolverSettings())
        {
            // Without ratings no fault can be told from another.
            Faults = frontEnd.Pins.Any(p => p.RatedLow is not null || p.RatedHigh is not null || p.InjectionAmps is not null)
                ? FaultsStudy.Run(frontEnd, progress, cancel) : null,
            Explained = frontEnd.Stages.IsEmpty ? null : Try("hand calculation", () => ExplainStudy.Run(frontEnd, cancel: cancel)),
            Budgets =
            [
                .. from pin in frontEnd.Pins
                   from sensor in frontEnd.Sensors
                   where MappingStudy.Maps(frontEnd, pin, sensor)
                   let made = Try($"error budget of sensor {sensor.Name} onto pin {pin.Name}",
                       () => BudgetStudy.Run(frontEnd, pin.Name, (budget ?? new BudgetSettings()) with { Sensor = sensor.Name }, progress, cancel))
                   where made is not null
                   select made,
            ],
            Responses =
            [
                .. frontEnd.Pins.Select(p => Try($"response of pin {p.Name}", () => RespondStudy.Run(frontEnd, p.Name, cancel: cancel))).OfType<RespondResult>(),
            ],
            Build = BuildStudy.Run(frontEnd, progress: progress, cancel: cancel),
            LeftOut = leftOut.ToImmutable(),
        };

        T? Try<T>(string what, Func<T> study) where T : class
        {
            try
            {
                return study();
            }
            catch (Exception e) when (e is StudyProblemException or SolveException)
            {
                leftOut.Add($"No {what}: {e.Message}");
                return null;
            }
        }
    }
}
