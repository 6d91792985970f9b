namespace FrontEndSim.Engine.Elements;

/// <summary>The numbers of an enhancement MOS transistor at 25 °C, in SI units; none has a default that stands for a type.</summary>
public sealed record MosModel
{
    /// <summary>Whether n-channel or p-channel.</summary>
    public required Polarity Polarity { get; init; }

    /// <summary>Threshold voltage, V, above zero for either polarity.</summary>
    public required double ThresholdVolts { get; init; }

    /// <summary>Transconductance factor β, A/V²: the saturated current is β/2·(vgs − Vth)², the channel at first β·(vgs − Vth)
    /// siemens.</summary>
    public required double AmpsPerSquareVolt { get; init; }

    /// <summary>Change of the gate's voltage for e times the current far below threshold, over kT/q: the slope factor n, 1 at
    /// least.</summary>
    public required double SlopeFactor { get; init; }

    /// <summary>Rise of the saturated current with the drain's voltage λ, 1/V.</summary>
    public double ChannelModulationPerVolt { get; init; }

    /// <summary>Temperature coefficient of the threshold, V/K (about −2 mV/K in silicon).</summary>
    public double ThresholdVoltsPerKelvin { get; init; }

    /// <summary>Power of the absolute temperature in β (about −1.5, that of the mobility; Sze).</summary>
    public double MobilityExponent { get; init; }

    /// <summary>Capacitance from gate to source, taken as constant, F.</summary>
    public double GateSourceFarads { get; init; }

    /// <summary>Capacitance from gate to drain, taken as constant, F.</summary>
    public double GateDrainFarads { get; init; }
}

/// <summary>
/// An enhancement MOS transistor, smooth from below threshold to the linear region:
/// i = β/2·(F(vgs − Vth) − F(vgd − Vth))·(1 + λ·|vds|), F(u) = (2·n·Vt·ln(1 + e^(u/(2·n·Vt))))²: the square law where the
/// channel is strong, an exponential where it is weak, the same from either end (Sze, Physics of Semiconductor Devices, for both
/// limits; the interpolation by Enz, Krummenacher and Vittoz, Analog Integrated Circuits and Signal Processing 8, 1995; from
/// memory). The rise with the drain's voltage is rounded at zero. Its body diode is a
/// <see cref="Diode"/> of its own beside it.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Drain">Drain.</param>
/// <param name="Gate">Gate, which draws no direct current.</param>
/// <param name="Source">Source, joined to the body.</param>
/// <param name="Model">Its numbers.</param>
public sealed record MosTransistor(string Name, string Drain, string Gate, string Source, MosModel Model) : Element(Name)
{
    /// <summary>Threshold voltage, V.</summary>
    public static readonly Parameter ThresholdVoltage = new Parameter<MosTransistor>("threshold voltage", "V", m => m.Model.ThresholdVolts);

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [Drain, Gate, Source];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { Drain = renamed(Drain), Gate = renamed(Gate), Source = renamed(Source) };

    internal override (string Plus, string Minus) Across => (Drain, Source);

    internal override bool HasGain => true;

    internal override IEnumerable<(string, string)> DirectPaths() => [(Drain, Source)];

    internal override IEnumerable<string> Problems() =>
    [
        .. Finite("the threshold voltage", Model.ThresholdVolts, "V"),
        .. Positive("the transconductance factor", Model.AmpsPerSquareVolt, "A/V²"),
        .. Model.SlopeFactor >= 1 && double.IsFinite(Model.SlopeFactor) ? []
            : new[] { $"the slope factor must be at least 1, but is {Model.SlopeFactor}" },
        .. NotNegative("the channel modulation", Model.ChannelModulationPerVolt, "1/V"),
        .. Finite("the temperature coefficient of the threshold", Model.ThresholdVoltsPerKelvin, "V/K"),
        .. Finite("the exponent of the mobility", Model.MobilityExponent, ""),
        .. NotNegative("the gate-source capacitance", Model.GateSourceFarads, "F"),
        .. NotNegative("the gate-drain capacitance", Model.GateDrainFarads, "F"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // The rise with the drain's voltage is rounded over this voltage, V.
        private const double RoundingVolts = 0.01;

        // An open channel keeps this conductance, S, so that a node behind it is determined.
        private const double LeastSiemens = 1e-18;

        private readonly MosModel _model;
        private readonly int _drain, _gate, _source;
        private readonly L _sign;
        private readonly Branch _gateSource, _gateDrain, _channel;
        private readonly int _dg, _sg;
        private L _beta, _threshold, _perSlope, _slope;
        private L _thresholdVolts; // at 25 °C

        public Behaviour(MosTransistor part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            _thresholdVolts = L.Of(_model.ThresholdVolts);
            _sign = L.Of(_model.Polarity == Polarity.N ? 1 : -1);
            (_drain, _gate, _source) = (wiring.Node(part.Drain), wiring.Node(part.Gate), wiring.Node(part.Source));
            _gateSource = new Branch(wiring, _gate, _source);
            _gateDrain = new Branch(wiring, _gate, _drain);
            _channel = new Branch(wiring, _drain, _source, nonlinear: true);
            (_dg, _sg) = (wiring.Entry(_drain, _gate, nonlinear: true), wiring.Entry(_source, _gate, nonlinear: true));
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == ThresholdVoltage)
                return ref _thresholdVolts;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => 2 * _model.SlopeFactor * Constants.ThermalVolts(Constants.ReferenceKelvin);

        public override void Refresh(double kelvin)
        {
            double slope = 2 * _model.SlopeFactor * Constants.ThermalVolts(kelvin);
            (_slope, _perSlope) = (L.Of(slope), L.Of(1 / slope));
            _beta = L.Of(_model.AmpsPerSquareVolt * Math.Pow(kelvin / Constants.ReferenceKelvin, _model.MobilityExponent));
            _threshold = _thresholdVolts + L.Of(_model.ThresholdVoltsPerKelvin * (kelvin - Constants.ReferenceKelvin));
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            _gateSource.Slope(c, L.Of(_model.GateSourceFarads));
            _gateDrain.Slope(c, L.Of(_model.GateDrainFarads));
        }

        /// <summary>(s·ln(1 + e^(u/s)))² and its slope.</summary>
        private L Channel(L u, out L slope)
        {
            L x = u * _perSlope, e = L.Exp(-L.Abs(x)), one = L.Of(1);
            L ramp = L.Max(u, L.Of(0)) + _slope * L.Log(one + e);
            L share = L.Less(x, L.Of(0), e, one) / (one + e);
            slope = L.Of(2) * ramp * share;
            return ramp * ramp;
        }

        /// <summary>Current from drain to source and its slopes on the gate-source and drain-source voltage, as of an n-channel.</summary>
        private L Law(L vgs, L vds, out L onGate, out L onDrain)
        {
            L half = L.Of(0.5) * _beta, least = L.Of(LeastSiemens);
            L atSource = Channel(vgs - _threshold, out L sourceSlope), atDrain = Channel(vgs - vds - _threshold, out L drainSlope);
            L root = L.Sqrt(vds * vds + L.Of(RoundingVolts * RoundingVolts)), lambda = L.Of(_model.ChannelModulationPerVolt);
            L rise = L.Of(1) + lambda * (root - L.Of(RoundingVolts)), riseSlope = lambda * vds / root;
            L channel = half * (atSource - atDrain);
            onGate = half * (sourceSlope - drainSlope) * rise;
            onDrain = half * drainSlope * rise + channel * riseSlope + least;
            return channel * rise + least * vds;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L i = Law(_sign * _gateSource.Voltage(at.X), _sign * _channel.Voltage(at.X), out L onGate, out L onDrain);
            _channel.Flow(at.F, _sign * i);
            _channel.Slope(at.G, onDrain);
            // The gate steers against the source: its slope stands in the columns of both.
            at.G[_dg] += onGate;
            at.G[_sg] -= onGate;
            _channel.SlopeAgainstTo(at.G, onGate);
        }

        public override int Stores => 2;

        /// <summary>The charges from gate to source and from gate to drain.</summary>
        public override (L Volts, L Coulombs) Store(int index, Iterate<L> at)
        {
            L volts = (index == 0 ? _gateSource : _gateDrain).Voltage(at.X);
            return (volts, L.Of(index == 0 ? _model.GateSourceFarads : _model.GateDrainFarads) * volts);
        }

        /// <summary>Reported as the static current into the drain.</summary>
        public override L Current(Iterate<L> at) =>
            _sign * Law(_sign * _gateSource.Voltage(at.X), _sign * _channel.Voltage(at.X), out _, out _);

        /// <summary>Channel noise, 4·k·T·(2/3)·gm, saturated (van der Ziel 1962; year from memory).</summary>
        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin)
        {
            Law(_sign * _gateSource.Voltage(at.X), _sign * _channel.Voltage(at.X), out L onGate, out L onDrain);
            double siemens = Math.Max(onGate.Get(0) * 2 / 3, onDrain.Get(0));
            yield return new(_drain, _source, 4 * Constants.Boltzmann * kelvin * siemens);
        }
    }
}
