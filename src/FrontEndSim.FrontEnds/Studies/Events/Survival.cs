using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What an event, or the operating point, does from one circumstance.</summary>
/// <param name="Where">The circumstance.</param>
public sealed record SurvivalRun(Occasion Where)
{
    /// <summary>What reaches each pin; empty where nothing could be computed.</summary>
    public ImmutableArray<PinExposure> Pins { get; init; } = [];

    /// <summary>What each part bears of each of its ratings; empty where nothing could be computed.</summary>
    public ImmutableArray<PartLoad> Loads { get; init; } = [];

    /// <summary>What the nodes reach of which something is required.</summary>
    public ImmutableArray<NodeExposure> Nodes { get; init; } = [];

    /// <summary>What the rails take of which something is required.</summary>
    public ImmutableArray<RailTake> Rails { get; init; } = [];

    /// <summary>How far each rail is moved; empty where nothing could be computed.</summary>
    public ImmutableArray<RailExposure> Lifts { get; init; } = [];

    /// <summary>What is driven through each sensor of which nothing says what it withstands; empty at the operating point.</summary>
    public ImmutableArray<SensorDriven> Driven { get; init; } = [];

    /// <summary>The largest lasting current of a supply, coil or contact that nothing limits; null where none carries much.</summary>
    public UnlimitedCurrent? Unlimited { get; init; }

    /// <summary>What could not be computed, or is beyond what its audit allows; null where all could.</summary>
    public NotComputed? Problem { get; init; }

    /// <summary>What the run took, in steps times elements; 0 at the operating point.</summary>
    internal long StepElements { get; init; }
}

/// <summary>An event, or the operating point, at the worst circumstances that were found.</summary>
/// <param name="Runs">Every circumstance looked at, the nominal one first.</param>
/// <param name="Deciding">The event where a pin comes nearest to a rating; null for the operating point, or where nothing could be
/// computed.</param>
public sealed record Survival(ImmutableArray<SurvivalRun> Runs, EventResult? Deciding)
{
    /// <summary>How near each objective of the search comes to its limit, and where.</summary>
    internal ImmutableArray<WorstPlace> Worst { get; init; } = [];

    /// <summary>How many of what is moved are moved always.</summary>
    internal int Ends { get; init; }
}

/// <summary>Where an objective of a search comes nearest to its limit.</summary>
/// <param name="Score">How near: 1 at the limit.</param>
/// <param name="At">The end of all that is moved.</param>
internal sealed record WorstPlace(double Score, ImmutableArray<int> At);
