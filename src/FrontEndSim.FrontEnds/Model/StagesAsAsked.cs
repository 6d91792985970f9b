using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every stage does in simulation what it was asked for, as near as the tolerances of its own parts allow.</summary>
public sealed record StagesAsAsked() : Requirement("")
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        StepReason? worst = null;
        NotComputed? problem = null;
        foreach (var stage in solved.FrontEnd.Stages)
        {
            if (SignalPath.SensorOf(solved.FrontEnd, stage.Ports[0].Node) is not { } sensor)
                continue;
            var measurement = new StageMeasurement(stage, sensor, stage.Mapping?.Sensor == sensor.Name && sensor.Node == stage.Ports[0].Node, cancel);
            foreach (var step in stage.HandMath)
            {
                if (step is not { Allowed: { } allowed, Measure: { } measure })
                    continue;
                if (measurement.Of(measure, solved, step.Result) is not { } found || !double.IsFinite(found))
                    problem ??= new(null, $"The {step.What} of stage {stage.Name} cannot be measured in the circuit.");
                else if (worst is null || Math.Abs(found - step.Result) / allowed > worst.Share)
                    worst = new(stage.Name, step.What, step.Result, found, allowed, step.Unit);
            }
        }
        if (worst is null || problem is not null && worst.Share < 1)
            return new(this, problem is null ? Verdict.Met : Verdict.NotKnown, (Reason?)problem ?? new NothingToJudge());
        return Below(Quantity.Share(worst.Share), Quantity.Share(1), worst);
    }
}
