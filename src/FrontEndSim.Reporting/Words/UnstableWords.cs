using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>What is said where a circuit does not stay at the point that its equations give.</summary>
public static class UnstableWords
{
    /// <summary>A warning; nothing where it stays.</summary>
    /// <param name="settlesTo">How many stable points it settles to; null where it stays.</param>
    /// <param name="shown">What is shown where it never settles.</param>
    public static IEnumerable<Block> Of(int? settlesTo, string shown)
    {
        if (settlesTo is { } points)
        {
            yield return new Lines([new("Warning", "With the sensors at mid-span the circuit does not stay where its currents balance: "
                + points switch
                {
                    0 => $"it never settles, so that it oscillates or runs away. {shown}",
                    1 => "it settles to one other point.",
                    _ => "it settles to one of two other points.",
                }) { Standing = Standing.Warning }]);
        }
    }
}
