using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Elements;

/// <summary>An inductor: v = L·di/dt + R·i, with its current as an unknown of its own.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Henries">Inductance, above zero.</param>
public sealed record Inductor(string Name, string From, string To, double Henries) : Element(Name)
{
    /// <summary>Winding resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [From, To];

    /// <inheritdoc/>
    public override ImmutableArray<(string Name, double Value)> Numbers => [("Henries", Henries), ("SeriesOhms", SeriesOhms)];

    internal override IEnumerable<string> Complaints() =>
        [.. Positive("the inductance", Henries, "H"), .. NotNegative("the winding resistance", SeriesOhms, "ohm")];

    internal override IEnumerable<(string, string)> RigidPaths() => SeriesOhms > 0 ? [] : [(From, To)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(Inductor part, Wiring wiring) : Device<L>(part) where L : struct, ILane<L>
    {
        private readonly BranchCurrent _at = new(wiring, part.From, part.To, part.Name);

        public override void LoadLinear(L[] g, L[] c)
        {
            _at.Incidence(g);
            g[_at.Diagonal] -= P[1];
            c[_at.Diagonal] -= P[0];
        }

        public override L Current(Iterate<L> at) => at.X[_at.Row];
    }
}

/// <summary>A branch whose current is an unknown: +i leaves From, −i leaves To, and its row holds v(From) − v(To) − … = 0.</summary>
internal readonly struct BranchCurrent
{
    public readonly int From, To, Row, Diagonal;
    private readonly int _fromRow, _toRow, _rowFrom, _rowTo;

    public BranchCurrent(Wiring wiring, string from, string to, string name)
    {
        (From, To) = (wiring.Node(from), wiring.Node(to));
        Row = wiring.Unknown($"current of {name}", isCurrent: true);
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
