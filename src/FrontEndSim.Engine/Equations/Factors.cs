using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The factors L·D·U of a matrix in the order of a <see cref="PivotPlan"/>, L and U with ones on their diagonals: row by
/// row, each row less the rows above it. The rows of linear steps are kept while the linear part stands; an iterate redoes the others only.
/// </summary>
internal sealed class Factors<L> where L : struct, ILane<L>
{
    /// <summary>Rows grown by more than this have lost all but a few digits.</summary>
    public const double WeakGrowth = 1e11;

    private readonly double _mostGrowth;
    private L _grown = L.Of(0);
    private readonly PivotPlan _plan;
    private readonly int _first;
    private readonly L[] _kept;
    private readonly L[] _values;
    private readonly L[] _inverse;
    private readonly L[] _work;
    private bool _isLinearWeak;

    /// <param name="plan">The order.</param>
    /// <param name="first">The first row.</param>
    /// <param name="mostGrowth">By how much a row may grow before the order is weak.</param>
    public Factors(PivotPlan plan, int first, double mostGrowth)
    {
        (_plan, _mostGrowth) = (plan, mostGrowth);
        _first = first;
        _kept = new L[plan.Columns.Length];
        _values = new L[plan.Columns.Length];
        _inverse = new L[plan.RowOrder.Length];
        _work = new L[plan.RowOrder.Length];
    }

    public PivotPlan Plan => _plan;

    /// <summary>Eliminates the linear steps of a matrix given by entries.</summary>
    public void FactorLinear(L[] matrix)
    {
        var plan = _plan;
        IsWeak = _isLinearWeak = false;
        _grown = L.Of(0);
        Array.Clear(_kept);
        int[] place = plan.PlaceOf;
        for (int p = 0; p < place.Length; p++)
        {
            if (place[p] >= 0)
                _kept[place[p]] += matrix[p];
        }
        int order = plan.RowOrder.Length, linear = plan.LinearSteps;
        ref L value = ref MemoryMarshal.GetArrayDataReference(_kept);
        for (int i = 0; i < order; i++)
        {
            Eliminate(ref value, plan.RowStart[i], Math.Min(plan.Split[i], plan.Diagonal[i]), plan.TargetStart[i]);
            if (i < linear)
                ScaleRow(ref value, i);
        }
        _isLinearWeak = IsWeak;
        Array.Copy(_kept, _values, _kept.Length);
    }

    /// <summary>Adds the nonlinear slopes and eliminates the steps that they touch.</summary>
    /// <param name="entries">The entries.</param>
    /// <param name="g">The slopes of currents, by entry.</param>
    /// <param name="c">Those of charges; null for none.</param>
    /// <param name="alpha">What those of charges weigh.</param>
    public void FactorNonlinear(int[] entries, L[] g, L[]? c, L alpha)
    {
        var plan = _plan;
        int linear = plan.LinearSteps, order = plan.RowOrder.Length;
        if (linear == order)
            return;
        IsWeak = _isLinearWeak;
        int start = plan.RowStart[linear];
        Array.Copy(_kept, start, _values, start, _kept.Length - start);
        ref L value = ref MemoryMarshal.GetArrayDataReference(_values);
        ref L slope = ref MemoryMarshal.GetArrayDataReference(g);
        ref int places = ref MemoryMarshal.GetArrayDataReference(plan.PlaceOf);
        foreach (int e in entries)
        {
            int place = Unsafe.Add(ref places, e);
            if (place >= 0)
                Unsafe.Add(ref value, place) += c is null ? Unsafe.Add(ref slope, e) : Unsafe.Add(ref slope, e) + alpha * c[e];
        }
        ref int split = ref MemoryMarshal.GetArrayDataReference(plan.Split);
        ref int diagonal = ref MemoryMarshal.GetArrayDataReference(plan.Diagonal);
        ref int target = ref MemoryMarshal.GetArrayDataReference(plan.TargetSplit);
        for (int i = linear; i < order; i++)
        {
            int from = Unsafe.Add(ref split, i), to = Unsafe.Add(ref diagonal, i);
            if (from < to)
                Eliminate(ref value, from, to, Unsafe.Add(ref target, i));
            ScaleRow(ref value, i);
        }
    }

    /// <summary>Whether some pivot was so small beside its row that digits were lost: the plan suits these values no more.</summary>
    public bool IsWeak { get; private set; }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void ScaleRow(ref L value, int row)
    {
        int diagonal = _plan.Diagonal[row], end = _plan.RowStart[row + 1];
        L inverse = L.Of(1) / Unsafe.Add(ref value, diagonal), largest = L.Of(0);
        _inverse[row] = inverse;
        for (int p = diagonal + 1; p < end; p++)
        {
            L scaled = Unsafe.Add(ref value, p) * inverse;
            Unsafe.Add(ref value, p) = scaled;
            largest = L.Max(largest, L.Abs(scaled));
        }
        if (!L.AllBelow(largest, _mostGrowth))
            NoteGrowth(largest);
    }

    private void NoteGrowth(L largest)
    {
        IsWeak = true;
        _grown = L.Max(_grown, largest);
    }

    /// <summary>Whether no row grew by more than so much.</summary>
    public bool HasGrownBelow(double growth) => !IsWeak || L.AllBelow(_grown, growth);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Eliminate(ref L value, int from, int to, int target)
    {
        ref int diagonal = ref MemoryMarshal.GetArrayDataReference(_plan.Diagonal);
        ref int rowStart = ref MemoryMarshal.GetArrayDataReference(_plan.RowStart);
        ref int column = ref MemoryMarshal.GetArrayDataReference(_plan.Columns);
        ref int targets = ref MemoryMarshal.GetArrayDataReference(_plan.Targets);
        ref L inverse = ref MemoryMarshal.GetArrayDataReference(_inverse);
        for (int p = from; p < to; p++)
        {
            int k = Unsafe.Add(ref column, p);
            L factor = Unsafe.Add(ref value, p);
            Unsafe.Add(ref value, p) = factor * Unsafe.Add(ref inverse, k);
            int end = Unsafe.Add(ref rowStart, k + 1);
            for (int q = Unsafe.Add(ref diagonal, k) + 1; q < end; q++)
            {
                ref L entry = ref Unsafe.Add(ref value, Unsafe.Add(ref targets, target++));
                entry = L.TakeProduct(entry, factor, Unsafe.Add(ref value, q));
            }
        }
    }

    /// <summary>
    /// Solves for the right-hand side <paramref name="b"/>, by row; <paramref name="x"/> gets the result by column. They
    /// may be one array.
    /// </summary>
    public void Solve(L[] b, L[] x)
    {
        // The inner loops of the time step: references without bounds checks, all places are the plan's own.
        ref int column = ref MemoryMarshal.GetArrayDataReference(_plan.Columns);
        ref L value = ref MemoryMarshal.GetArrayDataReference(_values);
        ref L work = ref MemoryMarshal.GetArrayDataReference(_work);
        ref Sole left = ref MemoryMarshal.GetArrayDataReference(_plan.Left), right = ref MemoryMarshal.GetArrayDataReference(_plan.Right);
        ref L inverse = ref MemoryMarshal.GetArrayDataReference(_inverse);
        ref L asked = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(b), _first);
        ref L found = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(x), _first);
        int[] diagonal = _plan.Diagonal, rowStart = _plan.RowStart, rowOrder = _plan.RowOrder, columnOrder = _plan.ColumnOrder;
        // What was worked out last is mostly what comes next: kept beside, it need not go through memory, which takes longer than the sum.
        L last = default, before = default;
        var chains = _plan.ChainsForth;
        for (int i = 0, c = 0; i < rowOrder.Length; c++)
        {
            var (from, to) = c < chains.Length ? chains[c] : (rowOrder.Length, 0);
            for (; i < from; i++)
            {
                L sum = Unsafe.Add(ref asked, rowOrder[i]);
                Sole sole = Unsafe.Add(ref left, i);
                if (sole.Place >= 0)
                {
                    L known = sole.Step == i - 2 ? before : sole.Step == i - 1 ? last : Unsafe.Add(ref work, sole.Step);
                    sum = L.TakeProduct(sum, Unsafe.Add(ref value, sole.Place), known);
                }
                else if (sole.Place == Sole.Several)
                {
                    int end = diagonal[i];
                    for (int p = rowStart[i]; p < end; p++)
                    {
                        int k = Unsafe.Add(ref column, p);
                        L known = k == i - 1 ? last : k == i - 2 ? before : Unsafe.Add(ref work, k);
                        sum = L.TakeProduct(sum, Unsafe.Add(ref value, p), known);
                    }
                }
                (before, last) = (last, L.FlushTiny(sum));
                Unsafe.Add(ref work, i) = last;
            }
            for (; i < to; i++)
            {
                L sum = L.TakeProduct(Unsafe.Add(ref asked, rowOrder[i]), Unsafe.Add(ref value, Unsafe.Add(ref left, i).Place), before);
                (before, last) = (last, L.FlushTiny(sum));
                Unsafe.Add(ref work, i) = last;
            }
        }
        chains = _plan.ChainsBack;
        for (int i = rowOrder.Length - 1, c = 0; i >= 0; c++)
        {
            var (from, to) = c < chains.Length ? chains[c] : (-1, rowOrder.Length);
            for (; i > from; i--)
            {
                L sum = Unsafe.Add(ref work, i) * Unsafe.Add(ref inverse, i);
                Sole sole = Unsafe.Add(ref right, i);
                if (sole.Place >= 0)
                {
                    L known = sole.Step == i + 2 ? before : sole.Step == i + 1 ? last : Unsafe.Add(ref work, sole.Step);
                    sum = L.TakeProduct(sum, Unsafe.Add(ref value, sole.Place), known);
                }
                else if (sole.Place == Sole.Several)
                {
                    int end = rowStart[i + 1];
                    for (int p = diagonal[i] + 1; p < end; p++)
                    {
                        int k = Unsafe.Add(ref column, p);
                        L known = k == i + 1 ? last : k == i + 2 ? before : Unsafe.Add(ref work, k);
                        sum = L.TakeProduct(sum, Unsafe.Add(ref value, p), known);
                    }
                }
                (before, last) = (last, L.FlushTiny(sum));
                Unsafe.Add(ref work, i) = last;
                Unsafe.Add(ref found, columnOrder[i]) = last;
            }
            for (; i > to; i--)
            {
                L sum = L.TakeProduct(Unsafe.Add(ref work, i) * Unsafe.Add(ref inverse, i),
                    Unsafe.Add(ref value, Unsafe.Add(ref right, i).Place), before);
                (before, last) = (last, L.FlushTiny(sum));
                Unsafe.Add(ref work, i) = last;
                Unsafe.Add(ref found, columnOrder[i]) = last;
            }
        }
    }
}
