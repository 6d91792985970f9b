namespace FrontEndSim.Engine.Equations;

/// <summary>
/// Eliminates a matrix pivot by pivot on sparse rows, choosing each by Markowitz's count (1957) among those of sufficient size:
/// what <see cref="PivotPlan"/> is made from.
/// </summary>
internal sealed class PivotSearch
{
    // A pivot may be this much smaller than the largest entry of its column: small enough to keep sparsity.
    private const double Threshold = 1e-2;

    // A diagonal entry may be much smaller where parts are nonlinear: it is a sum of conductances that stay, while the
    // slopes beside it (an op amp's gain, say) vanish when the part saturates, and the order must hold through that.
    private const double DiagonalThreshold = 1e-10;

    // Of pivots that cost the same, the largest is taken; in matrices of this order and more the one that waited longest, unless another is
    // this much larger: there chains of nodes are long, and those eliminated from both ends in turn wait half as long.
    private const int LongOrder = 128;
    private const double MuchLarger = 10;

    // How many columns of the smallest count are looked at for a pivot.
    private const int ColumnsLookedAt = 4;

    private readonly Dictionary<int, double>?[] _rows;
    private readonly HashSet<int>?[] _columnRows;
    private readonly bool[] _isLinear, _isBranch;
    private readonly long[] _turnOf;

    // Columns by count; among equals the one that waited longest, so that the chains of dependent steps stay short.
    private readonly SortedSet<(int Count, long Turn, int Column)> _queue = [];
    private readonly HashSet<int> _deferred = [];
    private readonly List<(int Row, double Size)> _candidates = [];
    private readonly double _larger;
    private long _turn;
    private bool _linearOnly;

    /// <summary>A matrix given by rows; entries in rows or columns below <paramref name="first"/> are left out.</summary>
    /// <param name="first">The first row and column.</param>
    /// <param name="rowStart">Start of each row.</param>
    /// <param name="columns">Column of each entry.</param>
    /// <param name="values">Value of each entry.</param>
    /// <param name="nonlinear">Which rows and columns nonlinear parts touch.</param>
    /// <param name="current">Which are branch currents.</param>
    public PivotSearch(int first, int[] rowStart, int[] columns, double[] values, bool[] nonlinear, bool[] current)
    {
        int order = rowStart.Length - 1 - first;
        _rows = new Dictionary<int, double>?[order];
        _columnRows = new HashSet<int>?[order];
        _turnOf = new long[order];
        _larger = order < LongOrder ? 1 : MuchLarger;
        _isLinear = new bool[order];
        _isBranch = new bool[order];
        (RowOrder, ColumnOrder, StepOfRow, StepOfColumn) = (new int[order], new int[order], new int[order], new int[order]);
        Upper = new int[order][];
        for (int c = 0; c < order; c++)
        {
            _columnRows[c] = [];
            _isLinear[c] = !nonlinear[c + first];
            _isBranch[c] = nonlinear[c + first] && current[c + first];
        }
        for (int r = 0; r < order; r++)
        {
            var row = _rows[r] = [];
            for (int p = rowStart[r + first]; p < rowStart[r + first + 1]; p++)
            {
                if (columns[p] < first)
                    continue;
                row.Add(columns[p] - first, values[p]);
                _columnRows[columns[p] - first]!.Add(r);
            }
        }
    }

    /// <summary>Pivots found so far.</summary>
    public int Steps { get; private set; }

    /// <summary>Row of each step.</summary>
    public int[] RowOrder { get; }

    /// <summary>Column of each step.</summary>
    public int[] ColumnOrder { get; }

    /// <summary>Step of each row.</summary>
    public int[] StepOfRow { get; }

    /// <summary>Step of each column.</summary>
    public int[] StepOfColumn { get; }

    /// <summary>Entries of the left factor, as row and step.</summary>
    public List<(int Row, int Step)> Left { get; } = [];

    /// <summary>Columns of the right factor, by step.</summary>
    public int[][] Upper { get; }

    /// <summary>The rows in which no pivot was found.</summary>
    public IEnumerable<int> RowsLeft => Enumerable.Range(0, _rows.Length).Where(r => _rows[r] is not null);

    /// <summary>Eliminates as far as there are pivots.</summary>
    /// <param name="linearOnly">Whether to take only rows and columns that no nonlinear part touches.</param>
    public void Eliminate(bool linearOnly)
    {
        _linearOnly = linearOnly;
        _queue.Clear();
        for (int c = 0; c < _columnRows.Length; c++)
        {
            if (_columnRows[c] is not null && (!linearOnly || _isLinear[c]))
                Enqueue(c);
        }
        while (_queue.Count > 0 && FindPivot() is var (row, column))
        {
            foreach (int c in _deferred)
                Dequeue(c);
            Eliminate(row, column);
        }
    }

    private void Enqueue(int column)
    {
        _turnOf[column] = _turn++;
        _queue.Add((_columnRows[column]!.Count, _turnOf[column], column));
    }

    private void Dequeue(int column) => _queue.Remove((_columnRows[column]!.Count, _turnOf[column], column));

    /// <summary>
    /// The pivot of the least fill among the first columns that have one; those that have none wait for the second round.
    /// </summary>
    private (int Row, int Column)? FindPivot()
    {
        (int Row, int Column)? best = null;
        long bestCost = long.MaxValue;
        double bestSize = 0;
        int looked = 0;
        _deferred.Clear();
        foreach (var (_, _, column) in _queue)
        {
            FindCandidates(column);
            foreach (var (row, size) in _candidates)
            {
                long cost = (long)(_rows[row]!.Count - 1) * (_columnRows[column]!.Count - 1);
                if (cost < bestCost || (cost == bestCost && size > _larger * bestSize))
                    (best, bestCost, bestSize) = ((row, column), cost, size);
            }
            if (_candidates.Count > 0)
                looked++;
            else if (_linearOnly)
                _deferred.Add(column);
            if (looked == ColumnsLookedAt || bestCost == 0)
                break;
        }
        return best;
    }

    /// <summary>Finds the entries of a column that are large enough for a pivot.</summary>
    private void FindCandidates(int column)
    {
        _candidates.Clear();
        var rows = _columnRows[column]!;
        // A branch's own entry comes and goes with what its nonlinear part does; its current in a node's balance stays.
        // Where nothing else is left in its column it is the pivot all the same.
        int without = _isBranch[column] && HoldsBeside(column) ? column : -1;
        double largest = 0;
        foreach (int r in rows)
            largest = r == without ? largest : Math.Max(largest, Math.Abs(_rows[r]![column]));
        bool onDiagonal = without < 0 && !_linearOnly && rows.Contains(column)
            && Math.Abs(_rows[column]![column]) > DiagonalThreshold * largest;
        foreach (int r in rows)
        {
            double size = Math.Abs(_rows[r]![column]);
            if (size != 0 && r != without && (!_linearOnly || _isLinear[r]) && (onDiagonal ? r == column : size >= Threshold * largest))
                _candidates.Add((r, size));
        }
    }

    private bool HoldsBeside(int column)
    {
        foreach (int r in _columnRows[column]!)
        {
            if (r != column && _rows[r]![column] != 0)
                return true;
        }
        return false;
    }

    private void Eliminate(int pivotRow, int pivotColumn)
    {
        var row = _rows[pivotRow]!;
        double pivot = row[pivotColumn];
        Upper[Steps] = [.. row.Keys];
        foreach (int c in row.Keys)
        {
            Dequeue(c);
            _columnRows[c]!.Remove(pivotRow);
        }
        foreach (int r in _columnRows[pivotColumn]!)
        {
            Left.Add((r, Steps));
            TakeRow(r, row, _rows[r]![pivotColumn] / pivot, pivotColumn);
        }
        foreach (int c in row.Keys)
        {
            if (c != pivotColumn && (!_linearOnly || (_isLinear[c] && !_deferred.Contains(c))))
                Enqueue(c);
        }
        (_columnRows[pivotColumn], _rows[pivotRow]) = (null, null);
        (RowOrder[Steps], ColumnOrder[Steps]) = (pivotRow, pivotColumn);
        StepOfRow[pivotRow] = StepOfColumn[pivotColumn] = Steps;
        Steps++;
    }

    /// <summary>Takes a multiple of the pivot's row from another.</summary>
    private void TakeRow(int row, Dictionary<int, double> pivotRow, double factor, int pivotColumn)
    {
        var target = _rows[row]!;
        target.Remove(pivotColumn);
        foreach (var (c, value) in pivotRow)
        {
            if (c == pivotColumn)
                continue;
            if (_columnRows[c]!.Add(row))
                target.Add(c, -factor * value);
            else
                target[c] -= factor * value;
        }
    }
}
