using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Elements;

/// <summary>A sensor that gives a share of the voltage of another node, behind a resistance: v(From) − v(To) = share(quantity)·v(Of) +
/// R·i.</summary>
/// <param name="Name">Part name; a sweep names it to vary the quantity.</param>
/// <param name="From">Plus terminal.</param>
/// <param name="To">Minus terminal.</param>
/// <param name="Whole">Node whose voltage against ground it gives a share of; it draws nothing from there.</param>
/// <param name="Quantity">What is measured, in its own unit, against time.</param>
/// <param name="Law">The share by the quantity.</param>
public sealed record SensingShare(string Name, string From, string To, string Whole, Waveform Quantity, Characteristic Law) : Element(Name)
{
    // A source without any resistance is taken with this.
    private const double LeastOhms = 1e-3;

    /// <summary>Source resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>Resistance of the source, ohm.</summary>
    public static readonly Parameter SourceResistance = new Parameter<SensingShare>("source resistance", "ohm", s => s.SeriesOhms);

    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [From, To, Whole];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) =>
        this with { From = renamed(From), To = renamed(To), Whole = renamed(Whole) };

    internal override Element AtTimeZero() => this with { Quantity = Quantity.At(0) };

    internal override IEnumerable<string> Problems() =>
        [.. Quantity.Problems(), .. NotNegative("the source resistance", SeriesOhms, "ohm"),
            .. Finite("the share", Law.Of(Quantity.At(0), 25, []), "")];

    internal override IEnumerable<(string, string)> DirectPaths() => [(From, To)];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(SensingShare part, Wiring wiring) : SensingDevice<L>(part, part.Quantity, part.Law)
        where L : struct, ILane<L>
    {
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To), nonlinear: true);
        private readonly int _whole = wiring.Node(part.Whole);
        private readonly int _fromWhole = wiring.Entry(wiring.Node(part.From), wiring.Node(part.Whole), nonlinear: true);
        private readonly int _toWhole = wiring.Entry(wiring.Node(part.To), wiring.Node(part.Whole), nonlinear: true);
        private L _ohms = L.Of(part.SeriesOhms);

        public override ref L Number(Parameter parameter)
        {
            if (parameter == SourceResistance)
                return ref _ohms;
            return ref base.Number(parameter);
        }

        private L _siemens;

        public override void Refresh(double kelvin)
        {
            base.Refresh(kelvin);
            _siemens = L.Of(1) / L.Max(_ohms, L.Of(LeastOhms));
        }

        public override void LoadNonlinear(Iterate<L> at)
        {
            L share = Law.Of(Value(at.Time));
            _at.Flow(at.F, _siemens * (_at.Voltage(at.X) - share * at.X[_whole]));
            _at.Slope(at.G, _siemens);
            at.G[_fromWhole] -= _siemens * share;
            at.G[_toWhole] += _siemens * share;
        }

        public override void AddSensitivity(Iterate<L> at, L[] f) => _at.Flow(f, -(_siemens * Law.Slope(Value(at.Time)) * at.X[_whole]));

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) =>
            part.SeriesOhms > 0 ? [NoiseCurrent.Thermal(_at, _siemens.Get(0), kelvin)] : [];

        public override L Current(Iterate<L> at) => _siemens * (_at.Voltage(at.X) - Law.Of(Value(at.Time)) * at.X[_whole]);
    }
}
