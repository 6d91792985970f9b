using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>What the hum on the sensors' lines leaves in a reading of a pin is below a limit, either way.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Maximum">It must be below this, counts or V, above zero.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record HumUnder(string Pin, Quantity Maximum, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        double unit = Maximum.Unit == Unit.Count ? MappingStudy.CountVolts(solved.FrontEnd, pin) : 1;
        var all = HumStudy.Run(solved, pin, cancel);
        if (all.IsEmpty)
            return new(this, Verdict.Met, new NothingToJudge());
        return Below(new(all.Sum(h => h.LeftVolts) / unit, Maximum.Unit), Maximum, new HumReason(Pin, all.MaxBy(h => h.LeftVolts)!));
    }
}
