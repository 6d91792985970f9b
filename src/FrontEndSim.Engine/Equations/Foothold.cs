namespace FrontEndSim.Engine.Equations;

/// <summary>A solution that circuits of the same structure may start from: all unknowns, and the pivot order that suited them.
/// Immutable.</summary>
internal sealed class Foothold(Pattern wiring, double[] unknowns, PivotPlan? plan)
{
    /// <summary>The unknowns, by row.</summary>
    public IReadOnlyList<double> Unknowns => unknowns;

    /// <summary>The pivot order; null where none was chosen.</summary>
    public PivotPlan? Plan => plan;

    /// <summary>Whether equations have the same unknowns in the same places.</summary>
    public bool Fits(Pattern other) => other == wiring || other.FirstUnknown == wiring.FirstUnknown && other.Size == wiring.Size
        && other.RowStart.AsSpan().SequenceEqual(wiring.RowStart) && other.Columns.AsSpan().SequenceEqual(wiring.Columns)
        && other.NonlinearEntries.AsSpan().SequenceEqual(wiring.NonlinearEntries);
}
