namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The order in which a matrix is eliminated and the pattern that its factors fill, worked out once for a topology
/// from representative values: <see cref="PivotSearch"/> for sparsity and stability. Rows and
/// columns that no nonlinear part touches come first, so that their elimination holds from iterate to iterate.
/// </summary>
internal sealed class PivotPlan
{
    private PivotPlan(PivotSearch search)
    {
        (RowOrder, ColumnOrder) = (search.RowOrder, search.ColumnOrder);
        int order = RowOrder.Length;
        RowStart = new int[order + 1];
        Diagonal = new int[order];
        Split = new int[order];
    }

    /// <summary>Which row is eliminated at each step.</summary>
    public int[] RowOrder { get; }

    /// <summary>Which column is eliminated at each step.</summary>
    public int[] ColumnOrder { get; }

    /// <summary>How many steps involve linear rows and columns only.</summary>
    public int LinearSteps { get; private init; }

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

    /// <summary>Left of each row's diagonal: its entry, where it has one alone.</summary>
    public Sole[] Left { get; private set; } = [];

    /// <summary>Right of it.</summary>
    public Sole[] Right { get; private set; } = [];

    /// <summary>Runs of rows, from one up to another, whose only entry left of the diagonal is in the column two steps before: where a
    /// chain of nodes is eliminated from both ends in turn.</summary>
    public (int From, int To)[] ChainsForth { get; private set; } = [];

    /// <summary>The same of rows whose only entry right of it is in the column two steps after, backwards: the last row, and the one before
    /// the first.</summary>
    public (int From, int To)[] ChainsBack { get; private set; } = [];

    /// <summary>Where the work of a row, and of a row beyond its <see cref="Split"/>, starts in <see cref="Targets"/>.</summary>
    public int[] TargetStart { get; private set; } = [];

    /// <summary>See <see cref="TargetStart"/>.</summary>
    public int[] TargetSplit { get; private set; } = [];

    /// <summary>
    /// Chooses the order for a matrix given by rows; entries in rows or columns below <paramref name="first"/> are left out.
    /// Returns null, with the rows left, if the matrix is singular.
    /// </summary>
    public static PivotPlan? Make(int first, int[] rowStart, int[] columns, double[] values, bool[] nonlinear, bool[] current,
        out int[] stuckRows)
    {
        var search = new PivotSearch(first, rowStart, columns, values, nonlinear, current);
        search.Eliminate(linearOnly: true);
        int linear = search.Steps;
        search.Eliminate(linearOnly: false);
        stuckRows = [.. search.RowsLeft.Select(r => r + first)];
        if (stuckRows.Length > 0)
            return null;
        var plan = new PivotPlan(search) { LinearSteps = linear };
        plan.SetColumns(search);
        plan.SetTargets(first, rowStart, columns, search.StepOfColumn);
        return plan;
    }

    /// <summary>The pattern of the factors, row by row.</summary>
    private void SetColumns(PivotSearch search)
    {
        int order = RowOrder.Length;
        var leftOf = new List<int>[order];
        for (int i = 0; i < order; i++)
            leftOf[i] = [];
        foreach (var (row, step) in search.Left)
            leftOf[search.StepOfRow[row]].Add(step);

        var all = new List<int>();
        for (int i = 0; i < order; i++)
        {
            RowStart[i] = all.Count;
            leftOf[i].Sort();
            all.AddRange(leftOf[i]);
            Diagonal[i] = all.Count;
            all.AddRange(search.Upper[i].Select(c => search.StepOfColumn[c]).Order());
            Split[i] = RowStart[i];
            while (Split[i] < all.Count && all[Split[i]] < LinearSteps)
                Split[i]++;
        }
        RowStart[order] = all.Count;
        Columns = [.. all];
        Left = [.. Enumerable.Range(0, order).Select(i => Sole.Of(Columns, RowStart[i], Diagonal[i]))];
        Right = [.. Enumerable.Range(0, order).Select(i => Sole.Of(Columns, Diagonal[i] + 1, RowStart[i + 1]))];
        ChainsForth = [.. Chains(i => Left[i].Place >= 0 && Left[i].Step == i - 2, 0, order, 1)];
        ChainsBack = [.. Chains(i => Right[i].Place >= 0 && Right[i].Step == i + 2, order - 1, -1, -1)];
    }

    // Shorter runs are not worth a loop of their own.
    private const int ShortestChain = 8;

    private static IEnumerable<(int From, int To)> Chains(Func<int, bool> isLink, int from, int end, int step)
    {
        for (int i = from; i != end; i += step)
        {
            int first = i;
            while (i != end && isLink(i))
                i += step;
            if (Math.Abs(i - first) >= ShortestChain)
                yield return (first, i);
            if (i == end)
                yield break;
        }
    }

    /// <summary>Where the matrix's entries fall, and what each elimination adds to: one row at a time, spread out by column.</summary>
    private void SetTargets(int first, int[] rowStart, int[] columns, int[] stepOfColumn)
    {
        int order = RowOrder.Length;
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

/// <summary>An entry that its side of a row has alone, as every row of a chain or tree of nodes does but few.</summary>
/// <param name="Place">Its place in the factors; −1 where that side has none, −2 where it has several.</param>
/// <param name="Step">Its column, as a step.</param>
internal readonly record struct Sole(int Place, int Step)
{
    /// <summary>Where there are several.</summary>
    public const int Several = -2;

    /// <summary>Of the entries from one place up to another.</summary>
    public static Sole Of(int[] columns, int from, int to) =>
        to - from == 1 ? new(from, columns[from]) : new(to == from ? -1 : Several, -1);
}
