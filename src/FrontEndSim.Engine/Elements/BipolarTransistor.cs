namespace FrontEndSim.Engine.Elements;

/// <summary>Which carriers a transistor's current is made of.</summary>
public enum Polarity
{
    /// <summary>Electrons: npn, n-channel.</summary>
    N,

    /// <summary>Holes: pnp, p-channel; all voltages and currents have the other sign.</summary>
    P,
}

/// <summary>The numbers of a bipolar transistor at 25 °C, in SI units; none has a default that stands for a type.</summary>
public sealed record BipolarModel
{
    /// <summary>Whether npn or pnp.</summary>
    public required Polarity Polarity { get; init; }

    /// <summary>Saturation current Is of the transport between collector and emitter, A.</summary>
    public required double SaturationAmps { get; init; }

    /// <summary>Current gain βF with the collector as collector.</summary>
    public required double ForwardGain { get; init; }

    /// <summary>Current gain βR with collector and emitter exchanged.</summary>
    public required double ReverseGain { get; init; }

    /// <summary>Power of the absolute temperature in both gains (about 1.5 to 2.5: they fall in the cold).</summary>
    public double GainExponent { get; init; }

    /// <summary>
    /// Saturation current, A, of recombination where the emitter junction's field is, with a slope of 2·kT/q: what lowers the gain at small
    /// currents (Sah, Noyce and Shockley 1957; Sze). Zero for none.
    /// </summary>
    public double RecombinationAmps { get; init; }

    /// <summary>Activation energy of Is over the elementary charge, V; power of the temperature: see <see cref="DiodeModel"/>.</summary>
    public required double ActivationVolts { get; init; }

    /// <summary>Power of the absolute temperature in Is.</summary>
    public required double TemperatureExponent { get; init; }

    /// <summary>Early voltage VA, V; infinity for a current that does not rise with the collector's voltage.</summary>
    public double EarlyVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Collector current at which high injection has lowered the gain to 0.62 of itself, A; infinity for none.</summary>
    public double KneeAmps { get; init; } = double.PositiveInfinity;

    /// <summary>Resistance of the base, ohm; zero for none.</summary>
    public double BaseOhms { get; init; }

    /// <summary>Transit time τF: charge in the base over forward current, s.</summary>
    public double ForwardTransitSeconds { get; init; }

    /// <summary>Transit time τR of the reversed transistor, s: what makes saturation slow to leave.</summary>
    public double ReverseTransitSeconds { get; init; }

    /// <summary>Capacitance of the base-emitter junction, taken as constant, F.</summary>
    public double EmitterFarads { get; init; }

    /// <summary>Capacitance of the base-collector junction, taken as constant, F.</summary>
    public double CollectorFarads { get; init; }
}

/// <summary>
/// A bipolar transistor, charge-controlled, in both directions: with iF = Is·(e^(vbe/Vt) − 1) and iR = Is·(e^(vbc/Vt) − 1),
/// transport iT = (iF − iR)·(1 − vbc/VA)/h, h = ½ + √(¼ + iF/Ik), base current iF/βF + Irec·(e^(vbe/2Vt) − 1) + iR/βR, and base charge
/// τF·iF + τR·iR
/// (Ebers and Moll 1954; Early 1952; Beaufoy and Sparkes 1957 for the charges; Sze, Physics of Semiconductor Devices, on high
/// injection; years from memory). Collector and emitter resistance, breakdown and self-heating are not part of it.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Collector">Collector.</param>
/// <param name="Base">Base.</param>
/// <param name="Emitter">Emitter.</param>
/// <param name="Model">Its numbers.</param>
public sealed record BipolarTransistor(string Name, string Collector, string Base, string Emitter, BipolarModel Model) : Element(Name)
{
    /// <summary>Current gain with the collector as collector; recombination in the emitter junction moves with it.</summary>
    public static readonly Parameter CurrentGain = new Parameter<BipolarTransistor>("current gain", "", q => q.Model.ForwardGain);

    /// <summary>Saturation current of the transport, A.</summary>
    public static readonly Parameter SaturationCurrent =
        new Parameter<BipolarTransistor>("saturation current", "A", q => q.Model.SaturationAmps);

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [Collector, Base, Emitter];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { Collector = renamed(Collector), Base = renamed(Base), Emitter = renamed(Emitter) };

    internal override (string Plus, string Minus) Across => (Collector, Emitter);

    internal override bool HasGain => true;

    internal override IEnumerable<(string, string)> DirectPaths() => [(Collector, Emitter), (Base, Emitter)];

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the saturation current", Model.SaturationAmps, "A"), .. Positive("the forward gain", Model.ForwardGain, ""),
        .. Positive("the reverse gain", Model.ReverseGain, ""), .. Finite("the activation energy", Model.ActivationVolts, "eV"),
        .. Finite("the temperature exponent", Model.TemperatureExponent, ""),
        .. Finite("the temperature exponent of the gain", Model.GainExponent, ""),
        .. NotNegative("the recombination current", Model.RecombinationAmps, "A"),
        .. double.IsPositiveInfinity(Model.EarlyVolts) ? [] : Positive("the Early voltage", Model.EarlyVolts, "V"),
        .. double.IsPositiveInfinity(Model.KneeAmps) ? [] : Positive("the knee current", Model.KneeAmps, "A"),
        .. NotNegative("the base resistance", Model.BaseOhms, "ohm"),
        .. NotNegative("the forward transit time", Model.ForwardTransitSeconds, "s"),
        .. NotNegative("the reverse transit time", Model.ReverseTransitSeconds, "s"),
        .. NotNegative("the emitter capacitance", Model.EmitterFarads, "F"),
        .. NotNegative("the collector capacitance", Model.CollectorFarads, "F"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly BipolarModel _model;
        private readonly int _collector, _base, _emitter;
        private readonly L _sign;
        private readonly Branch _series, _baseEmitter, _baseCollector;
        private readonly bool _hasSeries, _recombines;
        private readonly int _ce, _cc, _cb, _ee, _ec, _eb;
        private JunctionLaw<L> _forward, _reverse, _recombination;
        private L _lastForward, _lastReverse;
        private L _gain, _saturation, _perForward, _perReverse, _share;

        public Behaviour(BipolarTransistor part, Wiring wiring) : base(part)
        {
            _model = part.Model;
            _sign = L.Of(_model.Polarity == Polarity.N ? 1 : -1);
            (_collector, _emitter) = (wiring.Node(part.Collector), wiring.Node(part.Emitter));
            _base = wiring.Node(part.Base);
            (_gain, _saturation) = (L.Of(_model.ForwardGain), L.Of(_model.SaturationAmps));
            _recombines = _model.RecombinationAmps > 0;
            _hasSeries = _model.BaseOhms > 0;
            if (_hasSeries)
            {
                int outer = _base;
                _base = wiring.Unknown($"{part.Name} (base)");
                _series = new Branch(wiring, outer, _base);
            }
            _baseEmitter = new Branch(wiring, _base, _emitter, nonlinear: true);
            _baseCollector = new Branch(wiring, _base, _collector, nonlinear: true);
            int At(int row, int column) => wiring.Entry(row, column, nonlinear: true);
            (_cc, _cb, _ce) = (At(_collector, _collector), At(_collector, _base), At(_collector, _emitter));
            (_ec, _eb, _ee) = (At(_emitter, _collector), At(_emitter, _base), At(_emitter, _emitter));
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => _forward.SlopeVolts;

        public override ref L Number(Parameter parameter)
        {
            if (parameter == CurrentGain)
                return ref _gain;
            if (parameter == SaturationCurrent)
                return ref _saturation;
            return ref base.Number(parameter);
        }

        public override void Refresh(double kelvin)
        {
            double grown = JunctionLaw<L>.Growth(kelvin, _model.ActivationVolts, _model.TemperatureExponent),
                vt = Constants.ThermalVolts(kelvin);
            _forward = _reverse = new JunctionLaw<L>(_saturation * L.Of(grown), vt);
            double gains = Math.Pow(kelvin / Constants.ReferenceKelvin, _model.GainExponent);
            (_perForward, _perReverse) = (L.Of(1 / gains) / _gain, L.Of(1 / (gains * _model.ReverseGain)));
            // Recombination goes with nᵢ, the square root of what diffusion goes with (Sze); at another gain it is in proportion.
            _recombination = new JunctionLaw<L>(L.Of(_model.RecombinationAmps * Math.Sqrt(grown) / gains), 2 * vt);
            _share = L.Of(_model.ForwardGain) / _gain;
        }

        /// <summary>The base current of the emitter junction and its slope.</summary>
        private L IntoEmitter(L vbe, L forward, L forwardSlope, out L slope)
        {
            slope = _perForward * forwardSlope;
            if (!_recombines)
                return _perForward * forward;
            L lost = _recombination.Current(vbe, out L lostSlope);
            slope += _share * lostSlope;
            return _perForward * forward + _share * lost;
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            if (_hasSeries)
                _series.Slope(g, L.Of(1 / _model.BaseOhms));
            _baseEmitter.Slope(c, L.Of(_model.EmitterFarads));
            _baseCollector.Slope(c, L.Of(_model.CollectorFarads));
        }

        public override void ForgetLimits() => (_lastForward, _lastReverse) = (L.Of(0), L.Of(0));

        /// <summary>Transport current from collector to emitter and its slopes on the two junction voltages, all as of an npn.</summary>
        private L Transport(L vbc, L forward, L forwardSlope, L reverse, L reverseSlope, out L onForward, out L onReverse)
        {
            L one = L.Of(1), quarter = L.Of(0.25), perEarly = L.Of(1 / _model.EarlyVolts), perKnee = L.Of(1 / _model.KneeAmps);
            L root = L.Sqrt(quarter + L.Max(L.Of(0), forward) * perKnee), injection = L.Of(0.5) + root;
            L early = one - vbc * perEarly, difference = forward - reverse;
            L transport = difference * early / injection;
            L injectionSlope = L.Less(L.Of(0), forward, L.Of(0.5) * forwardSlope * perKnee / root, L.Of(0));
            onForward = (forwardSlope * early - transport * injectionSlope) / injection;
            onReverse = (-(reverseSlope * early) - difference * perEarly) / injection;
            return transport;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L vbe = _sign * _baseEmitter.Voltage(at.X), vbc = _sign * _baseCollector.Voltage(at.X);
            L be = _forward.Limit(vbe, ref _lastForward, at), bc = _reverse.Limit(vbc, ref _lastReverse, at);
            L forward = _forward.Current(be, out L forwardSlope), reverse = _reverse.Current(bc, out L reverseSlope);
            L intoEmitter = IntoEmitter(be, forward, forwardSlope, out L intoSlope);
            L beyondForward = vbe - be, beyondReverse = vbc - bc; // along the tangents from the limited point

            _baseEmitter.Flow(at.F, _sign * (intoEmitter + intoSlope * beyondForward));
            _baseEmitter.Slope(at.G, intoSlope);
            _baseCollector.Flow(at.F, _sign * _perReverse * (reverse + reverseSlope * beyondReverse));
            _baseCollector.Slope(at.G, _perReverse * reverseSlope);

            L transport = Transport(bc, forward, forwardSlope, reverse, reverseSlope, out L onForward, out L onReverse);
            L flow = _sign * (transport + onForward * beyondForward + onReverse * beyondReverse);
            at.F[_collector] += flow;
            at.F[_emitter] -= flow;
            at.G[_cb] += onForward + onReverse;
            at.G[_ce] -= onForward;
            at.G[_cc] -= onReverse;
            at.G[_eb] -= onForward + onReverse;
            at.G[_ee] += onForward;
            at.G[_ec] += onReverse;

            if (!at.WithCharges)
                return;
            L tauForward = L.Of(_model.ForwardTransitSeconds), tauReverse = L.Of(_model.ReverseTransitSeconds);
            _baseEmitter.Flow(at.Q, _sign * tauForward * (forward + forwardSlope * beyondForward));
            _baseEmitter.Slope(at.C, tauForward * forwardSlope);
            _baseCollector.Flow(at.Q, _sign * tauReverse * (reverse + reverseSlope * beyondReverse));
            _baseCollector.Slope(at.C, tauReverse * reverseSlope);
        }

        private (L Collector, L Base) Currents(Iterate<L> at)
        {
            L vbe = _sign * _baseEmitter.Voltage(at.X), vbc = _sign * _baseCollector.Voltage(at.X);
            L forward = _forward.Current(vbe, out L forwardSlope), reverse = _reverse.Current(vbc, out L reverseSlope);
            L transport = Transport(vbc, forward, forwardSlope, reverse, reverseSlope, out _, out _);
            L intoBase = IntoEmitter(vbe, forward, forwardSlope, out _) + reverse * _perReverse;
            return (_sign * (transport - reverse * _perReverse), _sign * intoBase);
        }

        public override int Stores => 2;

        /// <summary>The charges of the emitter and of the collector junction.</summary>
        public override (L Volts, L Coulombs) Store(int index, Iterate<L> at)
        {
            var (junction, law, seconds, farads) = index == 0 ? (_baseEmitter, _forward, _model.ForwardTransitSeconds, _model.EmitterFarads)
                : (_baseCollector, _reverse, _model.ReverseTransitSeconds, _model.CollectorFarads);
            L volts = junction.Voltage(at.X);
            return (volts, _sign * L.Of(seconds) * law.Current(_sign * volts, out _) + L.Of(farads) * volts);
        }

        /// <summary>Reported as the current into the collector.</summary>
        public override L Current(Iterate<L> at) => Currents(at).Collector;

        public override L? Watts(Iterate<L> at)
        {
            var (collector, intoBase) = Currents(at);
            L watts = collector * (at.X[_collector] - at.X[_emitter]) + intoBase * _baseEmitter.Voltage(at.X);
            if (!_hasSeries)
                return watts;
            L drop = _series.Voltage(at.X);
            return watts + drop * drop * L.Of(1 / _model.BaseOhms);
        }

        /// <summary>Shot noise, 2·q·I, of collector and base current, and thermal noise of the base (Schottky 1918; Nyquist
        /// 1928).</summary>
        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin)
        {
            var (collector, intoBase) = Currents(at);
            yield return new(_collector, _emitter, 2 * Constants.ElementaryCharge * Math.Abs(collector.Get(0)));
            yield return new(_base, _emitter, 2 * Constants.ElementaryCharge * Math.Abs(intoBase.Get(0)));
            if (_hasSeries)
                yield return NoiseCurrent.Thermal(_series, 1 / _model.BaseOhms, kelvin);
        }
    }
}
