using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>What can be said of a requirement.</summary>
public enum Verdict
{
    /// <summary>It is met wherever it was looked for.</summary>
    Met,

    /// <summary>It is not met at one place at least.</summary>
    NotMet,

    /// <summary>Nothing that was computed breaks it, but not all could be computed.</summary>
    NotKnown,
}

/// <summary>Whether a requirement is met, by how much, and what decides.</summary>
/// <param name="Requirement">The requirement.</param>
/// <param name="Verdict">What can be said of it.</param>
/// <param name="Reason">What decides.</param>
public sealed record RequirementResult(Requirement Requirement, Verdict Verdict, Reason Reason)
{
    /// <summary>What was found; null where nothing was, or where the pin has no rating. Infinite for a level that is never
    /// reached.</summary>
    public Quantity? Found { get; init; }

    /// <summary>The limit; null where there is none.</summary>
    public Quantity? Limit { get; init; }

    /// <summary>The distance between, negative beyond the limit; null where either is missing or the limit is never reached.</summary>
    public Quantity? Margin { get; init; }

    /// <summary>What might mend it, untried; empty if it is met.</summary>
    internal ImmutableArray<Mend> Candidates { get; init; } = [];

    /// <summary>What mends it, each tried: with it alone the requirement is met and all that was met still is. Empty where nothing was
    /// tried or held.</summary>
    public ImmutableArray<Mend> Mends { get; init; } = [];

    /// <summary>What stands in the way where something was tried and nothing holds; null otherwise.</summary>
    public MendObstacle? Obstacle { get; init; }

    /// <summary>The temperature that decides, °C, where a range was judged; null where there is one, or where the reason says it.</summary>
    public double? Celsius { get; init; }

    /// <summary>Whether it is met.</summary>
    public bool Met => Verdict == Verdict.Met;
}
