using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>What tolerances of the parts add to a figure that is not of the operating point, such as a gain at a frequency.</summary>
internal static class LooseParts
{
    // What a part at the end of its tolerance changes by less is nothing.
    private const double Negligible = 1e-6;

    /// <summary>The sum over all parts of the most that either end of a part's tolerance adds alone.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="added">What is added in a front end that has one part at an end of its tolerance, as a share of the figure.</param>
    public static double Sum(FrontEnd frontEnd, Func<FrontEnd, double> added) => frontEnd.AllParts.Sum(part =>
        new[] { false, true }.Max(high => part.AtTolerance(high) is { } moved && added(frontEnd.Replace(part, moved.Part)) is var more
            && more > Negligible ? more : 0));
}
