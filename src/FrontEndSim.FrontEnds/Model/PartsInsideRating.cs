using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every part keeps its ratings at the operating point over the whole span and in every event, but for what is accepted.</summary>
/// <param name="Text">The requirement in words; empty where nobody wrote it.</param>
public sealed record PartsInsideRating(string Text = "") : Requirement(Text)
{
    /// <summary>Where a part has a rating.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.Rated.Any(p => !p.Ratings(frontEnd.Celsius).IsEmpty) ? [new PartsInsideRating()] : [];

    internal override bool Covers(Requirement implied) => implied is PartsInsideRating;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var runs = solved.Everywhere(cancel);
        var loads = runs.SelectMany(r => r.Loads.Select(l => (r.Where, Load: l)))
            .Where(x => !solved.FrontEnd.Accepted.Any(a => a.Covers(x.Load.Part, x.Load.Kind.Word, x.Where.Event))).ToArray();
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (loads.Length == 0)
            return new(this, problem is null ? Verdict.Met : Verdict.NotKnown, (Reason?)problem ?? new NothingToJudge());
        var (where, worst) = loads.MaxBy(x => x.Load.Share);
        ImmutableArray<PartBeyond> beyond =
        [
            .. loads.Where(x => x.Load.Share > 1).GroupBy(x => (x.Load.Part, x.Load.Kind)).Select(g =>
            {
                var (at, most) = g.MaxBy(x => x.Load.Share);
                return new PartBeyond(most, at, g.Select(x => x.Where.Event).Distinct().Count(e => e is not null && e != at.Event));
            }).OrderByDescending(b => b.Part.Share),
        ];
        if (beyond.IsEmpty && problem is not null)
            return new(this, Verdict.NotKnown, problem);
        var limit = Quantity.Share(1);
        return new(this, beyond.IsEmpty ? Verdict.Met : Verdict.NotMet, new PartsReason(worst, where, beyond))
        {
            Found = Quantity.Share(worst.Share),
            Limit = limit,
            Margin = Quantity.Share(1 - worst.Share),
        };
    }
}
