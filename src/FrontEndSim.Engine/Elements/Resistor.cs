namespace FrontEndSim.Engine.Elements;

/// <summary>A resistor: i = v / R, with R(T) = R·(1 + TempCo·(T − 25 °C)).</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Ohms">Resistance at 25 °C, above zero.</param>
public sealed record Resistor(string Name, string From, string To, double Ohms) : TwoTerminal(Name, From, To)
{
    /// <summary>Resistance at 25 °C, ohm.</summary>
    public static readonly Parameter Resistance = new Parameter<Resistor>("resistance", "ohm", r => r.Ohms);

    /// <summary>Temperature coefficient of the resistance, 1/K.</summary>
    public static readonly Parameter TemperatureCoefficient = new Parameter<Resistor>("temperature coefficient", "1/K", r => r.TempCo);

    /// <summary>Temperature coefficient, 1/K.</summary>
    public double TempCo { get; init; }

    internal override IEnumerable<string> Problems() =>
        [.. Positive("the resistance", Ohms, "ohm"), .. Finite("the temperature coefficient", TempCo, "1/K")];

    internal override Device<L> Bind<L>(Wiring wiring) => new Behaviour<L>(this, wiring);

    private sealed class Behaviour<L>(Resistor part, Wiring wiring) : Device<L>(part) where L : struct, ILane<L>
    {
        private readonly Branch _at = new(wiring, wiring.Node(part.From), wiring.Node(part.To));
        private L _ohms = L.Of(part.Ohms), _tempCo = L.Of(part.TempCo), _siemens;

        public override ref L Number(Parameter parameter)
        {
            if (parameter == Resistance)
                return ref _ohms;
            if (parameter == TemperatureCoefficient)
                return ref _tempCo;
            return ref base.Number(parameter);
        }

        public override void Refresh(double kelvin) =>
            _siemens = L.Of(1) / (_ohms * (L.Of(1) + _tempCo * L.Of(kelvin - Constants.ReferenceKelvin)));

        public override void LoadLinear(L[] g, L[] c) => _at.Slope(g, _siemens);

        public override IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) =>
            [NoiseCurrent.Thermal(_at, _siemens.Get(0), kelvin)];

        public override L Current(Iterate<L> at) => _siemens * _at.Voltage(at.X);
    }
}
