using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>A resistance that follows what is measured: i = v / R(quantity).</summary>
/// <param name="Name">Part name; a sweep names it to vary the quantity.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Quantity">What is measured, in its own unit, against time.</param>
/// <param name="Law">Its resistance by the quantity, ohm.</param>
public sealed record SensingResistor(string Name, string From, string To, Waveform Quantity, Characteristic Law)
    : TwoTerminal(Name, From, To)
{
    /// <summary>Resistance in series with it, of its leads, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>Resistance of the leads, ohm.</summary>
    public static readonly Parameter LeadResistance = new Parameter<SensingResistor>("lead resistance", "ohm", r => r.SeriesOhms);

    // A resistance that comes to nothing is taken as this, so that the equations hold.
    private const double LeastOhms = 1e-6;

    internal override Element AtTimeZero() => this with { Quantity = Quantity.At(0) };

    internal override IEnumerable<string> Problems() =>
        [.. Quantity.Problems(), .. NotNegative("the lead resistance", SeriesOhms, "ohm"),
            .. Positive("the resistance", Law.Of(Quantity.At(0), 25, []) + SeriesOhms, "ohm")];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(SensingResistor part, Wiring wiring) : SensingDevice<L>(part, part.Quantity, part.Law)
        where L : struct, ILane<L>
    {
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To), nonlinear: true);
        private L _leads = L.Of(part.SeriesOhms);

        public override ref L Number(Parameter parameter)
        {
            if (parameter == LeadResistance)
                return ref _leads;
            return ref base.Number(parameter);
        }

        private L Ohms(double t) => L.Max(Law.Of(Value(t)) + _leads, L.Of(LeastOhms));

        public override void LoadNonlinear(Iterate<L> at)
        {
            L siemens = L.Of(1) / Ohms(at.Time);
            _at.Flow(at.F, siemens * _at.Voltage(at.X));
            _at.Slope(at.G, siemens);
        }

        public override void AddSensitivity(Iterate<L> at, L[] f)
        {
            L ohms = Ohms(at.Time);
            _at.Flow(f, -(_at.Voltage(at.X) * Law.Slope(Value(at.Time)) / (ohms * ohms)));
        }

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) =>
            [NoiseCurrent.Thermal(_at, 1 / Ohms(at.Time).Get(0), kelvin)];

        public override L Current(Iterate<L> at) => _at.Voltage(at.X) / Ohms(at.Time);
    }
}
