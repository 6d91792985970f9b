namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The order in which a matrix is eliminated and the pattern that its factors fill, worked out once for a topology
/// from representative values: Markowitz (1957) counts for sparsity, a threshold on size for stability. Rows and
/// columns that no nonlinear part touches come first, so that their elimination holds from iterate to iterate.
/// </summary>
internal sealed class PivotPlan
{
    // A pivot may be this much smaller than the largest entry of its column: small enough to keep sparsity.
    private const double Threshold = 1e-2;

    // A diagonal entry may be much smaller where parts are nonlinear: it is a sum of conductances that stay, while the
    // slopes beside it (an op amp's gain, say) vanish when the part saturates, and the order must hold through that.
    private const double DiagonalThreshold = 1e-10;

    // How many columns of the smallest count are looked at for a pivot.
    private const int ColumnsLookedAt = 4;

    private PivotPlan(int order)
    {
        RowOrder = new int[order];
        ColumnOrder = new int[order];
        RowStart = new int[order + 1];
        Diagonal = new int[order];
        Split = new int[order];
    }

    /// <summary>Which row is eliminated at each step.</summary>
    public int[] RowOrder { get; }

    /// <summary>Which column is eliminated at each step.</summary>
    public int[] ColumnOrder { get; }

    /// <summary>How many steps involve linear rows and columns only.</summary>
    public int LinearSteps { get; private set; }

    /// <summary>Start of each row of the factors.</summary>
    public int[] RowStart { get; }

    /// <summary>Column (as a step) of each entry of the factors, ascending in each row.</summary>
    public int[] Columns { get; private set; } = [];

    /// <summary>Place of each row's diagonal entry.</summary>
    public int[] Diagonal { get; }

    /// <summary>In each row, the place of its first entry whose column is not a linear step.</summary>
    public int[] Split { get; }

    /// <summary>For each matrix entry, its place in the factors; −1 for entries outside.</summary>
    public int[] PlaceOf { get; private set; } = [];

    /// <summary>
    /// The places that each elimination adds to, in the order of the work: for each row, each left entry, each entry
    /// right of the diagonal in the row that it names.
    /// </summary>
    public int[] Targets { get; private set; } = [];

    /// <summary>Where the work of a row, and of a row beyond its <see cref="Split"/>, starts in <see cref="Targets"/>.</summary>
    public int[] TargetStart { get; private set; } = [];

    /// <summary>See <see cref="TargetStart"/>.</summary>
    public int[] TargetSplit { get; private set; } = [];

    /// <summary>
    /// Chooses the order for a matrix given by rows; entries in rows or columns below <paramref name="first"/> are left out.
    /// Returns null, with the step and the rows left, if the matrix is singular.
    /// </summary>
    public static PivotPlan? Make(int first, int[] rowStart, int[] columns, double[] values, bool[] nonlinear, out int[] stuckRows)
    {
        int order = rowStart.Length - 1 - first;
        var rows = new Dictionary<int, double>[order];
        var columnRows = new HashSet<int>[order];
        var linear = new bool[order];
        for (int c = 0; c < order; c++)
        {
            columnRows[c] = [];
            linear[c] = !nonlinear[c + first];
        }
        for (int r = 0; r < order; r++)
        {
            rows[r] = [];
            for (int p = rowStart[r + first]; p < rowStart[r + first + 1]; p++)
            {
                if (columns[p] < first)
                    continue;
                rows[r].Add(columns[p] - first, values[p]);
                columnRows[columns[p] - first].Add(r);
            }
        }

        var plan = new PivotPlan(order);
        var left = new List<(int Row, int Step)>(); // entries of L as (row, step)
        var upper = new int[order][]; // columns of U by step
        var stepOfColumn = new int[order];
        var stepOfRow = new int[order];
        var turnOf = new long[order];
        long turn = 0;
        int step = 0;
        foreach (bool linearRound in (ReadOnlySpan<bool>)[true, false])
        {
            // Columns by count; among equals the one that waited longest, so that the chains of dependent steps stay short.
            var queue = new SortedSet<(int Count, long Turn, int Column)>();
            var deferred = new HashSet<int>();
            for (int c = 0; c < order; c++)
            {
                if (columnRows[c] is not null && (!linearRound || linear[c]))
                    Enqueue(c);
            }
            while (queue.Count > 0)
            {
                int bestRow = -1, bestColumn = -1, looked = 0;
                long bestCost = long.MaxValue;
                double bestSize = 0;
                deferred.Clear();
                foreach (var (_, _, c) in queue)
                {
                    double largest = 0;
                    foreach (int r in columnRows[c])
                        largest = Math.Max(largest, Math.Abs(rows[r][c]));
                    bool any = false;
                    bool onDiagonal = !linearRound && columnRows[c].Contains(c) && Math.Abs(rows[c][c]) > DiagonalThreshold * largest;
                    foreach (int r in columnRows[c])
                    {
                        double size = Math.Abs(rows[r][c]);
                        if ((linearRound && !linear[r]) || size == 0 || (onDiagonal ? r != c : size < Threshold * largest))
                            continue;
                        any = true;
                        long cost = (long)(rows[r].Count - 1) * (columnRows[c].Count - 1);
                        if (cost < bestCost || (cost == bestCost && size > bestSize))
                            (bestRow, bestColumn, bestCost, bestSize) = (r, c, cost, size);
                    }
                    if (any)
                        looked++;
                    else if (linearRound)
                        deferred.Add(c); // no stable pivot in a linear row: the column waits for the second round
                    if (looked == ColumnsLookedAt || bestCost == 0)
                        break;
                }
                if (bestRow < 0)
                    break;
                foreach (int c in deferred)
                    Dequeue(c);

                // Eliminate.
                var pivotRow = rows[bestRow];
                double pivot = pivotRow[bestColumn];
                upper[step] = [.. pivotRow.Keys];
                foreach (int c in pivotRow.Keys)
                {
                    Dequeue(c);
                    columnRows[c].Remove(bestRow);
                }
                foreach (int r in columnRows[bestColumn])
                {
                    left.Add((r, step));
                    double factor = rows[r][bestColumn] / pivot;
                    rows[r].Remove(bestColumn);
                    foreach (var (c, value) in pivotRow)
                    {
                        if (c == bestColumn)
                            continue;
                        if (columnRows[c].Add(r))
                            rows[r].Add(c, -factor * value);
                        else
                            rows[r][c] -= factor * value;
                    }
                }
                foreach (int c in pivotRow.Keys)
                {
                    if (c != bestColumn && (!linearRound || (linear[c] && !deferred.Contains(c))))
                        Enqueue(c);
                }
                columnRows[bestColumn] = null!;
                rows[bestRow] = null!;
                plan.RowOrder[step] = bestRow;
                plan.ColumnOrder[step] = bestColumn;
                stepOfRow[bestRow] = step;
                stepOfColumn[bestColumn] = step;
                step++;
            }
            if (linearRound)
                plan.LinearSteps = step;

            void Enqueue(int c)
            {
                turnOf[c] = turn++;
                queue.Add((columnRows[c].Count, turnOf[c], c));
            }

            void Dequeue(int c) => queue.Remove((columnRows[c].Count, turnOf[c], c));
        }
        if (step < order)
        {
            stuckRows = [.. Enumerable.Range(0, order).Where(r => rows[r] is not null).Select(r => r + first)];
            return null;
        }
        stuckRows = [];
        plan.Lay(first, rowStart, columns, left, upper, stepOfRow, stepOfColumn);
        return plan;
    }

    private void Lay(int first, int[] rowStart, int[] columns, List<(int Row, int Step)> left, int[][] upper, int[] stepOfRow, int[] stepOfColumn)
    {
        int order = RowOrder.Length;
        var leftOf = new List<int>[order];
        for (int i = 0; i < order; i++)
            leftOf[i] = [];
        foreach (var (row, step) in left)
            leftOf[stepOfRow[row]].Add(step);

        var all = new List<int>();
        for (int i = 0; i < order; i++)
        {
            RowStart[i] = all.Count;
            leftOf[i].Sort();
            all.AddRange(leftOf[i]);
            Diagonal[i] = all.Count;
            all.AddRange(upper[i].Select(c => stepOfColumn[c]).Order());
            Split[i] = RowStart[i];
            while (Split[i] < all.Count && all[Split[i]] < LinearSteps)
                Split[i]++;
        }
        RowStart[order] = all.Count;
        Columns = [.. all];

        // One row of the factors at a time, spread out by column.
        var place = new int[order];
        PlaceOf = new int[columns.Length];
        Array.Fill(PlaceOf, -1);
        var targets = new List<int>();
        TargetStart = new int[order];
        TargetSplit = new int[order];
        for (int i = 0; i < order; i++)
        {
            for (int p = RowStart[i]; p < RowStart[i + 1]; p++)
                place[Columns[p]] = p;
            int row = RowOrder[i] + first;
            for (int p = rowStart[row]; p < rowStart[row + 1]; p++)
            {
                if (columns[p] >= first)
                    PlaceOf[p] = place[stepOfColumn[columns[p] - first]];
            }
            TargetStart[i] = TargetSplit[i] = targets.Count;
            for (int p = RowStart[i]; p < Diagonal[i]; p++)
            {
                if (p == Split[i])
                    TargetSplit[i] = targets.Count;
                int k = Columns[p];
                for (int q = Diagonal[k] + 1; q < RowStart[k + 1]; q++)
                    targets.Add(place[Columns[q]]);
            }
            if (Split[i] >= Diagonal[i])
                TargetSplit[i] = targets.Count;
        }
        Targets = [.. targets];
    }
}
