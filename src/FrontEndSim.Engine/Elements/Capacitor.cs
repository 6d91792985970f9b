namespace FrontEndSim.Engine.Elements;

/// <summary>
/// A capacitor: q = C·v, i = dq/dt + v/LeakageOhms, behind an optional series resistance. One whose dielectric gives way has
/// C(v) = C·(r + (1 − r)/(1 + (v/v0)²)), so that q = C·(r·v + (1 − r)·v0·atan(v/v0)): no charge is lost whatever its capacitance does.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Farads">Capacitance, above zero.</param>
public sealed record Capacitor(string Name, string From, string To, double Farads) : TwoTerminal(Name, From, To)
{
    /// <summary>Capacitance, F.</summary>
    public static readonly Parameter Capacitance = new Parameter<Capacitor>("capacitance", "F", c => c.Farads);

    /// <summary>Leakage resistance across the capacitance, ohm.</summary>
    public static readonly Parameter LeakageResistance = new Parameter<Capacitor>("leakage resistance", "ohm", c => c.LeakageOhms);

    /// <summary>Leakage (insulation) resistance across the capacitance, ohm; infinity for none.</summary>
    public double LeakageOhms { get; init; } = double.PositiveInfinity;

    /// <summary>Voltage v0 at which half of what the dielectric may lose is lost, V; infinity for one that loses nothing.</summary>
    public double HalfVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Share r of the capacitance that is left at any voltage: that of the dielectric's other polarisations.</summary>
    internal const double LeftShare = 0.05;

    /// <summary>The share of its capacitance that is left with a voltage across it: dq/dv of the law above over C.</summary>
    /// <param name="volts">The voltage, V, of either sign.</param>
    public double ShareLeftAt(double volts) => LeftShare + (1 - LeftShare) / (1 + volts / HalfVolts * (volts / HalfVolts));

    /// <summary>Equivalent series resistance, ohm; zero for none.</summary>
    public double SeriesOhms { get; init; }

    internal override IEnumerable<string> Problems() =>
    [
        .. HalfVolts > 0 ? [] : new[] { $"the voltage of half the capacitance must be above 0 V, but is {HalfVolts}" },
        .. Positive("the capacitance", Farads, "F"), .. NotNegative("the series resistance", SeriesOhms, "ohm"),
        .. double.IsPositiveInfinity(LeakageOhms) ? [] : Positive("the leakage resistance", LeakageOhms, "ohm"),
    ];

    internal override IEnumerable<(string, string)> DirectPaths() => double.IsPositiveInfinity(LeakageOhms) ? [] : [(From, To)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        private readonly Branch _plates;
        private readonly Branch _series;
        private readonly bool _hasSeries, _bends;
        private readonly double _halfVolts;
        private readonly L _seriesSiemens;
        private L _farads, _leakageOhms;

        public Behaviour(Capacitor part, Wiring wiring) : base(part)
        {
            (_farads, _leakageOhms) = (L.Of(part.Farads), L.Of(part.LeakageOhms));
            (_halfVolts, _bends) = (part.HalfVolts, double.IsFinite(part.HalfVolts));
            int from = wiring.Node(part.From), inner = from;
            _hasSeries = part.SeriesOhms > 0;
            if (_hasSeries)
            {
                // At DC the inner plate has no other path to its node: the series resistance is that path.
                inner = wiring.Unknown($"{part.Name} (inside)");
                _series = new Branch(wiring, from, inner);
                _seriesSiemens = L.Of(1 / part.SeriesOhms);
            }
            _plates = new Branch(wiring, inner, wiring.Node(part.To), _bends);
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Capacitance)
                return ref _farads;
            if (parameter == LeakageResistance)
                return ref _leakageOhms;
            return ref base.Number(parameter);
        }

        public override void LoadLinear(L[] g, L[] c)
        {
            if (!_bends)
                _plates.Slope(c, _farads);
            _plates.Slope(g, L.Of(1) / _leakageOhms);
            if (_hasSeries)
                _series.Slope(g, _seriesSiemens);
        }

        public override bool IsNonlinear => _bends;

        public override double KneeVolts => _bends ? _halfVolts : double.PositiveInfinity;

        public override void LoadNonlinear(Iterate<L> at)
        {
            if (!_bends || !at.WithCharges)
                return;
            L v = _plates.Voltage(at.X), share = v / L.Of(_halfVolts);
            _plates.Flow(at.Q, Charge(v));
            _plates.Slope(at.C, _farads * (L.Of(LeftShare) + L.Of(1 - LeftShare) / (L.Of(1) + share * share)));
        }

        public override bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges)
        {
            L volts = _plates.Voltage(at.X), change = _plates.Voltage(step);
            if (!_bends || charges is null)
                return true;
            if (!L.AllBelow(L.Abs(change), 0.1 * _halfVolts))
                return false;
            // Half of the second derivative of the charge times the change squared.
            L share = volts / L.Of(_halfVolts), widened = L.Of(1) + share * share;
            _plates.Flow(charges, -(_farads * L.Of((1 - LeftShare) / _halfVolts) * share / (widened * widened) * change * change));
            return true;
        }

        private L Charge(L v)
        {
            L bent = v;
            for (int lane = 0; lane < L.Width; lane++)
                bent = bent.With(lane, _halfVolts * Math.Atan(v.Get(lane) / _halfVolts));
            return _farads * (L.Of(LeftShare) * v + L.Of(1 - LeftShare) * bent);
        }

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) =>
        [
            NoiseCurrent.Thermal(_plates, 1 / _leakageOhms.Get(0), kelvin),
            .. _hasSeries ? [NoiseCurrent.Thermal(_series, _seriesSiemens.Get(0), kelvin)] : Array.Empty<NoiseCurrent>(),
        ];

        public override L Current(Iterate<L> at) => _plates.Voltage(at.X) / _leakageOhms;

        // What is stored follows from its ends, free of the rounding of a sum, where the plates are the terminals.
        public override EnergyAccount Account(PartRecord record)
        {
            if (_hasSeries || _bends)
                return base.Account(record);
            double before = record.Voltage.At(record.Voltage.Start), after = record.Voltage.Last;
            return new(0, record.StaticPower.Integral(), 0.5 * _farads.Get(0) * (after * after - before * before));
        }

        public override L Charge(Iterate<L> at) => _bends ? Charge(_plates.Voltage(at.X)) : _farads * _plates.Voltage(at.X);
    }
}
