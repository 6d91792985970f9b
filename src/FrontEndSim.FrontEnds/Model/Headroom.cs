using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Each op amp of a stage keeps a distance from the limits of its output swing and its inputs' common mode.</summary>
/// <param name="Stage">Name of the stage.</param>
/// <param name="MinimumVolts">The distance must be above this, V.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record Headroom(string Stage, double MinimumVolts, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var stage = solved.FrontEnd.FindStage(Stage);
        var amps = stage.Parts.Where(p => p.Amplifier is not null).ToDictionary(p => p.Name);
        if (amps.Count == 0)
            throw new StudyProblemException(new(ProblemKind.StageWithoutOpAmp, stage.Name, Text));
        var readings = solved.Mappings(cancel).SelectMany(m => m.Headroom).Where(h => amps.ContainsKey(h.OpAmp)).ToArray();
        if (readings.Length == 0)
            readings = [.. BiasStudy.Run(solved, cancel: cancel).Headroom.Where(h => amps.ContainsKey(h.OpAmp))];
        var worst = readings.MinBy(h => h.Volts)!;
        var reason = new HeadroomReason(worst, worst.SwingVolts <= worst.CommonModeVolts);
        var result = Above(new(worst.Volts, Unit.Volts), new(MinimumVolts, Unit.Volts), reason);
        if (result.Met)
            return result;
        var amp = amps[worst.OpAmp];
        bool isUpper = reason.Side == "upper";
        return result with
        {
            Candidates =
            [
                new(isUpper ? MendKind.RaiseRail : MendKind.LowerRail, isUpper ? amp.Amplifier!.PositiveRail : amp.Amplifier!.NegativeRail)
                {
                    To = new(MinimumVolts - worst.Volts, Unit.Volts),
                    Other = amp.ValueText,
                },
            ],
        };
    }
}
