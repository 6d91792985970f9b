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
        using var sections = new Sections(progress, cancel);
        var check = sections.Begin((p, stop) => solved.Mended(p, stop));
        var bias = sections.Begin((_, stop) => BiasStudy.Run(solved, cancel: stop));
        // Without ratings no fault can be told from another.
        var faults = frontEnd.Pins.Any(p => p.RatedLow is not null || p.RatedHigh is not null || p.InjectionAmps is not null)
            ? sections.Begin((p, stop) => solved.Faults(p, stop)) : null;
        var explained = frontEnd.Stages.IsEmpty ? null
            : Try(LeftOutKind.HandCalculation, null, null, (_, stop) => ExplainStudy.Run(solved, cancel: stop));
        var budgets = (from pin in frontEnd.Pins
                       from sensor in frontEnd.Sensors
                       where MappingStudy.Maps(frontEnd, pin, sensor)
                       select Try(LeftOutKind.Budget, pin.Name, sensor.Name, (p, stop) =>
                           BudgetStudy.Run(solved, pin.Name, (budget ?? new BudgetSettings()) with { Sensor = sensor.Name }, p, stop)))
            .ToArray();
        var computed = frontEnd.Readings.Select(r => Try(LeftOutKind.Budget, r.Name, r.Sensor,
                (p, stop) => CombinedBudget.Run(solved, r.Name, budget, p, stop)))
            .Concat(frontEnd.AlternatingReadings.Select(r => Try(LeftOutKind.Budget, r.Name, r.Sensor,
                (p, stop) => AlternatingBudget.Run(solved, r.Name, budget, p, stop)))).ToArray();
        var responses = frontEnd.Pins
            .Select(pin => Try(LeftOutKind.Response, pin.Name, null, (_, stop) => RespondStudy.Run(solved, pin.Name, cancel: stop)))
            .ToArray();
        var build = sections.Begin((p, stop) => BuildStudy.Run(solved, progress: p, cancel: stop));
        return new ReportResult(check.Result(), bias.Result())
        {
            Faults = faults?.Result(),
            Explained = explained?.Result().Made,
            Budgets = [.. budgets.Concat(computed).Select(b => b.Result().Made).OfType<BudgetResult>()],
            Responses = [.. responses.Select(r => r.Result().Made).OfType<RespondResult>()],
            Build = build.Result(),
            LeftOut =
            [
                .. new[] { explained?.Result().LeftOut }.Concat(budgets.Concat(computed).Select(b => b.Result().LeftOut))
                    .Concat(responses.Select(r => r.Result().LeftOut)).OfType<LeftOut>(),
            ],
        };

        Section<(T? Made, LeftOut? LeftOut)> Try<T>(LeftOutKind kind, string? pin, string? sensor,
            Func<IProgress<StudyProgress>?, CancellationToken, T> study) where T : class => sections.Begin<(T?, LeftOut?)>((p, stop) =>
        {
            try
            {
                return (study(p, stop), null);
            }
            catch (Exception e) when (e is StudyProblemException or SolveException)
            {
                return (null, new(kind, pin, sensor, Problem.Of(e)));
            }
        });
    }
}
