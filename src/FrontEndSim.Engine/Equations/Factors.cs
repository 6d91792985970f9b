namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The triangular factors of a matrix in the order of a <see cref="PivotPlan"/>: row by row, each row less the rows
/// above it. The rows of linear steps are kept while the linear part stands; an iterate redoes the others only.
/// </summary>
internal sealed class Factors<L> where L : struct, ILane<L>
{
    private readonly PivotPlan _plan;
    private readonly int _first;
    private readonly L[] _kept;
    private readonly L[] _values;
    private readonly L[] _inverse;
    private readonly L[] _work;

    public Factors(PivotPlan plan, int first)
    {
        _plan = plan;
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
        Array.Clear(_kept);
        int[] place = plan.PlaceOf;
        for (int p = 0; p < place.Length; p++)
        {
            if (place[p] >= 0)
                _kept[place[p]] += matrix[p];
        }
        int order = plan.RowOrder.Length, linear = plan.LinearSteps;
        for (int i = 0; i < order; i++)
        {
            Eliminate(_kept, plan.RowStart[i], Math.Min(plan.Split[i], plan.Diagonal[i]), plan.TargetStart[i]);
            if (i < linear)
                _inverse[i] = L.Of(1) / _kept[plan.Diagonal[i]];
        }
        Array.Copy(_kept, _values, _kept.Length);
    }

    /// <summary>Adds the nonlinear slopes and eliminates the steps that they touch.</summary>
    public void FactorNonlinear(int[] entries, L[] g, L[] c, L alpha)
    {
        var plan = _plan;
        int linear = plan.LinearSteps, order = plan.RowOrder.Length;
        if (linear == order)
            return;
        int start = plan.RowStart[linear];
        Array.Copy(_kept, start, _values, start, _kept.Length - start);
        foreach (int e in entries)
        {
            int place = plan.PlaceOf[e];
            if (place >= 0)
                _values[place] += g[e] + alpha * c[e];
        }
        for (int i = linear; i < order; i++)
        {
            Eliminate(_values, plan.Split[i], plan.Diagonal[i], plan.TargetSplit[i]);
            _inverse[i] = L.Of(1) / _values[plan.Diagonal[i]];
        }
    }

    private void Eliminate(L[] values, int from, int to, int target)
    {
        int[] columns = _plan.Columns, diagonal = _plan.Diagonal, rowStart = _plan.RowStart, targets = _plan.Targets;
        for (int p = from; p < to; p++)
        {
            int k = columns[p];
            L factor = values[p] * _inverse[k];
            values[p] = factor;
            int end = rowStart[k + 1];
            for (int q = diagonal[k] + 1; q < end; q++)
            {
                int t = targets[target++];
                values[t] -= factor * values[q];
            }
        }
    }

    /// <summary>Solves for the right-hand side <paramref name="b"/>, by row; <paramref name="x"/> gets the result by column. They may be one array.</summary>
    public void Solve(L[] b, L[] x)
    {
        int[] columns = _plan.Columns, diagonal = _plan.Diagonal, rowStart = _plan.RowStart, rowOrder = _plan.RowOrder;
        L[] work = _work, values = _values;
        for (int i = 0; i < work.Length; i++)
        {
            L sum = b[rowOrder[i] + _first];
            int end = diagonal[i];
            for (int p = rowStart[i]; p < end; p++)
                sum -= values[p] * work[columns[p]];
            work[i] = sum;
        }
        for (int i = work.Length - 1; i >= 0; i--)
        {
            L sum = work[i];
            int end = rowStart[i + 1];
            for (int p = diagonal[i] + 1; p < end; p++)
                sum -= values[p] * work[columns[p]];
            work[i] = sum * _inverse[i];
        }
        int[] columnOrder = _plan.ColumnOrder;
        for (int i = 0; i < work.Length; i++)
            x[columnOrder[i] + _first] = work[i];
    }
}
