namespace FrontEndSim.Engine.Equations;

/// <summary>A branch whose current is an unknown: +i leaves From, −i leaves To, and its row holds v(From) − v(To) − … = 0, which a
/// nonlinear part may bend.</summary>
internal readonly struct BranchCurrent
{
    public readonly int From, To, Row, Diagonal;
    private readonly int _fromRow, _toRow, _rowFrom, _rowTo;

    public BranchCurrent(Wiring wiring, string from, string to, string name, bool nonlinear = false)
    {
        (From, To) = (wiring.Node(from), wiring.Node(to));
        Row = wiring.Unknown($"current of {name}", UnknownKind.Current);
        _fromRow = wiring.Entry(From, Row);
        _toRow = wiring.Entry(To, Row);
        _rowFrom = wiring.Entry(Row, From, nonlinear);
        _rowTo = wiring.Entry(Row, To, nonlinear);
        Diagonal = wiring.Entry(Row, Row, nonlinear);
    }

    public void Incidence<L>(L[] g) where L : struct, ILane<L> => Incidence(g, L.Of(1));

    /// <summary>The same with the row times a sign.</summary>
    public void Incidence<L>(L[] g, L sign) where L : struct, ILane<L>
    {
        L one = L.Of(1);
        g[_fromRow] += one;
        g[_toRow] -= one;
        RowSlope(g, sign);
    }

    /// <summary>Adds a slope of the row on v(From) − v(To).</summary>
    public void RowSlope<L>(L[] g, L value) where L : struct, ILane<L>
    {
        g[_rowFrom] += value;
        g[_rowTo] -= value;
    }
}
