namespace FrontEndSim.Engine.Equations;

/// <summary>A branch whose current is an unknown: +i leaves From, −i leaves To, and its row holds v(From) − v(To) − … = 0.</summary>
internal readonly struct BranchCurrent
{
    public readonly int From, To, Row, Diagonal;
    private readonly int _fromRow, _toRow, _rowFrom, _rowTo;

    public BranchCurrent(Wiring wiring, string from, string to, string name)
    {
        (From, To) = (wiring.Node(from), wiring.Node(to));
        Row = wiring.Unknown($"current of {name}", UnknownKind.Current);
        _fromRow = wiring.Entry(From, Row);
        _toRow = wiring.Entry(To, Row);
        _rowFrom = wiring.Entry(Row, From);
        _rowTo = wiring.Entry(Row, To);
        Diagonal = wiring.Entry(Row, Row);
    }

    public void Incidence<L>(L[] g) where L : struct, ILane<L>
    {
        L one = L.Of(1);
        g[_fromRow] += one;
        g[_toRow] -= one;
        g[_rowFrom] += one;
        g[_rowTo] -= one;
    }
}
