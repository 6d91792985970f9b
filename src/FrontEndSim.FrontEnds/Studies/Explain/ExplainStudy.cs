using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Puts the simulation beside the hand calculation of each stage, and finds out what makes them differ.</summary>
public static class ExplainStudy
{
    /// <summary>Explains every stage and every mapping.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="stage">Name of the only stage to explain; null for all.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some voltage.</exception>
    /// <exception cref="StudyProblemException">There is no stage of that name.</exception>
    public static ExplainResult Run(FrontEnd frontEnd, string? stage = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), stage, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string?, CancellationToken)"/>
    public static ExplainResult Run(SolvedFrontEnd solved, string? stage = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        ImmutableArray<MappingResult> mappings =
        [
            .. frontEnd.Pins.SelectMany(p => frontEnd.Sensors.Where(s => MappingStudy.Maps(frontEnd, p, s)).Select(s => Mapped(p, s)))
                .OfType<MappingResult>(),
        ];
        return new([.. (stage is null ? frontEnd.Stages : [frontEnd.FindStage(stage)]).Select(s => Explain(solved, s, cancel))], mappings)
        {
            Costs = [.. mappings.Select(m => solved.Costs(m, cancel))],
        };

        // A pin behind a capacitor follows its sensor at no steady voltage: its stages are explained all the same.
        MappingResult? Mapped(Pin pin, Sensor sensor)
        {
            try
            {
                return MappingStudy.Of(solved, pin, sensor, solved.Sweep(sensor.Name, RoundValues.In(sensor.Span), cancel: cancel), cancel);
            }
            catch (StudyProblemException)
            {
                return null;
            }
        }
    }

    private static StageExplanation Explain(SolvedFrontEnd solved, Stage stage, CancellationToken cancel)
    {
        return SignalPath.SensorOf(solved.FrontEnd, stage.Ports[0].Node) is { } sensor
            ? new StageExplainer(solved, stage, sensor, cancel).Explanation()
            : new(stage, [.. stage.HandMath.Select(h => new ExplainedStep(h, null, []))], "", [], []);
    }
}
