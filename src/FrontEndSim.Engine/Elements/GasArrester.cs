namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of a gas arrester, in SI units.</summary>
public sealed record GasArresterModel
{
    /// <summary>Spark-over voltage of a slow rise, V.</summary>
    public required double SparkVolts { get; init; }

    /// <summary>Exponent of the growth of the avalanche with what the voltage is above <see cref="SparkVolts"/>.</summary>
    public required double GrowthExponent { get; init; }

    /// <summary>Voltage above <see cref="SparkVolts"/> at which the conductance grows by e in a second, V: far below one that
    /// counts.</summary>
    public required double GrowthVolts { get; init; }

    /// <summary>Voltage of the glow, V, between those of arc and spark-over.</summary>
    public required double GlowVolts { get; init; }

    /// <summary>Voltage of the arc, V.</summary>
    public required double ArcVolts { get; init; }

    /// <summary>Current about which the glow turns into an arc, A.</summary>
    public double ArcAmps { get; init; } = 0.25;

    /// <summary>Current about which the dark discharge turns into a glow, A.</summary>
    public double GlowAmps { get; init; } = 1e-3;

    /// <summary>Time in which a conductance that is not kept up falls by e, s.</summary>
    public double DeionisingSeconds { get; init; } = 50e-6;

    /// <summary>Insulation resistance, ohm.</summary>
    public double InsulationOhms { get; init; } = 1e9;

    /// <summary>Capacitance, F.</summary>
    public double Farads { get; init; } = 1e-12;
}

/// <summary>
/// A gas arrester: a conductance with a memory, i = e^u/Rinsulation·v. The characteristic that it tends to, V(i), falls from the spark-over
/// voltage in the dark to the glow's and to the arc's (Cobine, Gaseous Conductors, for its shape; from memory). Above it the conductance
/// grows: in the dark as an avalanche, with a power of what the voltage is above spark-over, so that a fast rise goes far beyond before it
/// strikes; in the glow and arc at once. Below it, it decays as the gas deionises.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One electrode.</param>
/// <param name="To">The other.</param>
/// <param name="Model">Its numbers.</param>
public sealed record GasArrester(string Name, string From, string To, GasArresterModel Model) : TwoTerminal(Name, From, To)
{
    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the spark-over voltage", Model.SparkVolts, "V"), .. Positive("the exponent of its growth", Model.GrowthExponent, ""),
        .. Positive("the voltage of its growth", Model.GrowthVolts, "V"), .. Positive("the arc voltage", Model.ArcVolts, "V"),
        .. Model.GlowVolts > Model.ArcVolts && Model.GlowVolts < Model.SparkVolts ? []
            : new[] { $"the glow voltage must lie between the arc and the spark-over voltage, but is {Model.GlowVolts} V" },
        .. Positive("the current of the arc", Model.ArcAmps, "A"), .. Positive("the current of the glow", Model.GlowAmps, "A"),
        .. Positive("the time of deionising", Model.DeionisingSeconds, "s"),
            .. Positive("the insulation resistance", Model.InsulationOhms, "ohm"),
        .. NotNegative("the capacitance", Model.Farads, "F"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // The state's row is scaled as a conductance, S, and a time, s. Glow and arc follow their characteristic within ConductingSeconds;
        // no
        // avalanche grows faster than by e in FastestSeconds.
        private const double Siemens = 1e-3, RowSeconds = 1e-6, ConductingSeconds = 20e-9, FastestSeconds = 50e-12, RoundingVolts = 1e-3;

        // No arrester conducts better than this exponent says (10 kS).
        private const double MostExponent = 30;

        private readonly GasArresterModel _model;
        private readonly Branch _gap;
        private readonly int _state, _uu, _uf, _ut, _fu, _tu;

        public Behaviour(GasArrester part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            _gap = new Branch(wiring, wiring.Node(part.From), wiring.Node(part.To), nonlinear: true);
            _state = wiring.Unknown($"{part.Name} (state)", UnknownKind.State);
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_uu, _uf, _ut) = (At(_state, _state), At(_state, _gap.From), At(_state, _gap.To));
            (_fu, _tu) = (At(_gap.From, _state), At(_gap.To, _state));
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => RoundingVolts;

        public override void LoadLinear(L[] g, L[] c)
        {
            c[_uu] += L.Of(Siemens * RowSeconds);
            _gap.Slope(c, L.Of(_model.Farads));
        }

        private L Conductance(L u) => L.Of(1 / _model.InsulationOhms) * L.Exp(L.Max(L.Of(-MostExponent), L.Min(L.Of(MostExponent), u)));

        /// <summary>Growth of u in the row's time, and its slopes on the size of the voltage and on u.</summary>
        private L Growth(L size, L u, L siemens, out L onSize, out L onState)
        {
            L one = L.Of(1), zero = L.Of(0), amps = siemens * size;
            L dark = one / (one + amps * L.Of(1 / _model.GlowAmps)), towards = amps * L.Of(1 / _model.ArcAmps),
                glow = one / (one + towards * towards);
            L darkSlope = -(dark * dark) * L.Of(1 / _model.GlowAmps), glowSlope = L.Of(-2 / _model.ArcAmps) * glow * glow * towards;
            double toArc = _model.GlowVolts - _model.ArcVolts, toDark = _model.SparkVolts - _model.GlowVolts;
            L kept = L.Of(_model.ArcVolts) + L.Of(toArc) * glow + L.Of(toDark) * dark, keptSlope = L.Of(toArc) * glowSlope
                + L.Of(toDark) * darkSlope;
            L x = size / kept - one, xOnSize = one / kept, xOnAmps = -(size / (kept * kept)) * keptSlope;

            L above = L.Max(size - L.Of(_model.SparkVolts), L.Of(1e-12));
            L avalanche = L.Exp(L.Of(_model.GrowthExponent) * L.Log(above * L.Of(1 / _model.GrowthVolts))) * L.Of(RowSeconds);
            L most = L.Of(RowSeconds / FastestSeconds),
                avalancheSlope = L.Less(avalanche, most, L.Of(_model.GrowthExponent) * avalanche / above, zero);
            avalanche = L.Min(avalanche, most);

            double fast = RowSeconds / ConductingSeconds, slow = RowSeconds / _model.DeionisingSeconds;
            L lit = one - dark, conducting = lit * lit * L.Of(fast);
            // Just above spark-over, where the power law stands still, it grows as fast as it deionises below.
            L both = conducting + L.Of(slow);
            L up = avalanche * dark + x * both;
            L upOnSize = avalancheSlope * dark + xOnSize * both, upOnAmps = avalanche * darkSlope
                + xOnAmps * both - x * L.Of(2 * fast) * lit * darkSlope;
            // At its insulation the conductance has nothing left to lose.
            L left = L.Exp(-L.Max(L.Of(-MostExponent), u)), room = (one - left) * L.Of(slow);
            L down = x * room, downOnSize = xOnSize * room, downOnAmps = xOnAmps * room, downOnState = x * left * L.Of(slow);

            L onAmps = L.Less(x, zero, downOnAmps, upOnAmps);
            onSize = L.Less(x, zero, downOnSize, upOnSize) + onAmps * siemens;
            onState = L.Less(x, zero, downOnState, zero) + onAmps * amps;
            return L.Less(x, zero, down, up);
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L v = _gap.Voltage(at.X), u = at.X[_state], siemens = Conductance(u), i = siemens * v;
            _gap.Flow(at.F, i);
            _gap.Slope(at.G, siemens);
            at.G[_fu] += i;
            at.G[_tu] -= i;
            L size = L.Sqrt(v * v + L.Of(RoundingVolts * RoundingVolts)), sign = v / size;
            L growth = Growth(size, u, siemens, out L onSize, out L onState);
            at.F[_state] -= L.Of(Siemens) * growth;
            at.G[_uu] -= L.Of(Siemens) * onState;
            at.G[_uf] -= L.Of(Siemens) * onSize * sign;
            at.G[_ut] += L.Of(Siemens) * onSize * sign;
        }

        public override L Current(Iterate<L> at) => Conductance(at.X[_state]) * _gap.Voltage(at.X);

        public override L Charge(Iterate<L> at) => L.Of(_model.Farads) * _gap.Voltage(at.X);
    }
}
