using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of optocoupler: an infrared diode and a transistor that its light opens.</summary>
/// <param name="Name">Registered type number or a name of the user's.</param>
/// <param name="LeastRatio">Least ratio of collector to diode current.</param>
/// <param name="MostRatio">Largest ratio of a piece.</param>
/// <param name="RatioAmps">Diode current that it is stated at, A.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record OptocouplerType(string Name, double LeastRatio, double MostRatio, double RatioAmps, string Source)
    : PartType(Name, Source)
{
    /// <summary>Forward voltage of the diode at 10 mA, V (1.2 V is usual of infrared, from memory).</summary>
    public double ForwardVolts { get; init; } = 1.2;

    /// <summary>Lasting current of the diode, A.</summary>
    public double DiodeAmps { get; init; } = 60e-3;

    /// <summary>Reverse voltage that the diode stands, V.</summary>
    public double DiodeReverseVolts { get; init; } = 6;

    /// <summary>Collector-emitter voltage that the transistor stands, V.</summary>
    public double CollectorVolts { get; init; } = 30;

    /// <summary>Largest collector current, A.</summary>
    public double CollectorAmps { get; init; } = 50e-3;

    /// <summary>What the insulation between its diode and its transistor stands for a minute, V: 2.5 kV effective (4N25 to 4N35, the least
    /// of their makers, from memory).</summary>
    public double InsulationVolts { get; init; } = 3500;

    /// <summary>Rated power of both together at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 0.25;

    /// <inheritdoc/>
    public override string Kind => "optocoupler";

    /// <summary>The ratio of a piece in the geometric middle.</summary>
    public double Ratio => Math.Sqrt(LeastRatio * MostRatio);

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("least current transfer ratio at " + SiText.Format(RatioAmps, "A"), LeastRatio, "%") { IsLimit = true, Fitted = LeastRatio },
        .. TypeFigure.Stated("largest current transfer ratio", MostRatio, "%"),
            .. TypeFigure.Stated("forward voltage at 10 mA", ForwardVolts, "V"),
        .. TypeFigure.Stated("rated diode current", DiodeAmps, "A"),
            .. TypeFigure.Stated("rated reverse voltage of the diode", DiodeReverseVolts, "V"),
        .. TypeFigure.Stated("rated collector-emitter voltage", CollectorVolts, "V"),
            .. TypeFigure.Stated("rated collector current", CollectorAmps, "A"),
        .. TypeFigure.Stated("rated power", RatedWatts, "W"),
    ];

    /// <inheritdoc/>
    public override OptocouplerType Checked()
    {
        DataSheetException.HoldAboveZero(Name, ("transfer ratio", LeastRatio), ("diode current", RatioAmps),
            ("forward voltage", ForwardVolts), ("rated power", RatedWatts));
        return MostRatio >= LeastRatio ? this : throw new DataSheetException(
            $"{Name} has a largest transfer ratio of {MostRatio:P0} below its least one of {LeastRatio:P0}.");
    }
}

/// <summary>
/// An optocoupler. The light makes a base current in proportion to what of the diode's current diffuses; what recombines without light goes
/// with its square root, so that the ratio falls at small currents. That it falls at large ones too is not modelled. It halves over a life,
/// which what is read through it has to bear.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Anode">Anode of the diode.</param>
/// <param name="Cathode">Cathode of the diode.</param>
/// <param name="Collector">Collector of the transistor.</param>
/// <param name="Emitter">Emitter of the transistor.</param>
/// <param name="Type">Its type.</param>
public sealed record OptocouplerPart(string Name, string Anode, string Cathode, string Collector, string Emitter, OptocouplerType Type)
    : Part(Name)
{
    // What the light's current is measured by, the gain of the transistor, and what is left of the insulation (from memory of the class).
    private const double SenseOhms = 0.1, SeriesOhms = 0.9, Gain = 300, InsulationOhms = 1e11, DarkOhms = 1e12;

    private const double MostJunctionCelsius = 125; // from memory of the class

    // What of the diode's current makes light where its ratio is stated: at a tenth of it the ratio is 0.6 of that, at a hundredth a sixth
    // (curves of 4N25 to 4N35 sheets, from memory). Slope of that current in kT/q; the rest has twice that.
    private const double LightShare = 0.784, LightSlope = 1.2, ThermalVolts = 0.025692579, StatedAmps = 10e-3;

    // Gallium arsenide has a gap of 1.42 eV (Sze).
    private static DiodeModel Junction(double amps, double volts, double slope, double farads) => new()
    {
        SaturationAmps = amps * Math.Exp(-volts / (slope * ThermalVolts)),
        EmissionCoefficient = slope,
        ActivationVolts = 1.42 / slope,
        TemperatureExponent = 3 / slope,
        JunctionFarads = farads,
        JunctionVolts = 1.1,
        Grading = 0.5,
    };

    private double Factor { get; init; } = 1;

    private double Celsius { get; init; } = 25;

    // At most 50 nA at 10 V (4N25 to 4N35, from memory), which a piece of the largest ratio has; doubles for each 10 K as leakages of
    // junctions do (common practice, no source).
    private const double MostDarkAmps = 50e-9, DarkVolts = 10, DarkDoublingKelvin = 10, EarlyVolts = 80;

    /// <summary>The largest dark current over what the model's piece of the largest ratio has.</summary>
    private double MostDarkFactor => Math.Max(1, MostDarkAmps * DarkOhms
        / (DarkVolts * Gain * (Type.MostRatio / Type.Ratio) * (1 + DarkVolts / EarlyVolts)));

    /// <inheritdoc/>
    public override Part At(double celsius) => this with { Celsius = celsius };

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "optocoupler";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
        [new("anode", Anode), new("collector", Collector), new("emitter", Emitter), new("cathode", Cathode)];

    // 4N25 and its kin (from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 100;

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        // The sheets' curves of the permitted forward current fall to nothing with the junction's temperature (4N25 to 4N35, from memory).
        new(RatingKind.PeakCurrent, new CurrentThrough([DiodeName]),
            Type.DiodeAmps * Rating.JunctionShare(ambientCelsius, MostJunctionCelsius), Type.Source),
        new(RatingKind.ReverseVoltage, new VoltageAcross(Cathode, Anode, EitherWay: false), Type.DiodeReverseVolts, Type.Source),
        new(RatingKind.Voltage, new VoltageAcross(Collector, Emitter, EitherWay: false), Type.CollectorVolts, Type.Source),
        // The wrong way round the transistor stands what an emitter junction does, 7 V (from memory of the class).
        new(RatingKind.ReverseVoltage, new VoltageAcross(Emitter, Collector, EitherWay: false), 7, Type.Source),
        new(RatingKind.Voltage, new VoltageAcross(Cathode, Emitter), Type.InsulationVolts, Type.Source),
        new(RatingKind.Current, new CurrentThrough([Name]), Type.CollectorAmps, Type.Source),
        JunctionPower(Type.RatedWatts, ambientCelsius, MostJunctionCelsius, Type.Source),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        [new(Name + " transfer ratio", new RectangularInput(Math.Log(AgedShare * Type.LeastRatio / Type.Ratio),
            Math.Log(Type.MostRatio / Type.Ratio)), ErrorKind.Gain, [new VariedNumber(Name, BipolarTransistor.CurrentGain)],
            (now, x, _) => now * Math.Exp(x)),
            new(Name + " dark current", new RectangularInput(0, Math.Log(MostDarkFactor)), ErrorKind.Leakage,
                [new VariedNumber(DarkName, Resistor.Resistance)], (now, x, _) => now * Math.Exp(-x))];

    // What its diode's light comes to over a life (common practice; makers' notes on ageing, from memory).
    private const double AgedShare = 0.5;

    /// <inheritdoc/>
    public override string LimitWord => "transfer ratio";

    /// <summary>A piece of the least or the largest ratio.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        double ratio = high ? Type.MostRatio : Type.LeastRatio;
        return (this with { Factor = ratio / Type.Ratio }, Quantity.Share(ratio));
    }

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <summary>Open, its diode is; shorted, its transistor is. The insulation holds.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        new Resistor(Name, Collector, Emitter, mode == FaultMode.Short ? ShortOhms : OpenOhms),
            new Resistor(DiodeName, Anode, Cathode, OpenOhms),
        new Resistor(Name + ".insulation", Cathode, Emitter, InsulationOhms),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, Type.CollectorAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        string sense = Name + ".sense", inner = Name + ".base", junction = Name + ".junction";
        // i + k·√i of the light's current i is the diode's.
        double k = (1 - LightShare) * Math.Sqrt(Type.RatioAmps / LightShare);
        double root = (Math.Sqrt(k * k + 4 * StatedAmps) - k) / 2, light = root * root;
        double volts = Type.ForwardVolts - StatedAmps * SeriesOhms;
        return
        [
            new Resistor(DiodeName, Anode, junction, SeriesOhms),
            new Diode(Name + ".light diode", junction, sense, Junction(light, volts - light * SenseOhms, LightSlope, 0)),
            new Diode(Name + ".dark diode", junction, Cathode, Junction(StatedAmps - light, volts, 2 * LightSlope, 50e-12)),
            new Resistor(sense, sense, Cathode, SenseOhms),
            new ControlledCurrentSource(Name + ".light", Collector, inner, sense, Cathode, Type.Ratio / Gain / (LightShare * SenseOhms)),
            new BipolarTransistor(Name, Collector, inner, Emitter, new BipolarModel
            {
                Polarity = Polarity.N,
                SaturationAmps = 1e-14,
                ForwardGain = Gain * Factor,
                ReverseGain = 1,
                EarlyVolts = EarlyVolts,
                ActivationVolts = 1.12,
                TemperatureExponent = 3,
                // Some microseconds into a kilohm, as such parts need (from memory).
                ForwardTransitSeconds = 2e-9,
                ReverseTransitSeconds = 100e-9,
                CollectorFarads = 10e-12,
                EmitterFarads = 10e-12,
            }),
            // What its junction leaks without light: times the gain some nanoamperes at 10 V, as such parts have (from memory).
            new Resistor(DarkName, Collector, inner, DarkOhms / Math.Pow(2, (Celsius - 25) / DarkDoublingKelvin)),
            new Resistor(Name + ".insulation", Cathode, Emitter, InsulationOhms),
        ];
    }

    private string DiodeName => Name + ".diode";

    private string DarkName => Name + ".dark";
}
