using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of analog switch, or of one channel of a multiplexer.</summary>
/// <param name="Name">Its name: "hc-analog-switch".</param>
/// <param name="Ohms">Typical resistance when on, ohm, at <paramref name="AtVolts"/>.</param>
/// <param name="MostOhms">Largest resistance when on over the range of temperatures, ohm.</param>
/// <param name="AtVolts">Supply voltage that the resistances are stated at, V.</param>
/// <param name="LeakageAmps">Largest leakage of either terminal at 25 °C, A, either way.</param>
/// <param name="HotLeakageAmps">The same at 85 °C, A.</param>
/// <param name="ChargeCoulombs">Charge that opening leaves at either terminal, C; closing takes it back.</param>
/// <param name="Farads">Capacitance of either terminal to ground, F.</param>
/// <param name="MostSupplyVolts">Supply voltage that it stands, V.</param>
/// <param name="MostAmps">Largest current through it, A.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record AnalogSwitchType(string Name, double Ohms, double MostOhms, double AtVolts, double LeakageAmps, double HotLeakageAmps,
    double ChargeCoulombs, double Farads, double MostSupplyVolts, double MostAmps, string Source) : PartType(Name, Source)
{
    /// <summary>Those of the catalogue.</summary>
    internal static ImmutableArray<AnalogSwitchType> All =>
    [
        new AnalogSwitchType("cmos-4000-analog-switch", 270, 1050, 5, 100e-9, 1e-6, 5e-12, 10e-12, 18, 10e-3,
            "4066B and 4051B classes at 5 V, from memory").Checked(),
        new AnalogSwitchType("hc-analog-switch", 60, 180, 4.5, 100e-9, 1e-6, 5e-12, 8e-12, 10, 25e-3,
            "74HC4066 and 74HC4051 classes at 4.5 V, from memory").Checked(),
        new AnalogSwitchType("low-voltage-analog-switch", 15, 30, 3, 100e-9, 1e-6, 10e-12, 15e-12, 6.5, 50e-3,
            "74LVC1G66 class at 3 V, from memory").Checked(),
        new AnalogSwitchType("precision-analog-switch", 25, 45, 15, 0.25e-9, 20e-9, 5e-12, 9e-12, 44, 30e-3,
            "DG411 class at ±15 V, from memory").Checked(),
    ];

    /// <inheritdoc/>
    public override string Kind => "analog-switch";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("resistance when on", Ohms, "ohm") { Fitted = Ohms }, new("largest resistance when on", MostOhms, "ohm") { IsLimit = true },
        new("supply that they are stated at", AtVolts, "V"), .. TypeFigure.Stated("largest leakage", LeakageAmps, "A"),
        .. TypeFigure.Stated("largest leakage at 85 °C", HotLeakageAmps, "A"),
        .. TypeFigure.Stated("charge injection", ChargeCoulombs, "C"),
        .. TypeFigure.Stated("capacitance of a terminal", Farads, "F"), .. TypeFigure.Stated("rated supply", MostSupplyVolts, "V"),
        .. TypeFigure.Stated("rated current", MostAmps, "A"),
    ];

    /// <summary>
    /// The least supply at which its resistance is known, V: that which it is stated at, less a tenth. Below it grows past all bounds, as a
    /// signal in the middle turns neither of its transistors on (4066B sheets, from memory: no value is stated under 5 V).
    /// </summary>
    public double LeastSupplyVolts => 0.9 * AtVolts;

    /// <summary>Largest leakage at a temperature, A: the two stated on a straight line of logarithms.</summary>
    /// <param name="celsius">The temperature, °C.</param>
    public double LeakageAt(double celsius) => LeakageAmps * Math.Pow(HotLeakageAmps / LeakageAmps, (celsius - 25) / 60);

    // Share of the resistance that is the switch itself, so that the rest can have an error; what it is when off; how long its gate takes.
    private const double SwitchShare = 0.01, OffOhms = 1e12, GateSeconds = 10e-9;

    // What a piece leaks typically, against the limit of the tester (from memory).
    private const double TypicalShare = 0.1;

    /// <summary>What the name of a channel's resistor adds to that of its switch.</summary>
    internal const string ChannelSuffix = ".channel";

    /// <summary>What a terminal leaks typically at a temperature, °C, A.</summary>
    internal double TypicalLeakageAt(double celsius) => TypicalShare * LeakageAt(celsius);

    /// <summary>The limit of a leakage, of either sign.</summary>
    internal static ErrorSource LeakageSource(string name, string element) => new(name, ErrorSource.Limits(1 / TypicalShare),
        ErrorKind.Leakage, [new(element, InputLeakage.Scale)], (_, x, _) => x);

    /// <summary>A switch and its resistance between two nodes.</summary>
    internal Element[] Channel(string name, string from, string to, Waveform closed) =>
    [
        new Switch(name, from, name + ".inside", closed) { ClosedOhms = SwitchShare * Ohms, OpenOhms = OffOhms },
        new Resistor(name + ChannelSuffix, name + ".inside", to, (1 - SwitchShare) * Ohms),
    ];

    /// <summary>The diodes from a terminal to both supplies.</summary>
    internal static Diode[] Clamps(string name, string end, string node, string positive, string negative) =>
    [
        new($"{name}.{end} to positive", node, positive, ChipDiode.Model),
        new($"{name}.negative to {end}", negative, node, ChipDiode.Model),
    ];

    /// <summary>The charge as a short current at each move, out of the terminals when it opens; null for one that never moves.</summary>
    internal PiecewiseLinear? ChargeOf(Waveform closed)
    {
        if (closed is not PiecewiseLinear moves || ChargeCoulombs == 0)
            return null;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        for (int k = 1; k < moves.Points.Length; k++)
        {
            var ((before, from), (time, to)) = (moves.Points[k - 1], moves.Points[k]);
            if (before != time || from == to)
                continue;
            double amps = Math.Sign(to - from) * ChargeCoulombs / GateSeconds;
            points.AddRange((time, 0), (time, amps), (time + GateSeconds, amps), (time + GateSeconds, 0));
        }
        return points.Count == 0 ? null : new PiecewiseLinear(points.ToImmutable());
    }

    /// <summary>Injection into a terminal beyond the supplies in service, A.</summary>
    public static RatingKind InjectionInService { get; } = new("injection current in service", "A");

    // Ten times what a terminal may leak when hot, A (common practice, no source).
    private const double MostInjection = 10e-6;

    /// <summary>The ratings of one switch or of several on one chip.</summary>
    internal ImmutableArray<Rating> Ratings(string positiveRail, string negativeRail, IEnumerable<string> channels,
        ImmutableArray<Diode> clamps) =>
    [
        new(RatingKind.SupplyVoltage, new VoltageAcross(positiveRail, negativeRail, EitherWay: false), MostSupplyVolts, Source),
        new(RatingKind.ReversedSupply, new VoltageAcross(negativeRail, positiveRail, EitherWay: false), 0.5, Source),
        .. channels.Select(c => new Rating(RatingKind.Current, new CurrentThrough([c + ChannelSuffix]), MostAmps, Source)),
        new(RatingKind.InputCurrent, new CurrentThrough([.. clamps.Select(c => c.Name)]), MostAmps, Source),
        // What a terminal beyond the supplies takes through its diodes turns the parasitic transistors on to all other channels, whose
        // readings are then wrong by volts: at rest none may. Without a supply nothing is read.
        new(InjectionInService, new CurrentInService([.. clamps.Select(c => c.Name)], positiveRail, negativeRail), MostInjection,
            "common practice, no source"),
    ];

    /// <summary>One that leaks next to nothing.</summary>
    internal AnalogSwitchType WithoutLeakage => this with { LeakageAmps = 1e-18, HotLeakageAmps = 1e-18 };

    /// <inheritdoc/>
    public override AnalogSwitchType Checked()
    {
        if (MostOhms < Ohms)
            throw new DataSheetException($"{Name} has a largest resistance of {MostOhms} ohm below its typical one of {Ohms} ohm.");
        return HotLeakageAmps < LeakageAmps
            ? throw new DataSheetException($"{Name} leaks less at 85 °C than at 25 °C.") : this;
    }
}

/// <summary>
/// An analog switch between two nodes: a resistance when on, leakage and capacitance at both terminals, a charge at both when it moves,
/// and diodes to its supplies. Several to one node make a multiplexer. Its resistance is the same at every signal voltage.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One terminal.</param>
/// <param name="To">The other.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Type">Its class.</param>
/// <param name="Closed">1 for closed and 0 for open, against time.</param>
public sealed record AnalogSwitchPart(string Name, string From, string To, string PositiveRail, string NegativeRail, AnalogSwitchType Type,
    Waveform Closed) : Part(Name)
{
    private double Celsius { get; init; } = 25;

    /// <inheritdoc/>
    public override Part At(double celsius) => this with { Celsius = celsius };

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    // Of the automotive grade of its class (from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override string Word => "analog switch";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override string Symbol => (Closed.At(0) > 0.5 ? "closed " : "open ") + Word;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
        [new("", From), new("", To), new("positive supply", PositiveRail), new("negative supply", NegativeRail)];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply =>
        (PositiveRail, NegativeRail, new(Type.LeastSupplyVolts, Type.MostSupplyVolts));

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        Type.Ratings(PositiveRail, NegativeRail, [Name], Clamps);

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        double spread = Type.MostOhms / Type.Ohms;
        if (spread > 1)
        {
            yield return ErrorSource.Factor(Name + " resistance", ErrorKind.ResistorTolerance, spread,
                new VariedNumber(ChannelName, Resistor.Resistance));
        }
        // A limit of either sign, at each terminal.
        foreach (string end in (string[])[".from leakage", ".to leakage"])
            yield return AnalogSwitchType.LeakageSource(Name + end, Name + end);
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations =>
        [new(Imperfection.Leakage, this with { Type = Type.WithoutLeakage })];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
        [new Resistor(Name, From, To, mode == FaultMode.Short ? ShortOhms : OpenOhms), .. Clamps];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.MostSupplyVolts);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        double leakage = Type.TypicalLeakageAt(Celsius);
        foreach (var element in Type.Channel(Name, From, To, Closed))
            yield return element;
        // Out of the terminal towards the negative supply, as most junctions leak.
        yield return new InputLeakage(Name + ".from leakage", From, NegativeRail, PositiveRail, leakage);
        yield return new InputLeakage(Name + ".to leakage", To, NegativeRail, PositiveRail, leakage);
        if (Type.Farads > 0)
        {
            yield return new Capacitor(Name + ".from capacitance", From, Circuit.Ground, Type.Farads);
            yield return new Capacitor(Name + ".to capacitance", To, Circuit.Ground, Type.Farads);
        }
        if (Type.ChargeOf(Closed) is { } pulses)
        {
            yield return new CurrentSource(Name + ".from charge", Circuit.Ground, From, 0) { Amps = pulses };
            yield return new CurrentSource(Name + ".to charge", Circuit.Ground, To, 0) { Amps = pulses };
        }
        foreach (var clamp in Clamps)
            yield return clamp;
    }

    private string ChannelName => Name + AnalogSwitchType.ChannelSuffix;

    private ImmutableArray<Diode> Clamps =>
    [
        .. AnalogSwitchType.Clamps(Name, "from", From, PositiveRail, NegativeRail),
        .. AnalogSwitchType.Clamps(Name, "to", To, PositiveRail, NegativeRail),
    ];
}

/// <summary>Current through elements at the operating point, A: the largest of them; what an event drives is judged by what they
/// survive.</summary>
/// <param name="Elements">Their names.</param>
/// <param name="Positive">Node of the positive supply.</param>
/// <param name="Negative">Node of the negative one.</param>
internal sealed record CurrentInService(ImmutableArray<string> Elements, string Positive, string Negative) : RatedQuantity
{
    // With less no such chip works (the least supply of all classes is above; from memory), V.
    private const double DeadVolts = 1;

    internal override double At(OperatingPoint point) =>
        point.Voltage(Positive) - point.Voltage(Negative) < DeadVolts ? 0 : Elements.Max(e => Math.Abs(point.Parts[e].Amps));

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts) => new(rating, 0, rating.Limit);
}
