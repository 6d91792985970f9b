using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Equations;

/// <summary>
/// Gives every node, branch current and matrix entry its number. Row 0 is ground; then come the driven nodes, whose
/// voltage an ideal source to ground dictates; then the unknowns. Every part binds twice: once to collect the entries,
/// then, after <see cref="Freeze"/>, to learn their final places (row by row, columns ascending).
/// </summary>
internal sealed class Wiring
{
    private readonly Dictionary<string, int> _nodes = [];
    private readonly Dictionary<string, VoltageSource> _drivers;
    private readonly List<string> _names = [];
    private readonly List<(int Row, int Column, bool Nonlinear)> _asked = [];
    private readonly HashSet<int> _currentRows = [];
    private int[]? _places;
    private int _extra, _next;

    public Wiring(IEnumerable<Element> elements)
    {
        _drivers = [];
        var all = elements.ToList();
        foreach (var source in all.OfType<VoltageSource>())
        {
            if (source.DrivenNode is { } node)
                _drivers.TryAdd(node, source);
        }
        Add(Circuit.Ground);
        foreach (string node in _drivers.Keys)
            Add(node);
        FirstUnknown = _names.Count;
        foreach (string node in all.SelectMany(e => e.Terminals))
        {
            if (!_nodes.ContainsKey(node))
                Add(node);
        }
        NodeCount = _names.Count;
    }

    /// <summary>The first row whose value is an unknown.</summary>
    public int FirstUnknown { get; }

    /// <summary>Ground, driven nodes and other nodes together; branch currents and inner nodes follow.</summary>
    public int NodeCount { get; }

    /// <summary>Length of the vectors, ground included.</summary>
    public int Size => _names.Count;

    /// <summary>Name of each row.</summary>
    public IReadOnlyList<string> Names => _names;

    /// <summary>Start of each row in <see cref="Columns"/>; one more entry than rows.</summary>
    public int[] RowStart { get; private set; } = [];

    /// <summary>Column of each matrix entry.</summary>
    public int[] Columns { get; private set; } = [];

    /// <summary>The entries that nonlinear parts change from iterate to iterate.</summary>
    public int[] NonlinearEntries { get; private set; } = [];

    /// <summary>Number of matrix entries; also the place where ground's entries fall.</summary>
    public int EntryCount => Columns.Length;

    private void Add(string name)
    {
        _nodes.Add(name, _names.Count);
        _names.Add(name);
    }

    public int Node(string name) => _nodes[name];

    public bool HasNode(string name) => _nodes.ContainsKey(name);

    /// <summary>The ideal source that dictates a node's voltage, or null.</summary>
    public VoltageSource? DriverOf(string? node) => node is not null && _drivers.TryGetValue(node, out var source) ? source : null;

    /// <summary>The driven nodes with their sources.</summary>
    public IEnumerable<(int Row, VoltageSource Source)> Drivers => _drivers.Select(d => (_nodes[d.Key], d.Value));

    /// <summary>Which rows are branch currents (A), not voltages (V).</summary>
    public IReadOnlySet<int> CurrentRows => _currentRows;

    /// <summary>A row for an inner node, or for a branch current.</summary>
    public int Unknown(string name, bool isCurrent = false)
    {
        int row = NodeCount + _extra++;
        if (row == _names.Count)
            _names.Add(name);
        if (isCurrent)
            _currentRows.Add(row);
        return row;
    }

    /// <summary>
    /// The place of a matrix entry. Parts ask in the same order in every round, so a place is found by its turn.
    /// </summary>
    public int Entry(int row, int column, bool nonlinear = false)
    {
        if (_places is not null)
            return _places[_next++];
        _asked.Add((row, column, nonlinear));
        return 0;
    }

    /// <summary>Starts another round of binding.</summary>
    public void Restart() => (_extra, _next) = (0, 0);

    /// <summary>Ends collecting: sorts the entries by row and column.</summary>
    public void Freeze()
    {
        var asked = Enumerable.Range(0, _asked.Count).Where(k => _asked[k].Row != 0 && _asked[k].Column != 0)
            .OrderBy(k => _asked[k].Row).ThenBy(k => _asked[k].Column).ToArray();
        _places = new int[_asked.Count];
        RowStart = new int[Size + 1];
        var columns = new List<int>();
        var nonlinear = new SortedSet<int>();
        for (int n = 0; n < asked.Length; n++)
        {
            var (row, column, isNonlinear) = _asked[asked[n]];
            if (n == 0 || _asked[asked[n - 1]].Row != row || _asked[asked[n - 1]].Column != column)
            {
                columns.Add(column);
                RowStart[row + 1]++;
            }
            _places[asked[n]] = columns.Count - 1;
            if (isNonlinear)
                nonlinear.Add(columns.Count - 1);
        }
        Columns = [.. columns];
        for (int k = 0; k < _asked.Count; k++)
        {
            if (_asked[k].Row == 0 || _asked[k].Column == 0)
                _places[k] = EntryCount; // ground's row or column
        }
        for (int r = 0; r < Size; r++)
            RowStart[r + 1] += RowStart[r];
        NonlinearEntries = [.. nonlinear];
        _asked.Clear();
        Restart();
    }
}
