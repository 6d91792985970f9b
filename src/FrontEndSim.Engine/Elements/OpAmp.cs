namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of an operational amplifier, in SI units.</summary>
public sealed record OpAmpModel
{
    /// <summary>Open-loop gain at DC, V/V.</summary>
    public double OpenLoopGain { get; init; } = 2e5;

    /// <summary>Gain-bandwidth product, Hz.</summary>
    public double GainBandwidthHertz { get; init; } = 1e6;

    /// <summary>
    /// Phase margin of the op amp alone, as a follower without load, degrees, above 0 and at most 90. 90 is a single pole; less is
    /// the excess phase of a second pole at GBW·sin φ·tan φ: there the loop gain is one where its lag is 180° − φ.
    /// </summary>
    public double PhaseMarginDegrees { get; init; } = 90;

    /// <summary>Largest rate of change of the output, V/s.</summary>
    public double SlewVoltsPerSecond { get; init; } = 0.5e6;

    /// <summary>Input offset voltage, added at the plus input, V.</summary>
    public double OffsetVolts { get; init; }

    /// <summary>Mean bias current into each input, A.</summary>
    public double BiasAmps { get; init; }

    /// <summary>Offset current: bias current of the plus input less that of the minus input, A.</summary>
    public double OffsetAmps { get; init; }

    /// <summary>Differential input resistance, ohm.</summary>
    public double InputOhms { get; init; } = 2e6;

    /// <summary>Open-loop output resistance, ohm.</summary>
    public double OutputOhms { get; init; } = 75;

    /// <summary>How far below its positive rail the output stops, V.</summary>
    public double DropHighVolts { get; init; } = 1.5;

    /// <summary>How far above its negative rail the output stops, V.</summary>
    public double DropLowVolts { get; init; } = 1.5;

    /// <summary>Output current limit, either way, A.</summary>
    public double OutputLimitAmps { get; init; } = 25e-3;

    /// <summary>How far below the positive rail the inputs must stay, V (negative: may go above). A rating, not modelled.</summary>
    public double CommonModeHighVolts { get; init; } = 1.5;

    /// <summary>How far above the negative rail the inputs must stay, V (negative: may go below). A rating, not modelled.</summary>
    public double CommonModeLowVolts { get; init; } = 1.5;

    /// <summary>How near to the negative rail an input turns its phase round, V: a plus input below it sends the output up, a minus input
    /// down, both send it up, as inputs of JFETs do (data sheets of the LF353 class). Null for inputs that do not.</summary>
    public double? ReversesBelowVolts { get; init; }

    /// <summary>Input voltage noise density, V/√Hz, white.</summary>
    public double NoiseVolts { get; init; }

    /// <summary>Noise current density of each input, A/√Hz, white.</summary>
    public double NoiseAmps { get; init; }

    /// <summary>Supply current without load, A.</summary>
    public double SupplyAmps { get; init; } = 1e-3;
}

/// <summary>
/// An operational amplifier in two stages, after Solomon, "The Monolithic Op Amp: A Tutorial Study" (1974):
/// an input stage of limited current charges a capacitance (gain, bandwidth and slew come out of it), whose voltage,
/// stopped short of the rails actually present, drives the output through a resistance of limited current.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Model">Its numbers.</param>
public sealed record OpAmp(string Name, string Plus, string Minus, string Output, string PositiveRail, string NegativeRail,
    OpAmpModel Model) : Differential(Name, Plus, Minus, Output, PositiveRail, NegativeRail)
{
    /// <summary>Input offset voltage, V.</summary>
    public static readonly Parameter OffsetVoltage = new Parameter<OpAmp>("offset voltage", "V", u => u.Model.OffsetVolts);

    /// <summary>Mean bias current into each input, A.</summary>
    public static readonly Parameter BiasCurrent = new Parameter<OpAmp>("bias current", "A", u => u.Model.BiasAmps);

    /// <summary>Bias current of the plus input less that of the minus input, A.</summary>
    public static readonly Parameter OffsetCurrent = new Parameter<OpAmp>("offset current", "A", u => u.Model.OffsetAmps);

    /// <summary>Open-loop gain at DC, V/V.</summary>
    public static readonly Parameter OpenLoopGain = new Parameter<OpAmp>("open-loop gain", "V/V", u => u.Model.OpenLoopGain);

    internal override (string Plus, string Minus) Across => (Output, Circuit.Ground);

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the open-loop gain", Model.OpenLoopGain, "V/V"),
            .. Positive("the gain-bandwidth product", Model.GainBandwidthHertz, "Hz"),
        .. Model.PhaseMarginDegrees is > 0 and <= 90 ? []
            : new[] { $"the phase margin must lie above 0 and up to 90 degrees, but is {Model.PhaseMarginDegrees}" },
        .. Positive("the slew rate", Model.SlewVoltsPerSecond, "V/s"), .. Finite("the offset voltage", Model.OffsetVolts, "V"),
        .. Finite("the bias current", Model.BiasAmps, "A"), .. Finite("the offset current", Model.OffsetAmps, "A"),
        .. Positive("the input resistance", Model.InputOhms, "ohm"), .. Positive("the output resistance", Model.OutputOhms, "ohm"),
        .. NotNegative("the drop from the positive rail", Model.DropHighVolts, "V"),
        .. NotNegative("the drop from the negative rail", Model.DropLowVolts, "V"),
        .. NotNegative("the voltage below which an input reverses the phase", Model.ReversesBelowVolts ?? 0, "V"),
        .. Positive("the output current limit", Model.OutputLimitAmps, "A"), .. NotNegative("the supply current", Model.SupplyAmps, "A"),
        .. NotNegative("the noise voltage", Model.NoiseVolts, "V/√Hz"), .. NotNegative("the noise current", Model.NoiseAmps, "A/√Hz"),
    ];

    // The input resistance joins the inputs; the output and the supply pins reach ground through the supplies.
    internal override IEnumerable<(string, string)> DirectPaths() =>
        [(Plus, Minus), (Output, PositiveRail), (Output, NegativeRail)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L>, IInputStage<L> where L : struct, ILane<L>
    {
        // The gain node is scaled as a 1 mS transconductance, so that its row has the size of its neighbours'.
        private const double Transconductance = 1e-3;

        // Its clamps are rounded over this voltage and hold the input stage's largest current half of it beyond the stop;
        // 0.2 V inside the stop they carry less than 1e-17 of that current.
        private const double ClampVolts = 5e-3;

        // The change-over of the output current from rail to rail is rounded over this current.
        private const double RoundingAmps = 1e-6;

        // The turn of the phase is rounded over this voltage.
        private const double ReversalVolts = 0.1;

        // A small linear share keeps the limited output current's slope from vanishing when far overdriven.
        private const double LinearShare = 1e-6;

        private readonly OpAmpModel _model;
        private readonly int _plus, _minus, _out, _high, _low, _gain;
        private readonly int _drive; // what drives the output: the gain stage, or the second pole behind it
        private readonly Branch _input;
        private readonly int _dd, _dg, _gg, _gp, _gm, _gh, _gl, _og, _oo, _hg, _ho, _lg, _lo, _hh, _hl, _lh, _ll;
        private readonly bool _hasKnownRails;
        private readonly double _limitAmps, _clampSiemens;
        private readonly L _perFullDrive;
        private L _offsetVolts, _biasAmps, _offsetAmps, _openLoopGain;
        private L _overdrive, _load; // relative input and output current of the last evaluation

        public Behaviour(OpAmp part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            (_offsetVolts, _biasAmps) = (L.Of(_model.OffsetVolts), L.Of(_model.BiasAmps));
            (_offsetAmps, _openLoopGain) = (L.Of(_model.OffsetAmps), L.Of(_model.OpenLoopGain));
            (_plus, _minus, _out) = (wiring.Node(part.Plus), wiring.Node(part.Minus), wiring.Node(part.Output));
            (_high, _low) = (wiring.Node(part.PositiveRail), wiring.Node(part.NegativeRail));
            bool IsKnown(string node) => node == Circuit.Ground || wiring.DriverOf(node) is not null;
            _hasKnownRails = IsKnown(part.PositiveRail) && IsKnown(part.NegativeRail);
            _gain = wiring.Unknown($"{part.Name} (gain stage)", UnknownKind.State);
            _drive = _model.PhaseMarginDegrees < 90 ? wiring.Unknown($"{part.Name} (second pole)", UnknownKind.State) : _gain;
            _input = new Branch(wiring, _plus, _minus);
            (_dd, _dg) = (wiring.Entry(_drive, _drive), wiring.Entry(_drive, _gain));
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_gg, _gp, _gm, _gh, _gl) = (At(_gain, _gain), At(_gain, _plus), At(_gain, _minus), At(_gain, _high), At(_gain, _low));
            (_og, _oo) = (At(_out, _drive), At(_out, _out));
            (_hg, _ho, _lg, _lo) = (At(_high, _drive), At(_high, _out), At(_low, _drive), At(_low, _out));
            (_hh, _hl, _lh, _ll) = (At(_high, _high), At(_high, _low), At(_low, _high), At(_low, _low));
            // I = C·slew and GBW = gm/(2π·C): the input stage's largest current follows from the two.
            _limitAmps = _model.SlewVoltsPerSecond * Transconductance / (2 * Math.PI * _model.GainBandwidthHertz);
            _clampSiemens = _limitAmps / ClampVolts;
            _perFullDrive = L.Of(1 / (_model.OutputOhms * _model.OutputLimitAmps));
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == OffsetVoltage)
                return ref _offsetVolts;
            if (parameter == BiasCurrent)
                return ref _biasAmps;
            if (parameter == OffsetCurrent)
                return ref _offsetAmps;
            if (parameter == OpenLoopGain)
                return ref _openLoopGain;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        // The rounded change-over from rail to rail moves a microampere between supplies, and no voltage.
        public override double KneeVolts => Math.Min(ClampVolts,
            Math.Min(_limitAmps / Transconductance, _model.OutputOhms * _model.OutputLimitAmps));

        public override void LoadLinear(L[] g, L[] c)
        {
            _input.Slope(g, L.Of(1 / _model.InputOhms));
            c[_gg] += L.Of(Transconductance / (2 * Math.PI * _model.GainBandwidthHertz));
            g[_gg] += L.Of(Transconductance) / _openLoopGain;
            if (_drive == _gain)
                return;
            double margin = _model.PhaseMarginDegrees * Math.PI / 180,
                poleHertz = _model.GainBandwidthHertz * Math.Sin(margin) * Math.Tan(margin);
            g[_dd] += L.Of(Transconductance);
            g[_dg] -= L.Of(Transconductance);
            c[_dd] += L.Of(Transconductance / (2 * Math.PI * poleHertz));
        }

        public override bool HasSources => true;

        public override void LoadSources(double t, L ramp, L[] f)
        {
            // Bias currents are independent sources to the circuit and ramp with them.
            L half = L.Of(0.5) * _offsetAmps;
            f[_plus] += ramp * (_biasAmps + half);
            f[_minus] += ramp * (_biasAmps - half);
        }

        /// <summary>The output current for a drive relative to the limit.</summary>
        private L OutputCurrent(L drive, out L slope)
        {
            L bent = Saturation.Bounded(drive, out slope);
            slope = (L.Of(1 - LinearShare) * slope + L.Of(LinearShare)) * L.Of(1 / _model.OutputOhms);
            return L.Of(_model.OutputLimitAmps) * (L.Of(1 - LinearShare) * bent + L.Of(LinearShare) * drive);
        }

        private L OutputCurrent(Iterate<L> at) => OutputCurrent((at.X[_drive] - at.X[_out]) * _perFullDrive, out _);

        public override void ForgetLimits() => (_overdrive, _load) = (L.Of(0), L.Of(0));

        public override void LoadNonlinear(Iterate<L> at)
        {
            L[] x = at.X;
            L one = L.Of(1);

            // Input stage: a transconductance of limited current.
            L asked = (x[_plus] - x[_minus] + _offsetVolts) * L.Of(Transconductance / _limitAmps);
            L u = Saturation.Approach(asked, ref _overdrive, at);
            L i = Saturation.Bounded(u, out L slope);
            i = L.Of(_limitAmps) * (i + slope * (asked - u)); // along the tangent from u
            slope *= L.Of(Transconductance);

            // Gain stage: the current charges its capacitance until a clamp near the rail takes it over.
            L stopHigh = x[_high] - L.Of(_model.DropHighVolts), stopLow = x[_low] + L.Of(_model.DropLowVolts);
            L y = x[_gain];
            L over = Saturation.Ramp(y - stopHigh, ClampVolts, out L overSlope),
                under = Saturation.Ramp(stopLow - y, ClampVolts, out L underSlope);
            L clamp = L.Of(_clampSiemens) * (over - under);
            L clampSlope = L.Of(_clampSiemens) * (overSlope + underSlope);
            at.F[_gain] += clamp - i;
            at.G[_gg] += clampSlope;
            at.G[_gp] -= slope;
            at.G[_gm] += slope;
            if (_model.ReversesBelowVolts is { } reverses)
                LoadReversal(at, x[_low] + L.Of(reverses));

            // Output stage: into the output, out of one rail or the other.
            L drive = (x[_drive] - x[_out]) * _perFullDrive;
            L load = Saturation.Approach(drive, ref _load, at);
            L o = OutputCurrent(load, out L g);
            o += g * (drive - load) * L.Of(_model.OutputOhms * _model.OutputLimitAmps); // along the tangent
            at.F[_out] -= o;
            at.G[_og] -= g;
            at.G[_oo] += g;
            if (_hasKnownRails && !at.WithKnown)
                return;
            at.G[_gh] -= L.Of(_clampSiemens) * overSlope;
            at.G[_gl] -= L.Of(_clampSiemens) * underSlope;
            L size = L.Sqrt(o * o + L.Of(RoundingAmps * RoundingAmps));
            L share = L.Of(0.5) * (one + o / size);
            L idle = L.Of(_model.SupplyAmps) * Saturation.Faded(x[_high] - x[_low], out L idleSlope);
            idleSlope *= L.Of(_model.SupplyAmps);
            at.F[_high] += L.Of(0.5) * (o + size) + idle;
            at.F[_low] -= L.Of(0.5) * (size - o) + idle;
            L fromHigh = share * g, fromLow = (one - share) * g;
            at.G[_hg] += fromHigh;
            at.G[_ho] -= fromHigh;
            at.G[_lg] += fromLow;
            at.G[_lo] -= fromLow;
            at.G[_hh] += idleSlope;
            at.G[_hl] -= idleSlope;
            at.G[_lh] -= idleSlope;
            at.G[_ll] += idleSlope;
        }

        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L[] x = at.X;
            if (_model.ReversesBelowVolts is { } reverses)
            {
                // The turn is over thirty times its rounding above the limit.
                L limit = x[_low] + L.Of(reverses), limitBefore = limit + step[_low];
                L near = L.Max(limit - L.Min(x[_plus], x[_minus]), limitBefore - L.Min(x[_plus] + step[_plus], x[_minus] + step[_minus]));
                if (!L.AllBelow(near, -30 * ReversalVolts))
                    return false;
            }
            L perLimit = L.Of(Transconductance / _limitAmps);
            L drive = (x[_drive] - x[_out]) * _perFullDrive, moved = (step[_out] - step[_drive]) * _perFullDrive;
            L asked = (x[_plus] - x[_minus] + _offsetVolts) * perLimit, askedMore = (step[_minus] - step[_plus]) * perLimit;
            L high = x[_gain] - x[_high] + L.Of(_model.DropHighVolts), low = x[_low] + L.Of(_model.DropLowVolts) - x[_gain];
            if (!Saturation.TryBoundedRemainder(asked, askedMore, out L input)
                || !Saturation.TryBoundedRemainder(drive, moved, out L output)
                || !Saturation.TryRampRemainder(high, step[_high] - step[_gain], ClampVolts, out L over)
                || !Saturation.TryRampRemainder(low, step[_gain] - step[_low], ClampVolts, out L under))
                return false;
            left[_gain] += L.Of(_clampSiemens) * (over - under) - L.Of(_limitAmps) * input;

            L most = L.Of(_model.OutputLimitAmps);
            output *= most;
            left[_out] -= output;
            if (_hasKnownRails)
                return true;
            // Out of one rail or the other; where the change-over lies apart, all of it or nothing.
            L o = most * drive, before = o - most * moved, size = L.Less(o, L.Of(0), -output, output);
            L apart = L.Of(100 * RoundingAmps);
            if (!L.AllBelow(apart - L.Min(o, before), 0) && !L.AllBelow(apart + L.Max(o, before), 0))
            {
                L rounding = L.Of(RoundingAmps * RoundingAmps), sizeBefore = L.Sqrt(before * before + rounding);
                size = L.Sqrt(o * o + rounding) - (sizeBefore + before / sizeBefore * (o - before));
            }
            L idle = L.Of(_model.SupplyAmps) * Saturation.FadedRemainder(x[_high] - x[_low], step[_low] - step[_high]);
            left[_high] += L.Of(0.5) * (output + size) + idle;
            left[_low] -= L.Of(0.5) * (size - output) + idle;
            return true;
        }

        // An input below the limit overrules the input stage with twice its largest current.
        private void LoadReversal(Iterate<L> at, L limit)
        {
            L plus = Below(limit - at.X[_plus], out L plusSlope), minus = Below(limit - at.X[_minus], out L minusSlope);
            L one = L.Of(1), twice = L.Of(2 * _limitAmps);
            at.F[_gain] -= twice * (plus - (one - plus) * minus);
            L byPlus = twice * plusSlope * (one + minus), byMinus = twice * minusSlope * (one - plus);
            at.G[_gp] += byPlus;
            at.G[_gm] -= byMinus;
            at.G[_gl] -= byPlus - byMinus;
        }

        private static L Below(L volts, out L slope)
        {
            Saturation.Ramp(volts, ReversalVolts, out L share);
            slope = share * (L.Of(1) - share) * L.Of(1 / ReversalVolts);
            return share;
        }

        public InputStage InputStage(Iterate<L> at)
        {
            L asked = (at.X[_plus] - at.X[_minus] + _offsetVolts) * L.Of(Transconductance / _limitAmps);
            Saturation.Bounded(asked, out L slope);
            return new(_plus, _minus, _gain, Transconductance * slope.Get(0));
        }

        public override L? Watts(Iterate<L> at)
        {
            L[] x = at.X;
            L o = OutputCurrent(at);
            L size = L.Sqrt(o * o + L.Of(RoundingAmps * RoundingAmps));
            L span = x[_high] - x[_low];
            L idle = L.Of(_model.SupplyAmps) * Saturation.Faded(span, out _);
            L differential = x[_plus] - x[_minus];
            L half = L.Of(0.5) * _offsetAmps;
            return idle * span + L.Of(0.5) * ((o + size) * x[_high] - (size - o) * x[_low]) - o * x[_out]
                + differential * differential * L.Of(1 / _model.InputOhms) + (_biasAmps + half) * x[_plus] + (_biasAmps - half) * x[_minus];
        }

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin)
        {
            double volts = _model.NoiseVolts * Transconductance, amps = _model.NoiseAmps;
            return
            [
                new(_gain, 0, volts * volts), new(_plus, 0, amps * amps), new(_minus, 0, amps * amps),
            ];
        }

        // Reported as the current into the output pin from outside.
        public override L Current(Iterate<L> at) => -OutputCurrent(at);
    }
}
