using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>A front end drawn at random from a seed: stage, guard, values over six decades, and things gone wrong.</summary>
internal sealed class RandomFrontEnd
{
    private readonly Random _random;
    private readonly List<Element> _parts = [];

    public RandomFrontEnd(int seed)
    {
        _random = new Random(seed);
        Build();
    }

    public IReadOnlyList<Element> Parts => _parts;

    public double Celsius { get; private set; }

    private bool Chance(double probability) => _random.NextDouble() < probability;

    /// <summary>A value spread evenly over the decades between two limits.</summary>
    private double Log(double low, double high) => low * Math.Pow(high / low, _random.NextDouble());

    private double Ohms() => Log(1, 1e6);

    private DiodeModel Junction() => new()
    {
        SaturationAmps = Log(1e-15, 1e-5),
        EmissionCoefficient = 1 + _random.NextDouble(),
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
        JunctionVolts = 0.7,
        SeriesOhms = Chance(0.7) ? Log(0.01, 100) : 0,
        JunctionFarads = Chance(0.7) ? Log(1e-12, 1e-9) : 0,
        TransitSeconds = Chance(0.3) ? Log(1e-10, 1e-7) : 0,
        Grading = Chance(0.5) ? 0.5 : 0.33,
    };

    private DiodeModel Zener() => Junction() with
    {
        BreakdownVolts = Log(2, 50),
        BreakdownAmps = Log(1e-4, 1e-1),
        BreakdownSlopeVolts = Log(0.01, 0.5),
    };

    private OpAmpModel Amplifier() => new()
    {
        OpenLoopGain = Log(1e3, 1e7),
        GainBandwidthHertz = Log(1e4, 1e8),
        SlewVoltsPerSecond = Log(1e4, 1e8),
        OffsetVolts = 1e-3 * (_random.NextDouble() - 0.5),
        BiasAmps = Chance(0.5) ? Log(1e-12, 1e-6) : 0,
        InputOhms = Log(1e5, 1e12),
        OutputOhms = Log(1, 1e3),
        DropHighVolts = Log(0.01, 3),
        DropLowVolts = Log(0.01, 3),
        OutputLimitAmps = Log(1e-3, 0.1),
    };

    private BipolarModel Bipolar(Polarity polarity) => new()
    {
        Polarity = polarity,
        SaturationAmps = Log(1e-16, 1e-12),
        ForwardGain = Log(20, 1000),
        ReverseGain = Log(0.1, 10),
        KneeAmps = Chance(0.5) ? Log(1e-3, 1) : double.PositiveInfinity,
        RecombinationAmps = Chance(0.5) ? Log(1e-14, 1e-11) : 0,
        GainExponent = 2,
        EarlyVolts = Chance(0.7) ? Log(20, 200) : double.PositiveInfinity,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
        ForwardTransitSeconds = Chance(0.7) ? Log(1e-10, 1e-8) : 0,
        ReverseTransitSeconds = Chance(0.5) ? Log(1e-9, 1e-6) : 0,
        CollectorFarads = Chance(0.7) ? Log(1e-12, 1e-10) : 0,
        EmitterFarads = Chance(0.7) ? Log(1e-12, 1e-10) : 0,
    };

    private MosModel Mos(Polarity polarity) => new()
    {
        Polarity = polarity,
        ThresholdVolts = Log(0.5, 5),
        AmpsPerSquareVolt = Log(1e-3, 10),
        SlopeFactor = 1 + _random.NextDouble(),
        ThresholdVoltsPerKelvin = -4e-3,
        MobilityExponent = -1.5,
        GateSourceFarads = Chance(0.7) ? Log(1e-12, 1e-9) : 0,
        GateDrainFarads = Chance(0.7) ? Log(1e-12, 1e-10) : 0,
    };

    private ComparatorModel Comparing() => new()
    {
        OffsetVolts = 5e-3 * (_random.NextDouble() - 0.5),
        HysteresisVolts = Chance(0.5) ? Log(1e-4, 0.1) : 0,
        DelaySeconds = Log(1e-8, 1e-5),
        BiasAmps = Chance(0.5) ? Log(1e-12, 1e-6) : 0,
        CommonModeHighVolts = 2 * _random.NextDouble(),
        CommonModeLowVolts = -0.3,
        SinkOhms = Log(10, 200),
        SinkAmps = Log(1e-3, 0.1),
        SourceAmps = Chance(0.5) ? Log(1e-3, 0.1) : 0,
        LeastSupplyVolts = Log(1, 3),
    };

    private void Compare(string p, string input, string output)
    {
        _parts.Add(new Resistor($"{p}.R1", "VDD", $"{p}.P", Ohms()));
        _parts.Add(new Resistor($"{p}.R2", $"{p}.P", "GND", Ohms()));
        if (Chance(0.5))
            _parts.Add(new Resistor($"{p}.R3", output, $"{p}.P", Ohms()));
        bool inverts = Chance(0.5);
        _parts.Add(new Comparator($"{p}.U", inverts ? $"{p}.P" : input, inverts ? input : $"{p}.P", output, Chance(0.5) ? "VP"
            : "VDD", "GND", Comparing()));
        _parts.Add(new Resistor($"{p}.RL", "VDD", output, Ohms()));
    }

    private void Transistor(string p, string input, string output)
    {
        bool isP = Chance(0.3);
        var (polarity, far, load) = isP ? (Polarity.P, "VDD", "GND") : (Polarity.N, "GND", "VDD");
        if (Chance(0.5))
        {
            _parts.Add(new Resistor($"{p}.RB", input, $"{p}.B", Ohms()));
            _parts.Add(Chance(0.3) ? new BipolarTransistor($"{p}.Q", load, $"{p}.B", output, Bipolar(polarity)) // a follower
                : new BipolarTransistor($"{p}.Q", output, $"{p}.B", far, Bipolar(polarity)));
        }
        else
        {
            _parts.Add(new Resistor($"{p}.RG", input, $"{p}.B", Ohms()));
            _parts.Add(new Resistor($"{p}.RS", $"{p}.B", far, Ohms()));
            _parts.Add(new MosTransistor($"{p}.M", output, $"{p}.B", far, Mos(polarity)));
            _parts.Add(isP ? new Diode($"{p}.D", output, far, Zener()) : new Diode($"{p}.D", far, output, Zener()));
        }
        _parts.Add(new Resistor($"{p}.RL", output, Chance(0.8) ? load : far, Ohms()));
    }

    private void Build()
    {
        Celsius = -40 + 125 * _random.NextDouble();
        double high = Chance(0.05) ? 0 : Log(2, 20), low = Chance(0.05) ? 0 : -Log(2, 20);
        if (Chance(0.05))
            (high, low) = (low, high); // supplies the wrong way round
        _parts.Add(Chance(0.3)
            ? new VoltageSource("VP", "VP", "GND", high) { SeriesOhms = Log(0.01, 10), SourceOnly = Chance(0.5) }
            : new VoltageSource("VP", "VP", "GND", high));
        if (!Chance(0.03))
            _parts.Add(new VoltageSource("VN", "VN", "GND", low));
        _parts.Add(new VoltageSource("VDD", "VDD", "GND", Log(1, 6)) { SeriesOhms = Chance(0.3) ? Log(0.01, 10) : 0 });
        if (Chance(0.2))
        {
            _parts.Add(new Regulator("REG", "VP", "REGULATED", "GND", new RegulatorModel
            {
                Volts = Log(1, 15),
                OutputOhms = Log(0.01, 1),
                DropVolts = 2 * _random.NextDouble(),
                DropOhms = Log(0.1, 10),
                LimitAmps = Log(0.01, 1),
                GroundAmps = Log(1e-6, 1e-2),
            }));
            _parts.Add(new Diode("REG.D", "REGULATED", "VP", Junction()));
            _parts.Add(new Resistor("REG.R", "REGULATED", Chance(0.5) ? "GND" : "VDD", Ohms()));
        }
        _parts.Add(new VoltageSource("SENSOR", "IN", "GND", new Sine(0, Log(0.01, 10), Log(10, 1e5))) { SeriesOhms = Ohms() });

        string at = "IN";
        int stages = 1 + _random.Next(3);
        for (int s = 0; s < stages; s++)
            at = Stage(s, at);
        Guard(at);
        GoWrong();
        _parts.Add(new VoltageSource("EVENT", "IN", "GND", new Pulse(0, (Chance(0.5) ? 1 : -1) * Log(10, 5000), 1e-6, 1e-9, 5e-6, 1e-9))
        {
            SeriesOhms = Log(1, 1e3),
            Connected = new Step(0, 1, 1e-6),
        });
    }

    private string Stage(int number, string input)
    {
        string p = $"S{number}", sum = $"{p}.SUM", output = $"{p}.OUT";
        switch (_random.Next(9))
        {
            case 0: // inverting sum
                _parts.Add(new Resistor($"{p}.R1", input, sum, Ohms()));
                _parts.Add(new Resistor($"{p}.R2", "VDD", sum, Ohms()));
                _parts.Add(new Resistor($"{p}.RF", sum, output, Ohms()));
                _parts.Add(new OpAmp($"{p}.U", "GND", sum, output, "VP", "VN", Amplifier()));
                break;
            case 1: // non-inverting with an offset network
                _parts.Add(new Resistor($"{p}.R1", "VDD", sum, Ohms()));
                _parts.Add(new Resistor($"{p}.RF", sum, output, Ohms()));
                _parts.Add(new OpAmp($"{p}.U", input, sum, output, "VP", "VN", Amplifier()));
                break;
            case 2: // difference
                _parts.Add(new Resistor($"{p}.R1", "VDD", sum, Ohms()));
                _parts.Add(new Resistor($"{p}.R2", sum, output, Ohms()));
                _parts.Add(new Resistor($"{p}.R3", input, $"{p}.P", Ohms()));
                _parts.Add(new Resistor($"{p}.R4", $"{p}.P", "GND", Ohms()));
                _parts.Add(new OpAmp($"{p}.U", $"{p}.P", sum, output, "VP", "VN", Amplifier()));
                break;
            case 3: // passive, three resistors
                _parts.Add(new Resistor($"{p}.R1", input, output, Ohms()));
                _parts.Add(new Resistor($"{p}.R2", "VDD", output, Ohms()));
                _parts.Add(new Resistor($"{p}.R3", output, "GND", Ohms()));
                break;
            case 4: // positive feedback: a comparator with hysteresis
                _parts.Add(new Resistor($"{p}.R1", input, sum, Ohms()));
                _parts.Add(new Resistor($"{p}.RF", sum, output, Ohms()));
                _parts.Add(new OpAmp($"{p}.U", sum, "GND", output, "VP", "VN", Amplifier()));
                break;
            case 5 or 6: // a transistor as a switch, an amplifier or a follower
                Transistor(p, input, output);
                break;
            case 7:
                Compare(p, input, output);
                break;
            default: // low pass with a coil
                _parts.Add(new Inductor($"{p}.L", input, output, Log(1e-7, 1e-2)) { SeriesOhms = Log(0.01, 100) });
                _parts.Add(new Capacitor($"{p}.C", output, "GND", Log(1e-12, 1e-5)) { SeriesOhms = Chance(0.5) ? Log(0.01, 10) : 0 });
                _parts.Add(new Resistor($"{p}.R", output, "GND", Ohms()));
                break;
        }
        return output;
    }

    private void Guard(string from)
    {
        _parts.Add(new Resistor("G.R", from, "PIN", Ohms()));
        if (Chance(0.7))
            _parts.Add(new Capacitor("G.C", "PIN", "GND", Log(1e-12, 1e-6)));
        if (Chance(0.7))
            _parts.Add(new Diode("G.Z", "GND", "PIN", Zener()));
        if (Chance(0.7))
            _parts.Add(new Diode("G.D", "GND", "PIN", Junction()));
        if (Chance(0.5))
            _parts.Add(new Diode("G.H", "PIN", "VDD", Junction()));
        if (Chance(0.5))
            _parts.Add(new Resistor("G.PD", "PIN", "GND", Ohms()));
    }

    private void GoWrong()
    {
        int faults = Chance(0.5) ? 0 : 1 + _random.Next(2);
        for (int f = 0; f < faults; f++)
        {
            int victim = _random.Next(_parts.FindIndex(e => e.Name == "SENSOR") + 1, _parts.Count);
            switch (_parts[victim])
            {
                case Resistor r when Chance(0.5):
                    _parts[victim] = r with { Ohms = 1e-3 };
                    break;
                case Diode d when Chance(0.5):
                    _parts[victim] = d with { From = d.To, To = d.From };
                    break;
                default:
                    _parts.RemoveAt(victim);
                    break;
            }
        }
    }
}
