namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Events with the traces that were asked for.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Events">The events, at least one.</param>
public sealed record EventRuns(string Title, ImmutableArray<EventResult> Events)
{
    /// <summary>Where the circuit does not stay at the point that its events begin from: how many stable points it settles to in time, 0
    /// where it never settles. Null where it stays.</summary>
    public int? SettlesTo { get; init; }
}
