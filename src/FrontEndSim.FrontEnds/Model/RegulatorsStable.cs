using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every regulator has at its output the capacitance that its sheet asks for: with less its loop, which is not simulated, may
/// oscillate.</summary>
public sealed record RegulatorsStable() : Requirement("")
{
    // A capacitor of 20 % at the lower end of its tolerance still is what a sheet asks for.
    private const double LeastShare = 0.8;

    /// <summary>Where a sheet asks for any.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.AsksAtOutput is not null) ? [new RegulatorsStable()] : [];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var worst = solved.FrontEnd.AllParts.Where(p => p.AsksAtOutput is not null).Select(p =>
        {
            var (output, ground, farads) = p.AsksAtOutput!.Value;
            return new OutputCapacitorReason(p.Name, farads, Farads(solved.FrontEnd, output, ground));
        }).MinBy(c => c.FoundFarads / c.AskedFarads)!;
        Quantity found = new(worst.FoundFarads, Unit.Farad), limit = new(LeastShare * worst.AskedFarads, Unit.Farad);
        return new(this, worst.FoundFarads >= LeastShare * worst.AskedFarads ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = found,
            Limit = limit,
            Margin = found - limit,
        };
    }

    /// <summary>All capacitors between two nodes together, F.</summary>
    private static double Farads(FrontEnd frontEnd, string first, string second) => frontEnd.AllParts
        .Where(p => p.BlocksLasting && p.Value?.Unit == Unit.Farad && p.Nodes.Contains(first) && p.Nodes.Contains(second))
        .Sum(p => p.Value!.Amount.Value);
}
