using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A part stays below a share of its rated power: at the operating point at both ends of the span, and in every event once its
/// heat is
/// averaged.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="MaximumShare">The share, above zero: 0.5 is half of the rating.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record PartPower(string Part, double MaximumShare, string Text) : Requirement(Text)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var part = solved.FrontEnd.AllParts.FirstOrDefault(p => p.Name == Part)
            ?? throw new StudyProblemException(new(ProblemKind.NoSuch, Part, "part")
            {
                Known = [.. solved.FrontEnd.AllParts.Select(p => p.Name)],
            });
        if (!part.Ratings(solved.FrontEnd.Celsius).Any(r => r.Kind == RatingKind.Power))
            throw new StudyProblemException(new(ProblemKind.NoRatedPower, $"{part.Word} {part.Name}", Text));
        var runs = solved.Everywhere(cancel);
        var found = runs.SelectMany(r => r.Loads.Where(l => l.Part == part.Name && l.Kind == RatingKind.Power)
            .Select(l => (r.Where, Load: l))).ToArray();
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (found.Length == 0)
            return new(this, Verdict.NotKnown, problem!);
        var (where, load) = found.MaxBy(f => f.Load.Share);
        var result = Below(Quantity.Share(load.Share), Quantity.Share(MaximumShare), new PartReason(load, where));
        return result.Met ? problem is null ? result : new(this, Verdict.NotKnown, problem)
            : result with
            {
                Candidates =
                [new(MendKind.HigherRating, part.Name) { Other = part.Word, To = new(load.Found.Value / MaximumShare, Unit.Watt) }]
            };
    }
}
