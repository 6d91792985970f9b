namespace FrontEndSim.Engine.Equations;

/// <summary>
/// What all solutions of one circuit share: the numbering, the matrix pattern, and the pivot order to begin with.
/// Immutable.
/// </summary>
internal sealed class Topology
{
    private readonly Dictionary<string, int> _index;
    private readonly Lazy<PivotPlan?> _firstPlan;
    private readonly Lazy<int[][]> _bentColumns;

    public Topology(ImmutableArray<Element> elements, double celsius)
    {
        Elements = elements;
        Kelvin = celsius + Constants.ZeroCelsius;
        _index = elements.Select((e, k) => (e.Name, k)).ToDictionary(e => e.Name, e => e.k);
        Wiring = new WiringSurvey(elements).ToPattern();
        NonlinearRows = new bool[Wiring.Size];
        var rowOf = new int[Wiring.EntryCount];
        for (int r = 0; r < Wiring.Size; r++)
            Array.Fill(rowOf, r, Wiring.RowStart[r], Wiring.RowStart[r + 1] - Wiring.RowStart[r]);
        foreach (int e in Wiring.NonlinearEntries)
        {
            NonlinearRows[rowOf[e]] = true;
            NonlinearRows[Wiring.Columns[e]] = true;
        }
        NonlinearRowOf = [.. Wiring.NonlinearEntries.Select(e => rowOf[e])];
        IsCurrent = [.. Enumerable.Range(0, Wiring.Size).Select(Wiring.CurrentRows.Contains)];
        IsBalance = [.. Enumerable.Range(0, Wiring.Size).Select(r => !IsCurrent[r] && !Wiring.StateRows.Contains(r))];
        Diagonals = [.. Enumerable.Range(0, Wiring.EntryCount)
            .Where(p => rowOf[p] == Wiring.Columns[p] && rowOf[p] >= Wiring.FirstUnknown && !Wiring.CurrentRows.Contains(rowOf[p]))];
        HeldRows = [.. Diagonals.Select(p => rowOf[p])];
        _bentColumns = new(() => [.. elements.Select(e => new BentColumns(Wiring).Of(e))]);
        // From the nominal circuit with all voltages zero: every kernel begins with the same order, whoever was there before,
        // so that a solution depends on nothing but its own numbers.
        _firstPlan = new(() => new Kernel<Scalar>(this).PlanAtZero());
    }

    public ImmutableArray<Element> Elements { get; }

    public double Kelvin { get; }

    public Pattern Wiring { get; }

    /// <summary>The pivot order that kernels begin with; null where the matrix is singular there.</summary>
    public PivotPlan? FirstPlan => _firstPlan.Value;

    /// <summary>Rows (and columns) that some nonlinear part touches.</summary>
    public bool[] NonlinearRows { get; }

    /// <summary>The row of each entry that nonlinear parts change.</summary>
    public int[] NonlinearRowOf { get; }

    /// <summary>By row: whether it is a branch current.</summary>
    public bool[] IsCurrent { get; }

    /// <summary>By row: whether it is a sum of currents.</summary>
    public bool[] IsBalance { get; }

    /// <summary>The columns that each part bends in, in the order of <see cref="Elements"/>.</summary>
    public int[][] ColumnsBent => _bentColumns.Value;

    /// <summary>Matrix entries on the diagonal of all unknown voltages.</summary>
    public int[] Diagonals { get; }

    /// <summary>The rows of <see cref="Diagonals"/>.</summary>
    public int[] HeldRows { get; }

    /// <summary>Place of a part in <see cref="Elements"/>, or −1.</summary>
    public int IndexOf(string element) => _index.GetValueOrDefault(element, -1);
}
