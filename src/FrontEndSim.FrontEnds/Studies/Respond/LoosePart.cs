using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>What a part at either end of its tolerance, or of what its bandwidth strays, adds to a figure that is not of the operating
/// point, such as a gain at a frequency.</summary>
/// <param name="Part">The part.</param>
/// <param name="Low">What it adds at its lower end, as a share of the figure.</param>
/// <param name="High">What it adds at its upper end.</param>
internal sealed record LoosePart(Part Part, double Low, double High)
{
    // What a part at the end of its tolerance changes by less is nothing.
    private const double Negligible = 1e-6;

    /// <summary>Those parts that add anything, each alone; the usual tolerance for those without one.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="added">What is added in a front end that has one part at an end of its tolerance, as a share of the figure.</param>
    public static ImmutableArray<LoosePart> Of(FrontEnd frontEnd, Func<FrontEnd, double> added)
    {
        var loose = frontEnd.WithUsualTolerances();
        return
        [
            .. loose.AllParts.Select(part => new LoosePart(part, At(part, false), At(part, true)))
                .Where(p => Math.Abs(p.Low) > Negligible || Math.Abs(p.High) > Negligible),
        ];

        double At(Part part, bool high) =>
            (part.AtTolerance(high)?.Part ?? part.AtBandwidth(high)) is { } moved ? added(loose.Replace(part, moved)) : 0;
    }

    /// <summary>The sum over all parts of the most that either end of a part's tolerance adds alone.</summary>
    /// <inheritdoc cref="Of"/>
    public static double Sum(FrontEnd frontEnd, Func<FrontEnd, double> added) =>
        Of(frontEnd, added).Sum(p => Math.Max(0, Math.Max(p.Low, p.High)));
}
