using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Equations;

/// <summary>
/// Where parts find their numbers: of every node, inner unknown, branch current and matrix entry. Row 0 is ground; then come
/// the driven nodes, whose voltage an ideal source to ground dictates; then the unknowns.
/// </summary>
internal abstract class Wiring
{
    /// <summary>Row of a node.</summary>
    public abstract int Node(string name);

    /// <summary>Row of an unknown that is no node of the circuit, by a name of its own.</summary>
    public abstract int Unknown(string name, UnknownKind kind = UnknownKind.Voltage);

    /// <summary>Place of a matrix entry; whether some nonlinear part changes it from iterate to iterate.</summary>
    public abstract int Entry(int row, int column, bool nonlinear = false);

    /// <summary>The ideal source that dictates a node's voltage, or null.</summary>
    public abstract VoltageSource? DriverOf(string? node);
}

/// <summary>Learns from one part of a numbered circuit on which unknowns its slopes hang.</summary>
internal sealed class BentColumns(Pattern pattern) : Wiring
{
    private readonly SortedSet<int> _columns = [];

    public int[] Of(Element element)
    {
        element.Bind<Scalar>(this);
        return [.. _columns];
    }

    public override int Node(string name) => pattern.Node(name);

    public override int Unknown(string name, UnknownKind kind = UnknownKind.Voltage) => pattern.Unknown(name, kind);

    public override VoltageSource? DriverOf(string? node) => pattern.DriverOf(node);

    public override int Entry(int row, int column, bool nonlinear = false)
    {
        if (nonlinear)
            _columns.Add(column);
        return pattern.Entry(row, column, nonlinear);
    }
}

/// <summary>What an unknown inside a part is.</summary>
internal enum UnknownKind
{
    /// <summary>An inner node: its row is a sum of currents.</summary>
    Voltage,

    /// <summary>A branch current: its row is a sum of voltages.</summary>
    Current,

    /// <summary>A state of a model, whose row is no sum of currents of the circuit.</summary>
    State,
}

/// <summary>Learns from the parts which unknowns and entries there are; <see cref="ToPattern"/> then numbers them for good.</summary>
internal sealed class WiringSurvey : Wiring
{
    private readonly Dictionary<(string Name, bool IsInner), int> _rows = [];
    private readonly Dictionary<string, VoltageSource> _drivers = [];
    private readonly HashSet<int> _currentRows = [], _stateRows = [];
    private readonly SortedDictionary<(int Row, int Column), bool> _entries = [];
    private readonly int _firstUnknown, _nodeCount;

    public WiringSurvey(IReadOnlyList<Element> elements)
    {
        foreach (var source in elements.OfType<VoltageSource>())
        {
            if (source.DrivenNode is { } node)
                _drivers.TryAdd(node, source);
        }
        Add(Circuit.Ground);
        foreach (string node in _drivers.Keys)
            Add(node);
        _firstUnknown = _rows.Count;
        foreach (string node in elements.SelectMany(e => e.Terminals))
            Add(node);
        _nodeCount = _rows.Count;
        foreach (var element in elements)
            element.Bind<Scalar>(this);
    }

    private int Add(string name, bool isInner = false)
    {
        _rows.TryAdd((name, isInner), _rows.Count);
        return _rows[(name, isInner)];
    }

    public override int Node(string name) => _rows[(name, false)];

    public override VoltageSource? DriverOf(string? node) => node is null ? null : _drivers.GetValueOrDefault(node);

    public override int Unknown(string name, UnknownKind kind = UnknownKind.Voltage)
    {
        int row = Add(name, isInner: true);
        if (kind == UnknownKind.Current)
            _currentRows.Add(row);
        else if (kind == UnknownKind.State)
            _stateRows.Add(row);
        return row;
    }

    public override int Entry(int row, int column, bool nonlinear = false)
    {
        if (row != 0 && column != 0)
            _entries[(row, column)] = nonlinear || _entries.GetValueOrDefault((row, column));
        return 0;
    }

    /// <summary>The numbering, with the entries row by row and columns ascending.</summary>
    public Pattern ToPattern() => new(_rows, _firstUnknown, _nodeCount, _drivers, _currentRows, _stateRows, _entries);
}

/// <summary>The numbering of a circuit's unknowns and matrix entries. Immutable.</summary>
internal sealed class Pattern : Wiring
{
    private readonly Dictionary<(string Name, bool IsInner), int> _rows;
    private readonly Dictionary<string, VoltageSource> _drivers;

    public Pattern(Dictionary<(string Name, bool IsInner), int> rows, int firstUnknown, int nodeCount, Dictionary<string,
        VoltageSource> drivers,
        IReadOnlySet<int> currentRows, IReadOnlySet<int> stateRows, SortedDictionary<(int Row, int Column), bool> entries)
    {
        (_rows, _drivers, FirstUnknown, NodeCount, CurrentRows, StateRows) = (rows, drivers, firstUnknown, nodeCount, currentRows,
            stateRows);
        Names = [.. rows.OrderBy(r => r.Value).Select(r => r.Key.Name)];
        Columns = [.. entries.Keys.Select(e => e.Column)];
        NonlinearEntries = [.. entries.Values.Index().Where(e => e.Item).Select(e => e.Index)];
        RowStart = new int[Size + 1];
        foreach (var (row, _) in entries.Keys)
            RowStart[row + 1]++;
        for (int r = 0; r < Size; r++)
            RowStart[r + 1] += RowStart[r];
    }

    /// <summary>The first row whose value is an unknown.</summary>
    public int FirstUnknown { get; }

    /// <summary>The name of a row's node or part; null where there is none, as where sources fix every node.</summary>
    public string? NameOf(int row) => row < Names.Count ? Names[row] : null;

    /// <summary>Ground, driven nodes and other nodes together; branch currents and inner nodes follow.</summary>
    public int NodeCount { get; }

    /// <summary>Length of the vectors, ground included.</summary>
    public int Size => Names.Count;

    /// <summary>Name of each row.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Which rows are branch currents (A), not voltages (V).</summary>
    public IReadOnlySet<int> CurrentRows { get; }

    /// <summary>Which rows are states of models, whose equations are no sums of currents.</summary>
    public IReadOnlySet<int> StateRows { get; }

    /// <summary>Start of each row in <see cref="Columns"/>; one more entry than rows.</summary>
    public int[] RowStart { get; }

    /// <summary>Column of each matrix entry.</summary>
    public int[] Columns { get; }

    /// <summary>The entries that nonlinear parts change from iterate to iterate.</summary>
    public int[] NonlinearEntries { get; }

    /// <summary>Number of matrix entries; also the place where ground's entries fall.</summary>
    public int EntryCount => Columns.Length;

    /// <summary>The driven nodes with their sources.</summary>
    public IEnumerable<(int Row, VoltageSource Source)> Drivers => _drivers.Select(d => (Node(d.Key), d.Value));

    public bool HasNode(string name) => _rows.ContainsKey((name, false));

    /// <summary>Row of a node, or of an unknown that is none; −1 where there is none of that name.</summary>
    public int RowOf(string name, bool isInner) => _rows.GetValueOrDefault((name, isInner), -1);

    public override int Node(string name) => _rows[(name, false)];

    public override VoltageSource? DriverOf(string? node) => node is null ? null : _drivers.GetValueOrDefault(node);

    public override int Unknown(string name, UnknownKind kind = UnknownKind.Voltage) => _rows[(name, true)];

    public override int Entry(int row, int column, bool nonlinear = false) => row == 0 || column == 0
        ? EntryCount
        : Array.BinarySearch(Columns, RowStart[row], RowStart[row + 1] - RowStart[row], column);
}
