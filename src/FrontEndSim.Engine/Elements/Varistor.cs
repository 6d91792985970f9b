namespace FrontEndSim.Engine.Elements;

/// <summary>
/// A metal-oxide varistor: i = I1·(v/V1)·((v/V1)² + ε²)^((α−1)/2), the power law i = K·v^α of either sign made smooth at zero, behind
/// a series resistance that rules at surge currents (Levinson and Philipp, J. Appl. Phys. 46, 1975; from memory).
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One terminal.</param>
/// <param name="To">The other.</param>
/// <param name="Volts">Varistor voltage V1, V, at <paramref name="Amps"/>.</param>
/// <param name="Amps">Current I1 that the varistor voltage is stated at, A (1 mA by custom).</param>
/// <param name="Exponent">Exponent α, at least 1 (some tens).</param>
public sealed record Varistor(string Name, string From, string To, double Volts, double Amps, double Exponent) : TwoTerminal(Name, From, To)
{
    /// <summary>Series resistance of grains and leads, ohm; zero for none.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>Capacitance, F; zero for none.</summary>
    public double Farads { get; init; }

    /// <summary>Varistor voltage, V.</summary>
    public static readonly Parameter VaristorVoltage = new Parameter<Varistor>("varistor voltage", "V", v => v.Volts);

    internal override IEnumerable<string> Problems() =>
    [
        .. Positive("the varistor voltage", Volts, "V"), .. Positive("the current at the varistor voltage", Amps, "A"),
        .. Exponent >= 1 && double.IsFinite(Exponent) ? [] : new[] { $"the exponent must be at least 1, but is {Exponent}" },
        .. NotNegative("the series resistance", SeriesOhms, "ohm"), .. NotNegative("the capacitance", Farads, "F"),
    ];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L> : Device<L> where L : struct, ILane<L>
    {
        // Below this share of the varistor voltage the law is a resistor, that of the leakage of some 0.1 of it.
        private const double LinearShare = 0.3;

        private readonly Varistor _part;
        private readonly Branch _grains, _series;
        private readonly bool _hasSeries;
        private L _volts, _perVolt, _last;

        public Behaviour(Varistor part, Wiring wiring) : base(part)
        {
            _part = part;
            _volts = L.Of(part.Volts);
            int from = wiring.Node(part.From), inner = from;
            _hasSeries = part.SeriesOhms > 0;
            if (_hasSeries)
            {
                inner = wiring.Unknown($"{part.Name} (grains)");
                _series = new Branch(wiring, from, inner);
            }
            _grains = new Branch(wiring, inner, wiring.Node(part.To), nonlinear: true);
        }

        public override ref L Number(Parameter parameter)
        {
            if (parameter == VaristorVoltage)
                return ref _volts;
            return ref base.Number(parameter);
        }

        public override bool IsNonlinear => true;

        public override double KneeVolts => _part.Volts / _part.Exponent;

        public override void Refresh(double kelvin) => _perVolt = L.Of(1) / _volts;

        public override void LoadLinear(L[] g, L[] c)
        {
            if (_hasSeries)
                _series.Slope(g, L.Of(1 / _part.SeriesOhms));
            _grains.Slope(c, L.Of(_part.Farads));
        }

        public override void ForgetLimits() => _last = L.Of(0);

        private L Law(L v, out L slope)
        {
            const double least = LinearShare * LinearShare;
            L x = v * _perVolt, size = x * x + L.Of(least);
            // Normalised so that the varistor voltage carries its current exactly.
            L power = L.Exp(L.Of((_part.Exponent - 1) / 2) * L.Log(size / L.Of(1 + least))), i = L.Of(_part.Amps);
            slope = i * _perVolt * power * (L.Of(1) + L.Of(_part.Exponent - 1) * x * x / size);
            return i * x * power;
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L v = _grains.Voltage(at.X), limited = v;
            if (!at.Exact)
            {
                // Beyond the varistor voltage the current is nearly an exponential with V1/α a factor e.
                double slopeVolts = _part.Volts / _part.Exponent;
                limited = JunctionLaw<L>.Approach(v, _last, _volts, slopeVolts);
                limited = -JunctionLaw<L>.Approach(-limited, -_last, _volts, slopeVolts);
                if (!L.Same(limited, v))
                    at.Limited = true;
            }
            _last = limited;
            L i = Law(limited, out L slope);
            _grains.Flow(at.F, i + slope * (v - limited));
            _grains.Slope(at.G, slope);
        }

        public override L Current(Iterate<L> at) => Law(_grains.Voltage(at.X), out _);

        public override L Charge(Iterate<L> at) => L.Of(_part.Farads) * _grains.Voltage(at.X);
    }
}
