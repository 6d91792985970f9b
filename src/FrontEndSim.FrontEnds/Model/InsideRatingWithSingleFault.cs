using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>The pin stays inside its ratings with any one part, rail or sensor broken: at both ends of the span and in every
/// event.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record InsideRatingWithSingleFault(string Pin, string Text) : Requirement(Text)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        solved.FrontEnd.FindPin(Pin);
        var all = solved.Faults(progress, cancel).Faults.Where(r => r.Pin == Pin).ToArray();
        if (all.Length == 0)
            throw new StudyProblemException(new(ProblemKind.NothingToBreak, "", Text));
        var broken = all.Where(r => !r.Survives).ToArray();
        var deciding = (broken.Length == 0 ? all : broken).MinBy(r => r.Tightness)!;
        return new(this, broken.Length == 0 ? Verdict.Met : Verdict.NotMet,
            new SingleFaultReason(deciding, [.. broken.Where(r => r != deciding).Select(r => r.Fault!)], all.Length))
        {
            Found = Quantity.Number(broken.Length),
            Limit = Quantity.Number(0),
            Margin = Quantity.Number(-broken.Length),
            Candidates = broken.Length == 0 ? [] : [.. Mends(solved.FrontEnd, deciding)],
        };
    }

    private static IEnumerable<Mend> Mends(FrontEnd frontEnd, FaultRow worst)
    {
        var fault = worst.Fault!;
        var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == fault.Subject);
        bool isDiode = part?.FailureModes.Contains(FaultMode.Reversed) == true;
        Mend? ofPart = fault.Mode switch
        {
            FaultMode.Open when isDiode => new(MendKind.SecondClampIfOpen, fault.Subject),
            FaultMode.Reversed when isDiode => new(MendKind.SecondClampIfReversed, fault.Subject),
            FaultMode.Short when part?.InTwo("", "", 0.5) is not null => new(MendKind.SplitResistor, fault.Subject),
            _ => null,
        };
        if (ofPart is not null)
            yield return ofPart;
        if (MendTrials.Series(frontEnd, worst.Pin) is { } series && series.Name != fault.Subject)
            yield return new(MendKind.RaiseResistor, series.Name);
    }
}
