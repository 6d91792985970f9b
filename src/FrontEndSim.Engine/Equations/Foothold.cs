using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Equations;

/// <summary>A solution that circuits of the same structure, or with a part broken, may start from: all unknowns, and the pivot order that
/// suited them. Immutable.</summary>
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

    // Of another structure at least this share of what stands here has to be found there; less of it says nothing.
    private const double AlikeShare = 0.5;

    /// <summary>What stands here under the names of a circuit of another structure, such as this one with a part broken or with the
    /// inductance of its leads: an inductance holds both of its ends alike, and of what is not here nothing is known. Null where little of
    /// this circuit is found there.</summary>
    public Foothold? In(Topology other)
    {
        var there = other.Wiring;
        var found = new double[there.Size];
        var isKnown = new bool[there.Size];
        int alike = 0;
        for (int r = 0; r < found.Length; r++)
        {
            int row = wiring.RowOf(there.Names[r], isInner: r >= there.NodeCount);
            if (row < 0)
                continue;
            (found[r], isKnown[r]) = (unknowns[row], true);
            alike++;
        }
        if (alike < AlikeShare * wiring.Size)
            return null;
        (int From, int To)[] leads = [.. other.Elements.OfType<Inductor>().Select(l => (there.Node(l.From), there.Node(l.To)))];
        for (bool isFurther = true; isFurther;)
        {
            isFurther = false;
            foreach (var (from, to) in leads)
            {
                if (isKnown[from] == isKnown[to])
                    continue;
                var (known, open) = isKnown[from] ? (from, to) : (to, from);
                (found[open], isKnown[open], isFurther) = (found[known], true, true);
            }
        }
        return new(there, found, null);
    }
}
