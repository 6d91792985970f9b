namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of a comparator, in SI units.</summary>
public sealed record ComparatorModel
{
    /// <summary>Input offset voltage, added at the plus input, V.</summary>
    public double OffsetVolts { get; init; }

    /// <summary>Hysteresis that it has of itself: from one threshold to the other, V; zero for none.</summary>
    public double HysteresisVolts { get; init; }

    /// <summary>Time from a well driven change of the inputs to half the output's change, s.</summary>
    public double DelaySeconds { get; init; } = 1e-6;

    /// <summary>Mean bias current into each input, A.</summary>
    public double BiasAmps { get; init; }

    /// <summary>How far below the positive supply pin an input is still seen, V (negative: above it).</summary>
    public double CommonModeHighVolts { get; init; }

    /// <summary>How far above the negative supply pin an input is still seen, V (negative: below it).</summary>
    public double CommonModeLowVolts { get; init; }

    /// <summary>Resistance of the output that is low, ohm.</summary>
    public double SinkOhms { get; init; } = 50;

    /// <summary>Largest current that the output sinks, A.</summary>
    public double SinkAmps { get; init; } = 16e-3;

    /// <summary>Resistance of the output that is high, ohm. Counts where <see cref="SourceAmps"/> is above zero.</summary>
    public double SourceOhms { get; init; } = 50;

    /// <summary>Largest current that the output delivers, A; zero for an open collector.</summary>
    public double SourceAmps { get; init; }

    /// <summary>Leakage conductance of the output, S, above zero.</summary>
    public double LeakageSiemens { get; init; } = 2e-11;

    /// <summary>Supply below which it does nothing, V.</summary>
    public double LeastSupplyVolts { get; init; } = 1.5;

    /// <summary>Supply current without load, A.</summary>
    public double SupplyAmps { get; init; } = 1e-3;
}

/// <summary>
/// A comparator: a state with positive feedback (<see cref="LogicGate"/> has its law) steered by the difference of its inputs, each seen
/// only within its range of the supplies actually present: with one input beyond, the output is right while the other is inside; with both,
/// the offset decides. The state opens a transistor of limited current to the negative supply pin, and closes one to the positive pin
/// where there is one. Below its least supply both fade.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Model">Its numbers.</param>
public sealed record Comparator(string Name, string Plus, string Minus, string Output, string PositiveRail,
    string NegativeRail, ComparatorModel Model)
    : Differential(Name, Plus, Minus, Output, PositiveRail, NegativeRail)
{
    /// <summary>Input offset voltage, V.</summary>
    public static readonly Parameter OffsetVoltage = new Parameter<Comparator>("offset voltage", "V", u => u.Model.OffsetVolts);

    /// <summary>Mean bias current into each input, A.</summary>
    public static readonly Parameter BiasCurrent = new Parameter<Comparator>("bias current", "A", u => u.Model.BiasAmps);

    internal override (string Plus, string Minus) Across => (Output, NegativeRail);

    internal override IEnumerable<string> Problems() =>
    [
        .. Finite("the offset voltage", Model.OffsetVolts, "V"), .. NotNegative("the hysteresis", Model.HysteresisVolts, "V"),
        .. Positive("the delay", Model.DelaySeconds, "s"), .. Finite("the bias current", Model.BiasAmps, "A"),
        .. Finite("the upper common-mode limit", Model.CommonModeHighVolts, "V"),
            .. Finite("the lower common-mode limit", Model.CommonModeLowVolts, "V"),
        .. Positive("the resistance of the low output", Model.SinkOhms, "ohm"),
            .. Positive("the current that it sinks", Model.SinkAmps, "A"),
        .. Positive("the resistance of the high output", Model.SourceOhms, "ohm"),
            .. NotNegative("the current that it delivers", Model.SourceAmps, "A"),
        .. Positive("the leakage of the output", Model.LeakageSiemens, "S"), .. Positive("the least supply", Model.LeastSupplyVolts, "V"),
        .. NotNegative("the supply current", Model.SupplyAmps, "A"),
    ];

    internal override IEnumerable<(string, string)> DirectPaths() => [(Output, NegativeRail)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private const double Siemens = Bistable<L>.Siemens;

        // Half the width over which one without hysteresis changes over, V (its gain is some ten thousands; common practice, no source).
        private const double LeastHalfVolts = 0.2e-3;

        // The ends of the input range are rounded over this voltage, and the fading of the output over this share of the least supply.
        private const double InputRounding = 5e-3, SupplyRounding = 0.05;

        // The output changes over within this part of the state's way, about its middle.
        private const double ChangeOver = 0.1;

        // A small linear share keeps a limited output's slope from vanishing when far overdriven.
        private const double LinearShare = 1e-6;

        private readonly ComparatorModel _model;
        private readonly int _plus, _minus, _out, _high, _low, _state;
        private readonly int _ss, _sp, _sm, _sh, _sl, _oo, _oh, _ol, _os, _hh, _ho, _hs, _hl, _ll, _lo, _ls, _lh;
        private readonly double _feedback, _perVolt;
        private readonly Bistable<L> _drive = new();
        private L _offsetVolts, _biasAmps, _sinkLast, _sourceLast;

        public Behaviour(Comparator part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            (_offsetVolts, _biasAmps) = (L.Of(_model.OffsetVolts), L.Of(_model.BiasAmps));
            (_plus, _minus, _out) = (wiring.Node(part.Plus), wiring.Node(part.Minus), wiring.Node(part.Output));
            (_high, _low) = (wiring.Node(part.PositiveRail), wiring.Node(part.NegativeRail));
            _state = wiring.Unknown($"{part.Name} (state)", UnknownKind.State);
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_ss, _sp, _sm, _sh, _sl) = (At(_state, _state), At(_state, _plus), At(_state, _minus), At(_state, _high), At(_state, _low));
            (_oo, _oh, _ol, _os) = (At(_out, _out), At(_out, _high), At(_out, _low), At(_out, _state));
            (_hh, _ho, _hs, _hl) = (At(_high, _high), At(_high, _out), At(_high, _state), At(_high, _low));
            (_ll, _lo, _ls, _lh) = (At(_low, _low), At(_low, _out), At(_low, _state), At(_low, _high));
            double half = _model.HysteresisVolts / 2;
            (_feedback, _perVolt) = half > LeastHalfVolts ? (Bistable<L>.Feedback, Bistable<L>.DriveAtThreshold / half)
                : (0, 1 / LeastHalfVolts);
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == OffsetVoltage)
                return ref _offsetVolts;
            if (parameter == BiasCurrent)
                return ref _biasAmps;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => LeastHalfVolts;

        public override void LoadLinear(L[] g, L[] c)
        {
            g[_ss] += L.Of(Siemens);
            c[_ss] += L.Of(Siemens * _model.DelaySeconds / Math.Log(2));
            L leak = L.Of(_model.LeakageSiemens);
            g[_oo] += leak;
            g[_ll] += leak;
            g[_ol] -= leak;
            g[_lo] -= leak;
        }

        public override bool HasSources => true;

        public override void LoadSources(double t, L ramp, L[] f)
        {
            f[_plus] += ramp * _biasAmps;
            f[_minus] += ramp * _biasAmps;
        }

        public override void ForgetLimits()
        {
            _drive.Forget();
            (_sinkLast, _sourceLast) = (L.Of(0), L.Of(0));
        }

        /// <summary>What is seen of an input between two stops, and its slopes on the input, the upper and the lower stop.</summary>
        private static L Seen(L v, L low, L high, out L onInput, out L onHigh, out L onLow)
        {
            L above = Saturation.Ramp(v - high, InputRounding, out L overSlope),
                below = Saturation.Ramp(low - v, InputRounding, out L underSlope);
            (onHigh, onLow) = (overSlope, underSlope);
            onInput = L.Of(1) - overSlope - underSlope;
            return v - above + below;
        }

        /// <summary>A transistor of limited current: its current for a voltage across it, and its slope.</summary>
        private static L Limited(L volts, double ohms, double amps, ref L last, Iterate<L> at, out L slope)
        {
            L asked = volts * L.Of(1 / (ohms * amps)), u = Saturation.Approach(asked, ref last, at);
            L bent = Saturation.Bounded(u, out slope);
            L i = L.Of(amps) * (L.Of(1 - LinearShare) * (bent + slope * (asked - u)) + L.Of(LinearShare) * asked);
            slope = (L.Of(1 - LinearShare) * slope + L.Of(LinearShare)) * L.Of(1 / ohms);
            return i;
        }

        /// <summary>How much of it is there at a supply, from 0 to 1, and its slope, 1/V.</summary>
        private L Alive(L span, out L slope)
        {
            double width = SupplyRounding * _model.LeastSupplyVolts;
            L u = (span - L.Of(_model.LeastSupplyVolts)) * L.Of(1 / width), e = L.Exp(-L.Abs(u)), one = L.Of(1);
            slope = L.Of(1 / width) * e / ((one + e) * (one + e));
            return L.Less(u, L.Of(0), e, one) / (one + e);
        }

        /// <summary>From −1, low, to 1, high.</summary>
        private static L Open(L state) => L.Max(L.Of(-1), L.Min(L.Of(1), state * L.Of(1 / ChangeOver)));

        public override void LoadNonlinear(Iterate<L> at)
        {
            L[] x = at.X;
            L one = L.Of(1), nothing = L.Of(0), y = x[_state], span = x[_high] - x[_low];
            L top = x[_high] - L.Of(_model.CommonModeHighVolts), bottom = x[_low] + L.Of(_model.CommonModeLowVolts);
            L plus = Seen(x[_plus], bottom, top, out L plusOn, out L plusHigh, out L plusLow);
            L minus = Seen(x[_minus], bottom, top, out L minusOn, out L minusHigh, out L minusLow);
            L asked = L.Of(_perVolt) * (plus - minus + _offsetVolts) + L.Of(_feedback) * y;
            L z = _drive.Follow(asked, at);
            L b = Saturation.Bounded(z, out L slope);
            at.F[_state] -= L.Of(Siemens) * (b + slope * (asked - z)); // along the tangent from z
            L perVolt = L.Of(Siemens * _perVolt) * slope;
            at.G[_ss] -= L.Of(Siemens * _feedback) * slope;
            at.G[_sp] -= perVolt * plusOn;
            at.G[_sm] += perVolt * minusOn;
            at.G[_sh] -= perVolt * (plusHigh - minusHigh);
            at.G[_sl] -= perVolt * (plusLow - minusLow);

            L open = Open(y), moves = L.Less(L.Abs(y), L.Of(ChangeOver), L.Of(0.5 / ChangeOver), nothing),
                alive = Alive(span, out L aliveSlope);
            L share = L.Of(0.5) * (one - open) * alive;
            L into = Limited(x[_out] - x[_low], _model.SinkOhms, _model.SinkAmps, ref _sinkLast, at, out L siemens);
            L flow = into * share, onOut = siemens * share, onState = -(into * alive * moves),
                onSpan = into * L.Of(0.5) * (one - open) * aliveSlope;
            at.F[_out] += flow;
            at.F[_low] -= flow;
            at.G[_oo] += onOut;
            at.G[_ol] -= onOut + onSpan;
            at.G[_oh] += onSpan;
            at.G[_os] += onState;
            at.G[_lo] -= onOut;
            at.G[_ll] += onOut + onSpan;
            at.G[_lh] -= onSpan;
            at.G[_ls] -= onState;

            if (_model.SourceAmps > 0)
            {
                share = L.Of(0.5) * (one + open) * alive;
                into = Limited(x[_out] - x[_high], _model.SourceOhms, _model.SourceAmps, ref _sourceLast, at, out siemens);
                (flow, onOut, onState, onSpan) = (into * share, siemens * share, into * alive * moves,
                    into * L.Of(0.5) * (one + open) * aliveSlope);
                at.F[_out] += flow;
                at.F[_high] -= flow;
                at.G[_oo] += onOut;
                at.G[_oh] -= onOut - onSpan;
                at.G[_ol] -= onSpan;
                at.G[_os] += onState;
                at.G[_ho] -= onOut;
                at.G[_hh] += onOut - onSpan;
                at.G[_hl] += onSpan;
                at.G[_hs] -= onState;
            }

            L idle = L.Of(_model.SupplyAmps) * Saturation.Faded(span, out L idleSlope);
            idleSlope *= L.Of(_model.SupplyAmps);
            at.F[_high] += idle;
            at.F[_low] -= idle;
            at.G[_hh] += idleSlope;
            at.G[_hl] -= idleSlope;
            at.G[_lh] -= idleSlope;
            at.G[_ll] += idleSlope;
        }

        // Away from a threshold, its inputs within their range and its supply there, all that bends is its output transistors.
        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L[] x = at.X;
            L span = x[_high] - x[_low], moved = step[_low] - step[_high];
            bool alive = L.AllBelow(L.Of((1 + 40 * SupplyRounding) * _model.LeastSupplyVolts) - L.Min(span, span - moved), 0);
            L y = L.Abs(x[_state]), before = L.Abs(x[_state] + step[_state]);
            bool full = L.AllBelow(L.Of(ChangeOver) - L.Min(y, before), 0)
                && L.AllBelow(-(x[_state] * (x[_state] + step[_state])), 0);
            if (!alive || !full || !IsWithin(_plus) || !IsWithin(_minus))
                return false;
            L perVolt = L.Of(_perVolt), feedback = L.Of(_feedback);
            L asked = perVolt * (x[_plus] - x[_minus] + _offsetVolts) + feedback * x[_state];
            if (!Saturation.TryBoundedRemainder(asked, perVolt * (step[_minus] - step[_plus]) - feedback * step[_state], out L state))
                return false;
            left[_state] -= L.Of(Siemens) * state;
            L idle = L.Of(_model.SupplyAmps) * Saturation.FadedRemainder(span, moved);
            left[_high] += idle;
            left[_low] -= idle;
            L open = L.Of(0.5) * (L.Of(1) + Open(x[_state]));
            return Through(_low, _model.SinkOhms, _model.SinkAmps, L.Of(1) - open)
                && (_model.SourceAmps == 0 || Through(_high, _model.SourceOhms, _model.SourceAmps, open));

            bool IsWithin(int input)
            {
                L margin = L.Of(50 * InputRounding), top = L.Of(_model.CommonModeHighVolts), bottom = L.Of(_model.CommonModeLowVolts);
                L v = x[input], was = v + step[input];
                return L.AllBelow(margin + L.Max(v - x[_high], was - x[_high] - step[_high]) + top, 0)
                    && L.AllBelow(margin + L.Max(x[_low] - v, x[_low] + step[_low] - was) + bottom, 0);
            }

            bool Through(int rail, double ohms, double amps, L share)
            {
                L perFull = L.Of(1 / (ohms * amps));
                if (!Saturation.TryBoundedRemainder((x[_out] - x[rail]) * perFull, (step[rail] - step[_out]) * perFull, out L bent))
                    return false;
                L i = L.Of(amps * (1 - LinearShare)) * share * bent;
                left[_out] += i;
                left[rail] -= i;
                return true;
            }
        }

        private (L Sunk, L Delivered) Outputs(L[] x)
        {
            L one = L.Of(1), y = Open(x[_state]), alive = Alive(x[_high] - x[_low], out _);
            L Through(L volts, double ohms, double amps)
            {
                L u = volts * L.Of(1 / (ohms * amps));
                return L.Of(amps) * (L.Of(1 - LinearShare) * Saturation.Bounded(u, out _) + L.Of(LinearShare) * u);
            }
            L sunk = L.Of(0.5) * (one - y) * alive * Through(x[_out] - x[_low], _model.SinkOhms, _model.SinkAmps)
                + L.Of(_model.LeakageSiemens) * (x[_out] - x[_low]);
            return (sunk, _model.SourceAmps > 0 ? L.Of(0.5) * (one + y) * alive
                * Through(x[_out] - x[_high], _model.SourceOhms, _model.SourceAmps) : L.Of(0));
        }

        /// <summary>Reported as the current into the output pin from outside.</summary>
        public override L Current(Iterate<L> at)
        {
            var (sunk, delivered) = Outputs(at.X);
            return sunk + delivered;
        }

        public override L? Watts(Iterate<L> at)
        {
            L[] x = at.X;
            var (sunk, delivered) = Outputs(x);
            L span = x[_high] - x[_low], idle = L.Of(_model.SupplyAmps) * Saturation.Faded(span, out _);
            return sunk * (x[_out] - x[_low]) + delivered * (x[_out] - x[_high]) + idle * span + _biasAmps * (x[_plus] + x[_minus]);
        }
    }
}
