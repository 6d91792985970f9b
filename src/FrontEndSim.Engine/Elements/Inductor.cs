namespace FrontEndSim.Engine.Elements;

/// <summary>An inductor: v = L·di/dt + R·i, with its current as an unknown of its own.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Henries">Inductance, above zero.</param>
public sealed record Inductor(string Name, string From, string To, double Henries) : TwoTerminal(Name, From, To)
{
    /// <summary>Inductance, H.</summary>
    public static readonly Parameter Inductance = new Parameter<Inductor>("inductance", "H", l => l.Henries);

    /// <summary>Winding resistance, ohm.</summary>
    public static readonly Parameter WindingResistance = new Parameter<Inductor>("winding resistance", "ohm", l => l.SeriesOhms);

    /// <summary>Winding resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    internal override IEnumerable<string> Problems() =>
        [.. Positive("the inductance", Henries, "H"), .. NotNegative("the winding resistance", SeriesOhms, "ohm")];

    internal override IEnumerable<(string, string)> RigidPaths() => SeriesOhms > 0 ? [] : [(From, To)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(Inductor part, Wiring wiring) : Device<L>(part) where L : struct, ILane<L>
    {
        private readonly BranchCurrent _at = new(wiring, part.From, part.To, part.Name);
        private L _henries = L.Of(part.Henries), _ohms = L.Of(part.SeriesOhms);

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Inductance)
                return ref _henries;
            if (parameter == WindingResistance)
                return ref _ohms;
            return ref base.Number(parameter);
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            _at.Incidence(g);
            g[_at.Diagonal] -= _ohms;
            c[_at.Diagonal] -= _henries;
        }

        public override EnergyAccount Account(PartRecord record)
        {
            double before = record.Current.At(record.Current.Start), after = record.Current.Last;
            return new(0, record.Current.Times(record.Current).Integral() * _ohms.Get(0),
                0.5 * _henries.Get(0) * (after * after - before * before));
        }

        public override L Current(Iterate<L> at) => at.X[_at.Row];
    }
}
