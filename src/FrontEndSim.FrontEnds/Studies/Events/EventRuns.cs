namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Events with the traces that were asked for.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Events">The events, at least one.</param>
public sealed record EventRuns(string Title, ImmutableArray<EventResult> Events);
