namespace FrontEndSim.Engine.Elements;

/// <summary>An ideal amplifier: v(From) − v(To) = Gain·(v(ControlFrom) − v(ControlTo)).</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Plus terminal of the output.</param>
/// <param name="To">Minus terminal of the output.</param>
/// <param name="ControlFrom">Plus terminal of the input, which draws no current.</param>
/// <param name="ControlTo">Minus terminal of the input.</param>
/// <param name="Gain">V/V.</param>
public sealed record ControlledVoltageSource(string Name, string From, string To, string ControlFrom, string ControlTo, double Gain)
    : Element(Name)
{
    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [From, To, ControlFrom, ControlTo];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { From = renamed(From), To = renamed(To), ControlFrom = renamed(ControlFrom), ControlTo = renamed(ControlTo) };

    internal override bool HasGain => true;

    internal override IEnumerable<string> Problems() => Finite("the gain", Gain, "V/V");

    internal override IEnumerable<(string, string)> RigidPaths() => [(From, To)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly BranchCurrent _at;
        private readonly int _plus, _minus;
        private readonly L _gain;

        public Behaviour(ControlledVoltageSource part, Wiring wiring) : base(part)
        {
            _gain = L.Of(part.Gain);
            _at = new BranchCurrent(wiring, part.From, part.To, part.Name);
            _plus = wiring.Entry(_at.Row, wiring.Node(part.ControlFrom));
            _minus = wiring.Entry(_at.Row, wiring.Node(part.ControlTo));
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            _at.Incidence(g);
            g[_plus] -= _gain;
            g[_minus] += _gain;
        }

        public override L Current(Iterate<L> at) => at.X[_at.Row];
    }
}

/// <summary>A transconductance: Siemens·(v(ControlFrom) − v(ControlTo)) flows from From through the part to To.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node that the current is drawn from.</param>
/// <param name="To">Node that it is pushed into.</param>
/// <param name="ControlFrom">Plus terminal of the input, which draws no current.</param>
/// <param name="ControlTo">Minus terminal of the input.</param>
/// <param name="Siemens">A/V.</param>
public sealed record ControlledCurrentSource(string Name, string From, string To, string ControlFrom, string ControlTo, double Siemens)
    : Element(Name)
{
    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [From, To, ControlFrom, ControlTo];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { From = renamed(From), To = renamed(To), ControlFrom = renamed(ControlFrom), ControlTo = renamed(ControlTo) };

    internal override bool HasGain => true;

    internal override IEnumerable<string> Problems() => Finite("the transconductance", Siemens, "S");

    internal override IEnumerable<(string, string)> DirectPaths() => [];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly int _plus, _minus, _fp, _fm, _tp, _tm;
        private readonly L _siemens;

        public Behaviour(ControlledCurrentSource part, Wiring wiring) : base(part)
        {
            _siemens = L.Of(part.Siemens);
            int from = wiring.Node(part.From), to = wiring.Node(part.To);
            (_plus, _minus) = (wiring.Node(part.ControlFrom), wiring.Node(part.ControlTo));
            (_fp, _fm) = (wiring.Entry(from, _plus), wiring.Entry(from, _minus));
            (_tp, _tm) = (wiring.Entry(to, _plus), wiring.Entry(to, _minus));
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            g[_fp] += _siemens;
            g[_fm] -= _siemens;
            g[_tp] -= _siemens;
            g[_tm] += _siemens;
        }

        public override L Current(Iterate<L> at) => _siemens * (at.X[_plus] - at.X[_minus]);
    }
}
