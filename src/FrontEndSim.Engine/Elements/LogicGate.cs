namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of a logic gate with one input, in SI units.</summary>
public sealed record LogicGateModel
{
    /// <summary>The rising threshold's share of the supply voltage actually present, V/V.</summary>
    public double RisingShare { get; init; }

    /// <summary>What is added to that share, V: the whole threshold where it does not move with the supply.</summary>
    public double RisingVolts { get; init; }

    /// <summary>The falling threshold's share of the supply voltage; the rising one's for a gate without hysteresis.</summary>
    public double FallingShare { get; init; }

    /// <summary>What is added to that share, V.</summary>
    public double FallingVolts { get; init; }

    /// <summary>Whether the output is low while the input is high.</summary>
    public bool Inverts { get; init; }

    /// <summary>Time from the input's passing a threshold, well driven, to half the output's change, s.</summary>
    public double DelaySeconds { get; init; } = 10e-9;

    /// <summary>Resistance of either output transistor, ohm.</summary>
    public double OutputOhms { get; init; } = 50;

    /// <summary>The rising threshold at a supply voltage, V above the gate's ground.</summary>
    public double Rising(double supplyVolts) => RisingShare * supplyVolts + RisingVolts;

    /// <summary>The falling threshold at a supply voltage, V above the gate's ground.</summary>
    public double Falling(double supplyVolts) => FallingShare * supplyVolts + FallingVolts;
}

/// <summary>
/// A logic gate with one input: a comparator with positive feedback, τ·dy/dt = B(z) − y with z = a·(v − v0) + k·y and B
/// bounded by one. Its stable states end where dz/dy·B' = 1; a is chosen so that they end at the two thresholds exactly
/// (after Schmitt, "A thermionic trigger", J. Sci. Instrum. 15, 1938). The state y opens one output transistor and
/// closes the other. Where both states would hold at rest, the gate takes the one on whose side of the middle its input is.
/// </summary>
/// <remarks>The input takes no current: capacitance, leakage and clamps belong to the pin.</remarks>
/// <param name="Name">Part name.</param>
/// <param name="Input">Input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the supply pin.</param>
/// <param name="NegativeRail">Node of the ground pin.</param>
/// <param name="Model">Its numbers.</param>
public sealed record LogicGate(string Name, string Input, string Output, string PositiveRail, string NegativeRail, LogicGateModel Model)
    : Element(Name)
{
    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [Input, Output, PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with
        {
            Input = renamed(Input),
            Output = renamed(Output),
            PositiveRail = renamed(PositiveRail),
            NegativeRail = renamed(NegativeRail),
        };

    internal override (string Plus, string Minus) Across => (Output, NegativeRail);

    internal override bool HasGain => true;

    internal override IEnumerable<string> Problems() =>
    [
        .. Finite("the rising threshold's share of the supply", Model.RisingShare, "V/V"),
            .. Finite("the rising threshold", Model.RisingVolts, "V"),
        .. Finite("the falling threshold's share of the supply", Model.FallingShare, "V/V"),
            .. Finite("the falling threshold", Model.FallingVolts, "V"),
        .. NotNegative("the rising threshold's share less the falling one's", Model.RisingShare - Model.FallingShare, "V/V"),
        .. NotNegative("the rising threshold less the falling one", Model.RisingVolts - Model.FallingVolts, "V"),
        .. Positive("the delay", Model.DelaySeconds, "s"), .. Positive("the output resistance", Model.OutputOhms, "ohm"),
    ];

    internal override IEnumerable<(string, string)> DirectPaths() => [(Output, PositiveRail), (Output, NegativeRail)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private const double Siemens = Bistable<L>.Siemens, Feedback = Bistable<L>.Feedback;

        // Half the width over which a gate without hysteresis changes over, and the least half hysteresis, V (a buffered
        // gate's gain is some hundreds; common practice, no source).
        private const double LeastHalfVolts = 5e-3;

        private readonly LogicGateModel _model;
        private readonly int _in, _out, _high, _low, _state;
        private readonly int _ss, _si, _sh, _sl, _oo, _oh, _ol, _os, _hh, _ho, _hs, _ll, _lo, _ls;
        private readonly double _feedback, _driveAtThreshold, _middleShare, _middleVolts, _halfShare, _halfVolts;
        private readonly Bistable<L> _drive = new();

        public Behaviour(LogicGate part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            (_in, _out, _high, _low) = (wiring.Node(part.Input), wiring.Node(part.Output), wiring.Node(part.PositiveRail),
                wiring.Node(part.NegativeRail));
            _state = wiring.Unknown($"{part.Name} (state)", UnknownKind.State);
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_ss, _si, _sh, _sl) = (At(_state, _state), At(_state, _in), At(_state, _high), At(_state, _low));
            (_oo, _oh, _ol, _os) = (At(_out, _out), At(_out, _high), At(_out, _low), At(_out, _state));
            (_hh, _ho, _hs) = (At(_high, _high), At(_high, _out), At(_high, _state));
            (_ll, _lo, _ls) = (At(_low, _low), At(_low, _out), At(_low, _state));
            (_middleShare, _middleVolts) = ((_model.RisingShare + _model.FallingShare) / 2, (_model.RisingVolts + _model.FallingVolts) / 2);
            (_halfShare, _halfVolts) = ((_model.RisingShare - _model.FallingShare) / 2, (_model.RisingVolts - _model.FallingVolts) / 2);
            bool hasHysteresis = _halfShare > 0 || _halfVolts > 0;
            (_feedback, _driveAtThreshold) = hasHysteresis ? (Feedback, Bistable<L>.DriveAtThreshold) : (0, 1);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => Math.Min(LeastHalfVolts, 1 / Feedback);

        // From full on the other side, with the input well beyond, the state passes zero after τ·ln 2.
        public override void LoadLinear(L[] g, L[] c)
        {
            g[_ss] += L.Of(Siemens);
            c[_ss] += L.Of(Siemens * _model.DelaySeconds / Math.Log(2));
        }

        public override void ForgetLimits() => _drive.Forget();

        /// <summary>What the input and the state drive it with, against the lower rail, and its slopes on the input and the
        /// supply.</summary>
        private L Asked(L input, L supply, L state, out L perInput, out L perSupply)
        {
            L asymmetry = input - L.Of(_middleShare) * supply - L.Of(_middleVolts);
            L half = L.Of(_halfShare) * supply + L.Of(_halfVolts);
            L halfSlope = L.Less(L.Of(LeastHalfVolts), half, L.Of(_halfShare), L.Of(0));
            half = L.Max(half, L.Of(LeastHalfVolts));
            perInput = L.Of(_driveAtThreshold) / half;
            perSupply = perInput * (-L.Of(_middleShare) - asymmetry * halfSlope / half);
            return perInput * asymmetry + L.Of(_feedback) * state;
        }

        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L[] x = at.X;
            L one = L.Of(1), y = x[_state], before = y + step[_state];
            L input = x[_in] - x[_low], supply = x[_high] - x[_low], inputStep = step[_in] - step[_low],
                supplyStep = step[_high] - step[_low];
            bool changesOver = L.AllBelow(L.Max(L.Abs(y), L.Abs(before)) - one, 0);
            if (!changesOver && !L.AllBelow(one - L.Min(y, before), double.Epsilon) && !L.AllBelow(one + L.Max(y, before), double.Epsilon))
                return false;
            L asked = Asked(input + inputStep, supply + supplyStep, before, out L perInput, out L perSupply);
            L moved = perInput * inputStep + perSupply * supplyStep + L.Of(_feedback) * step[_state];
            L now = Asked(input, supply, y, out _, out _);
            if (!Saturation.TryBoundedRemainder(now, now - asked, out L bent))
                return false;
            // What is asked bends a little as well, where the supply moves.
            Saturation.Bounded(asked, out L slope);
            left[_state] -= L.Of(Siemens) * (bent + slope * (now - asked + moved));
            if (!changesOver)
                return true;
            // The product of how far each transistor is open and of the voltage across it.
            L opened = L.Of((_model.Inverts ? -0.5 : 0.5) / _model.OutputOhms) * step[_state];
            L upper = opened * (step[_out] - step[_high]), lower = -(opened * (step[_out] - step[_low]));
            left[_out] += upper + lower;
            left[_high] -= upper;
            left[_low] -= lower;
            return true;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L[] x = at.X;
            L y = x[_state], one = L.Of(1), nothing = L.Of(0);
            L asked = Asked(x[_in] - x[_low], x[_high] - x[_low], y, out L perInput, out L perSupply);
            L z = _drive.Follow(asked, at);
            L b = Saturation.Bounded(z, out L slope);
            at.F[_state] -= L.Of(Siemens) * (b + slope * (asked - z)); // along the tangent from z
            perInput *= L.Of(Siemens) * slope;
            perSupply *= L.Of(Siemens) * slope;
            at.G[_ss] -= L.Of(Siemens * _feedback) * slope;
            at.G[_si] -= perInput;
            at.G[_sh] -= perSupply;
            at.G[_sl] += perInput + perSupply;

            // Between full states both transistors conduct, as in a real gate.
            L sign = L.Of(_model.Inverts ? -1 : 1), full = L.Of(0.5 / _model.OutputOhms);
            L open = L.Max(-one, L.Min(one, y)), moves = L.Less(L.Abs(y), one, sign * full, nothing);
            L upper = full * (one + sign * open), lower = full * (one - sign * open);
            L toHigh = x[_out] - x[_high], toLow = x[_out] - x[_low];
            at.F[_out] += upper * toHigh + lower * toLow;
            at.F[_high] -= upper * toHigh;
            at.F[_low] -= lower * toLow;
            at.G[_oo] += upper + lower;
            at.G[_oh] -= upper;
            at.G[_ol] -= lower;
            at.G[_os] += moves * (toHigh - toLow);
            at.G[_hh] += upper;
            at.G[_ho] -= upper;
            at.G[_hs] -= moves * toHigh;
            at.G[_ll] += lower;
            at.G[_lo] -= lower;
            at.G[_ls] += moves * toLow;
        }

        private (L Upper, L Lower) Outputs(L[] x)
        {
            L one = L.Of(1), full = L.Of(0.5 / _model.OutputOhms), y = L.Max(-one, L.Min(one, x[_state]));
            L sign = L.Of(_model.Inverts ? -1 : 1);
            return (full * (one + sign * y) * (x[_out] - x[_high]), full * (one - sign * y) * (x[_out] - x[_low]));
        }

        public override L Current(Iterate<L> at)
        {
            var (upper, lower) = Outputs(at.X);
            return upper + lower;
        }

        public override L? Watts(Iterate<L> at)
        {
            L[] x = at.X;
            var (upper, lower) = Outputs(x);
            return upper * (x[_out] - x[_high]) + lower * (x[_out] - x[_low]);
        }
    }
}
