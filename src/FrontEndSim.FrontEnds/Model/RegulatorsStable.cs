using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every regulator has at its output the capacitance that its sheet asks for, with the least that its capacitors have left at its
/// voltage: with less its loop, which is not simulated, may oscillate.</summary>
public sealed record RegulatorsStable() : Requirement("")
{
    // A sheet asks for a nominal value of a good ceramic and so allows for its tolerance of 20 %, the 15 % that X7R moves over temperature
    // and some 6 % by age, but not for what volts across it take (common practice, no source). The rest is rounding.
    private const double LeastShare = 0.8 * 0.85 * 0.94 * (1 - 1e-9);

    /// <summary>Where a sheet asks for any.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.AsksAtOutput is not null) ? [new RegulatorsStable()] : [];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        var worst = frontEnd.AllParts.Where(p => p.AsksAtOutput is not null).Select(p => Of(frontEnd, p))
            .MinBy(c => c.FoundFarads / c.AskedFarads)!;
        Quantity found = new(worst.FoundFarads, Unit.Farad), limit = new(LeastShare * worst.AskedFarads, Unit.Farad);
        return new(this, worst.FoundFarads >= LeastShare * worst.AskedFarads ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = found,
            Limit = limit,
            Margin = found - limit,
        };
    }

    /// <summary>All capacitors between its output and its ground pin together, at the most that it gives.</summary>
    private static OutputCapacitorReason Of(FrontEnd frontEnd, Part regulator)
    {
        var (output, ground, asked) = regulator.AsksAtOutput!.Value;
        double volts = regulator.Regulates?.Volts.High ?? 0;
        CapacitorPart[] there =
            [.. frontEnd.AllParts.OfType<CapacitorPart>().Where(c => c.Nodes.Contains(output) && c.Nodes.Contains(ground))];
        return new(regulator.Name, asked, there.Sum(c => c.Farads.Value), there.Sum(c => c.LeastFarads(volts)), volts);
    }
}
