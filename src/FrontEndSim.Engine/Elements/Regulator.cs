namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of a linear regulator that only delivers, in SI units.</summary>
public sealed record RegulatorModel
{
    /// <summary>Output voltage at 25 °C without load, V above its ground pin.</summary>
    public required double Volts { get; init; }

    /// <summary>Temperature coefficient of the output voltage, 1/K.</summary>
    public double TempCo { get; init; }

    /// <summary>Output resistance while it regulates, ohm, above zero.</summary>
    public double OutputOhms { get; init; } = 0.05;

    /// <summary>Voltage that the pass transistor needs whatever it carries, V.</summary>
    public double DropVolts { get; init; }

    /// <summary>Resistance of the pass transistor that is fully on, ohm, above zero.</summary>
    public double DropOhms { get; init; } = 1;

    /// <summary>Largest output current, A, above zero.</summary>
    public double LimitAmps { get; init; } = 0.1;

    /// <summary>Current into the ground pin, A.</summary>
    public double GroundAmps { get; init; }
}

/// <summary>
/// A linear regulator: a pass transistor between input and output that delivers and never takes. It carries the smaller of what its
/// amplifier
/// asks for, (V0 − v)/Rout, and of what it can in dropout, (vin − Vdrop − v)/Rdrop, up to its limit. Static: its loop and its start take
/// no time.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Input">Input.</param>
/// <param name="Output">Output.</param>
/// <param name="GroundPin">Ground pin.</param>
/// <param name="Model">Its numbers.</param>
public sealed record Regulator(string Name, string Input, string Output, string GroundPin, RegulatorModel Model) : Element(Name)
{
    /// <summary>Output voltage, V.</summary>
    public static readonly Parameter OutputVoltage = new Parameter<Regulator>("output voltage", "V", r => r.Model.Volts);

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [Input, Output, GroundPin];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { Input = renamed(Input), Output = renamed(Output), GroundPin = renamed(GroundPin) };

    internal override bool HasGain => true;

    internal override IEnumerable<(string, string)> DirectPaths() => [(Input, Output), (Input, GroundPin)];

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the output voltage", Model.Volts, "V"), .. Finite("the temperature coefficient", Model.TempCo, "1/K"),
        .. Positive("the output resistance", Model.OutputOhms, "ohm"), .. NotNegative("the dropout voltage", Model.DropVolts, "V"),
        .. Positive("the dropout resistance", Model.DropOhms, "ohm"), .. Positive("the current limit", Model.LimitAmps, "A"),
        .. NotNegative("the ground current", Model.GroundAmps, "A"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // The bends of the law are rounded over this share of the current limit.
        private const double Rounding = 1e-4;

        private readonly RegulatorModel _model;
        private readonly int _in, _out, _ground;
        private readonly int _ii, _io, _ig, _oi, _oo, _og, _gi, _gg;
        private readonly double _width;
        private L _volts, _target;
        private L _last; // what was asked at the last evaluation, relative: -1 is nothing and 1 the current limit

        public Behaviour(Regulator part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            _volts = L.Of(_model.Volts);
            _width = Rounding * _model.LimitAmps;
            (_in, _out, _ground) = (wiring.Node(part.Input), wiring.Node(part.Output), wiring.Node(part.GroundPin));
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_ii, _io, _ig) = (At(_in, _in), At(_in, _out), At(_in, _ground));
            (_oi, _oo, _og) = (At(_out, _in), At(_out, _out), At(_out, _ground));
            (_gi, _gg) = (At(_ground, _in), At(_ground, _ground));
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == OutputVoltage)
                return ref _volts;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => 10 * _width * Math.Min(_model.OutputOhms, _model.DropOhms);

        public override void Refresh(double kelvin) => _target = _volts * L.Of(1 + _model.TempCo * (kelvin - Constants.ReferenceKelvin));

        /// <summary>What the amplifier asks for, A.</summary>
        private L Asked(L[] x) => (_target + x[_ground] - x[_out]) * L.Of(1 / _model.OutputOhms);

        /// <summary>What the pass transistor can carry, A.</summary>
        private L Able(L[] x) => (x[_in] - L.Of(_model.DropVolts) - x[_out]) * L.Of(1 / _model.DropOhms);

        /// <summary>The current delivered for what is asked, and its slopes on that and on what the pass transistor can carry.</summary>
        private L Law(L[] x, L asked, out L onAsked, out L onAble)
        {
            double limit = _model.LimitAmps;
            L able = Able(x);
            // The smaller of the two, not below nothing, and bounded.
            L beyond = Saturation.Ramp(asked - able, _width, out L share);
            L positive = Saturation.Ramp(asked - beyond, _width, out L delivers);
            L bent = Saturation.Bounded(positive * L.Of(1 / limit), out L slope);
            slope *= delivers;
            (onAsked, onAble) = (slope * (L.Of(1) - share), slope * share);
            return L.Of(limit) * bent;
        }

        public override void ForgetLimits() => _last = L.Of(0);

        public override void LoadNonlinear(Iterate<L> at)
        {
            L[] x = at.X;
            // Some millivolts of the output lie between nothing and the limit: Newton is led from one end to the other.
            L half = L.Of(0.5 * _model.LimitAmps), asked = Asked(x);
            L led = half * (Saturation.Approach(asked / half - L.Of(1), ref _last, at) + L.Of(1));
            L i = Law(x, led, out L onAsked, out L onAble);
            i += onAsked * (asked - led); // along the tangent
            L onInput = onAble * L.Of(1 / _model.DropOhms), onGround = onAsked * L.Of(1 / _model.OutputOhms);
            L onOutput = -(onInput + onGround);
            L idle = L.Of(_model.GroundAmps) * Saturation.Faded(x[_in] - x[_ground], out L idleSlope);
            idleSlope *= L.Of(_model.GroundAmps);
            at.F[_in] += i + idle;
            at.F[_out] -= i;
            at.F[_ground] -= idle;
            at.G[_ii] += onInput + idleSlope;
            at.G[_io] += onOutput;
            at.G[_ig] += onGround - idleSlope;
            at.G[_oi] -= onInput;
            at.G[_oo] -= onOutput;
            at.G[_og] -= onGround;
            at.G[_gi] -= idleSlope;
            at.G[_gg] += idleSlope;
        }

        // In regulation, or delivering nothing, only what is asked bends it.
        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L[] x = at.X;
            L asked = Asked(x), moved = (step[_out] - step[_ground]) * L.Of(1 / _model.OutputOhms), before = asked - moved;
            L able = Able(x), ableBefore = able - (step[_out] - step[_in]) * L.Of(1 / _model.DropOhms);
            double apart = 50 * _width;
            bool delivers = L.AllBelow(L.Of(apart) + L.Max(asked - able, before - ableBefore), 0)
                && L.AllBelow(L.Of(apart) - L.Min(asked, before), 0);
            L perLimit = L.Of(1 / _model.LimitAmps), i = L.Of(0);
            if (delivers ? !Saturation.TryBoundedRemainder(asked * perLimit, moved * perLimit, out i)
                : !L.AllBelow(L.Max(asked, before), -apart))
                return false;
            i *= L.Of(_model.LimitAmps);
            L idle = L.Of(_model.GroundAmps) * Saturation.FadedRemainder(x[_in] - x[_ground], step[_ground] - step[_in]);
            left[_in] += i + idle;
            left[_out] -= i;
            left[_ground] -= idle;
            return true;
        }

        /// <summary>Reported as the current from input to output.</summary>
        public override L Current(Iterate<L> at) => Law(at.X, Asked(at.X), out _, out _);

        public override L? Watts(Iterate<L> at)
        {
            L[] x = at.X;
            L span = x[_in] - x[_ground];
            return Current(at) * (x[_in] - x[_out]) + L.Of(_model.GroundAmps) * Saturation.Faded(span, out _) * span;
        }
    }
}
