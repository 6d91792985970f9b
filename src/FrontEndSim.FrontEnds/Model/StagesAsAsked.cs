using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every stage does in simulation what it was asked for, as near as the tolerances of its own parts allow.</summary>
public sealed record StagesAsAsked() : Requirement("")
{
    /// <summary>Where a stage was asked for something.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.Stages.Any(s => s.HandMath.Any(h => h.Allowed is not null)) ? [new StagesAsAsked()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        StepReason? worst = null;
        NotComputed? problem = null;
        foreach (var (at, stage) in Pieces(solved).SelectMany(at => at.FrontEnd.Stages.Select(stage => (at, stage))))
        {
            if (SignalPath.SensorOf(at.FrontEnd, stage.Ports[0].Node) is not { } sensor)
                continue;
            var measurement = new StageMeasurement(stage, sensor, stage.Mapping?.Sensor == sensor.Name
                && sensor.Node == stage.Ports[0].Node, cancel);
            foreach (var step in stage.HandMath)
            {
                if (step is not { Allowed: { } allowed, Measure: { } measure })
                    continue;
                if (measurement.Of(measure, at, step.Result) is not { } found || !double.IsFinite(found))
                    problem ??= new(null, new(ProblemKind.NotMeasured, stage.Name, step.What));
                else if (worst is null || Math.Abs(found - step.Result) / allowed > worst.Share)
                    worst = new(stage.Name, step.What, step.Result, found, allowed, step.Unit);
            }
        }
        if (worst is null || problem is not null && worst.Share < 1)
            return new(this, problem is null ? Verdict.Met : Verdict.NotKnown, (Reason?)problem ?? new NothingToJudge());
        return Below(Quantity.Share(worst.Share), Quantity.Share(1), worst);
    }

    /// <summary>The front end as it is, and with transistors at either end of their spread, by which they switch or do not.</summary>
    private static IEnumerable<SolvedFrontEnd> Pieces(SolvedFrontEnd solved)
    {
        yield return solved;
        var frontEnd = solved.FrontEnd;
        if (!frontEnd.Stages.Any(s => s.Parts.Any(IsTried)))
            yield break;
        foreach (bool high in new[] { false, true })
        {
            Part At(Part part) => IsTried(part) ? part.AtLimit(high)!.Value.Part : part;
            yield return solved.With(frontEnd with
            {
                Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Select(At)] })],
            });
        }
    }

    private static bool IsTried(Part part) => part.IsSwitched && part.AtLimit(true) is not null;
}
