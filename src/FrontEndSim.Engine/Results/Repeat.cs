namespace FrontEndSim.Engine.Results;

/// <summary>Steps of a record that stand for more of the same: what is recorded after them comes that much later.</summary>
/// <param name="First">The first of them.</param>
/// <param name="End">The one after the last.</param>
/// <param name="Times">How often they come once more, at least 1.</param>
/// <param name="Period">How long they take, s.</param>
internal readonly record struct Repeat(int First, int End, int Times, double Period);
