using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>The pin stays inside its ratings with any one part, rail or sensor broken: at both ends of the span and in every event.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record InsideRatingWithSingleFault(string Pin, string Text) : Requirement(Text)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        solved.FrontEnd.FindPin(Pin);
        var all = solved.Faults(progress, cancel).Faults.Where(r => r.Pin == Pin).ToArray();
        if (all.Length == 0)
            throw new StudyProblemException($"\"{Text}\" cannot be judged: the circuit has nothing that could be broken.");
        var broken = all.Where(r => !r.Survives).ToArray();
        var deciding = (broken.Length == 0 ? all : broken).MinBy(r => r.Tightness)!;
        return new(this, broken.Length == 0 ? Verdict.Met : Verdict.NotMet,
            new SingleFaultReason(deciding, [.. broken.Where(r => r != deciding).Select(r => r.Fault!)], all.Length))
        {
            Found = Quantity.Number(broken.Length),
            Limit = Quantity.Number(0),
            Margin = Quantity.Number(-broken.Length),
            Mends = broken.Length == 0 ? [] : [Mend(solved.FrontEnd, deciding)],
        };
    }

    private static Mend Mend(FrontEnd frontEnd, FaultRow worst)
    {
        var fault = worst.Fault!;
        return (frontEnd.AllParts.FirstOrDefault(p => p.Name == fault.Subject), fault.Mode) switch
        {
            (DiodePart, FaultMode.Open) => new(MendKind.SecondClampIfOpen, fault.Subject),
            (DiodePart, FaultMode.Reversed) => new(MendKind.SecondClampIfReversed, fault.Subject),
            (ResistorPart, FaultMode.Short) => new(MendKind.SplitResistor, fault.Subject),
            (ResistorPart, FaultMode.Open) => new(MendKind.SecondWay, fault.Subject),
            (_, FaultMode.RailLost or FaultMode.RailOpen) => new(MendKind.LimitWhileOff, fault.Subject) { Other = worst.Pin },
            (OpAmpPart, _) => new(MendKind.SofterOpAmp, fault.Subject) { Other = worst.Pin },
            _ => new(MendKind.LimitInFault, worst.Pin) { Other = fault.Text },
        };
    }
}
