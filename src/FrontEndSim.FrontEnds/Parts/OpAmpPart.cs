using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of operational amplifier: typical numbers, and how far single pieces stray from them.</summary>
/// <param name="Name">Class name ("bipolar-general").</param>
/// <param name="Model">Typical numbers; the offset voltage is zero, as its sign differs from piece to piece.</param>
/// <param name="OffsetVoltsSpread">Largest offset voltage either way, V.</param>
/// <param name="BiasAmpsSpread">Largest bias current at 25 °C, A.</param>
/// <param name="OffsetAmpsSpread">Largest offset current either way, A.</param>
/// <param name="LowestSupplyVolts">Least voltage between its supply pins, V.</param>
/// <param name="HighestSupplyVolts">Highest voltage between its supply pins that it works on, V.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record OpAmpType(string Name, OpAmpModel Model, double OffsetVoltsSpread, double BiasAmpsSpread, double OffsetAmpsSpread,
    double LowestSupplyVolts, double HighestSupplyVolts, string Source)
{
    /// <summary>Change of the offset voltage with temperature either way, V/K: the largest, or what is typical.</summary>
    public double OffsetVoltsPerKelvin { get; init; }

    /// <summary>Whether <see cref="OffsetVoltsPerKelvin"/> is what is typical, which single pieces exceed.</summary>
    public bool IsDriftTypical { get; init; }

    /// <summary>Rise of temperature that doubles the bias current, K; infinity where it hardly changes.</summary>
    public double BiasDoublingKelvin { get; init; } = double.PositiveInfinity;

    /// <summary>Largest bias current, A, at a temperature above 25 °C; goes before the doubling. Null where none is stated.</summary>
    public (double Celsius, double Amps)? MostBiasHot { get; init; }

    /// <summary>Absolute limit of the voltage between its supply pins, V; null for the highest that it works on.</summary>
    public double? MostSupplyVolts { get; init; }

    /// <summary>What its inputs stand, and what protects them.</summary>
    public OpAmpInputs Inputs { get; init; } = new(InputProtection.None, BeyondVolts: null, Amps: null, DifferentialVolts: null);

    /// <summary>Capacitance of each input to ground, F; with the resistance of what it stands at it delays the feedback.</summary>
    public double InputFarads { get; init; }

    /// <summary>Capacitance between the inputs, F.</summary>
    public double BetweenFarads { get; init; }

    /// <summary>Typical bias current over that at 25 °C.</summary>
    /// <param name="kelvins">Kelvins above 25 °C.</param>
    public double BiasGrowth(double kelvins) => Math.Pow(2, kelvins / BiasDoublingKelvin);

    /// <summary>Largest bias current, A: that of 25 °C and the one stated hot on a straight line of logarithms, else with the
    /// doubling.</summary>
    /// <param name="kelvins">Kelvins above 25 °C.</param>
    public double MostBiasAmps(double kelvins) => MostBiasHot is { } hot
        ? BiasAmpsSpread * Math.Pow(hot.Amps / BiasAmpsSpread, kelvins / (hot.Celsius - 25))
        : BiasAmpsSpread * BiasGrowth(kelvins);
}

/// <summary>What stands between an op amp's inputs and what is beyond its supplies.</summary>
public enum InputProtection
{
    /// <summary>Nothing that may carry current.</summary>
    None,

    /// <summary>A diode from the negative supply pin to each input (a substrate junction).</summary>
    ToNegativeRail,

    /// <summary>A diode from each input to the positive supply pin and one from the negative.</summary>
    ToBothRails,

    /// <summary>Diodes to both supply pins, and two back to back between the inputs, behind a resistance each.</summary>
    BackToBack,
}

/// <summary>What the inputs of an op amp stand.</summary>
/// <param name="Protection">The diodes that a class has.</param>
/// <param name="BeyondVolts">How far an input may be taken beyond either supply pin where nothing limits the current, V; null if not
/// stated.</param>
/// <param name="Amps">Largest current through the diodes, A; null if not stated.</param>
/// <param name="DifferentialVolts">Largest voltage between the inputs, V; null for no other limit than the supplies.</param>
public sealed record OpAmpInputs(InputProtection Protection, double? BeyondVolts, double? Amps, double? DifferentialVolts)
{
    /// <summary>Highest voltage above the negative supply pin whatever the positive one is at, V; null where that pin bounds it.</summary>
    public double? HighestVolts { get; init; }

    /// <summary>Resistance ahead of the diodes in each input, ohm.</summary>
    public double SeriesOhms { get; init; }
}

/// <summary>An operational amplifier.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Type">Its class.</param>
public sealed record OpAmpPart(string Name, string Plus, string Minus, string Output, string PositiveRail, string NegativeRail,
    OpAmpType Type) : Part(Name)
{
    private const double NearlyIdealGain = 1e9, NearlyInfiniteOhms = 1e15, FasterBy = 1e4;

    // Every supply pin but those of a few parts for batteries stands a diode's drop the wrong way round (common practice, no source).
    private const double ReversedSupplyVolts = 0.3;

    // What is forced into an output from outside flows through its diodes to the supplies; many sheets allow 10 mA into any pin (common
    // practice, no source).
    private const double OutputClampAmps = 10e-3;

    // A small package on a board loses half a watt at 25 °C and nothing at 150 °C (typical of sheets of one or two amplifiers, from
    // memory): what a short to ground takes, and not one to the far supply.
    private const double RatedWatts = 0.5, MostJunctionCelsius = 150;

    // The widest range that op amps are sold for (common practice, no source).
    private const double HottestCelsius = 125;

    // Kelvins above 25 °C that the bias currents of the model are of.
    private double BiasKelvins { get; init; }

    /// <inheritdoc/>
    public override Part At(double celsius)
    {
        double kelvins = Math.Max(0, celsius - 25), growth = Type.BiasGrowth(kelvins - BiasKelvins);
        return growth == 1 ? this
            : With(m => m with { BiasAmps = m.BiasAmps * growth, OffsetAmps = m.OffsetAmps * growth }) with { BiasKelvins = kelvins };
    }

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "opamp";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("plus input", Plus), new("minus input", Minus), new("output", Output),
        new("positive supply", PositiveRail), new("negative supply", NegativeRail),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply => (PositiveRail, NegativeRail,
        new(Type.LowestSupplyVolts, Math.Max(Type.HighestSupplyVolts, Type.MostSupplyVolts ?? 0)));

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        var ratings = ImmutableArray.CreateBuilder<Rating>();
        void Add(RatingKind kind, RatedQuantity quantity, double? limit)
        {
            if (limit is { } given)
                ratings.Add(new(kind, quantity, given, Type.Source));
        }
        Add(RatingKind.Temperature, new Ambient(ambientCelsius), HottestCelsius);
        Add(RatingKind.SupplyVoltage, new VoltageAcross(PositiveRail, NegativeRail, EitherWay: false), Type.MostSupplyVolts
            ?? Type.HighestSupplyVolts);
        Add(RatingKind.ReversedSupply, new VoltageAcross(NegativeRail, PositiveRail, EitherWay: false), ReversedSupplyVolts);
        var inputs = Type.Inputs;
        if (!Clamps.IsEmpty && inputs.Amps is { } amps)
            Add(RatingKind.InputCurrent, new CurrentThrough([.. Clamps.Select(c => c.Name)]), amps);
        ratings.Add(JunctionPower(RatedWatts, ambientCelsius, MostJunctionCelsius, Type.Source));
        Add(RatingKind.OutputCurrent, new CurrentThrough([.. OutputClamps.Select(c => c.Name)]), OutputClampAmps);
        Add(RatingKind.DifferentialInput, new VoltageAcross(Plus, Minus), inputs.DifferentialVolts);
        foreach (string input in Inputs)
        {
            // Where a diode leads to a supply pin, the current through it is the limit and not the voltage.
            if (inputs.HighestVolts is { } highest)
                Add(RatingKind.InputVoltage, new VoltageAcross(input, NegativeRail, EitherWay: false), highest);
            else if (inputs.Protection is InputProtection.None or InputProtection.ToNegativeRail || inputs.Amps is null)
                Add(RatingKind.InputBeyondSupply, new VoltageAcross(input, PositiveRail, EitherWay: false), inputs.BeyondVolts);
            if (inputs.Protection == InputProtection.None || inputs.Amps is null)
                Add(RatingKind.InputBeyondSupply, new VoltageAcross(NegativeRail, input, EitherWay: false), inputs.BeyondVolts);
        }
        return ratings.ToImmutable();
    }

    /// <inheritdoc/>
    public override Assumption Assumes => Assumption.Gain;

    /// <inheritdoc/>
    public override IEnumerable<Deviation> Deviations =>
    [
        Deviation.About(DeviationKind.OffsetVoltage, new(Name, OpAmp.OffsetVoltage), 0.1, new(Type.OffsetVoltsSpread, Unit.Volts)),
        Deviation.About(DeviationKind.BiasCurrent, new(Name, OpAmp.BiasCurrent), Math.Max(10e-6, 10 * Type.BiasAmpsSpread),
            new(Type.BiasAmpsSpread, Unit.Amps)),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        VariedNumber offset = new(Name, OpAmp.OffsetVoltage), bias = new(Name, OpAmp.BiasCurrent);
        double typicalBias = Math.Abs(Type.Model.BiasAmps) / Type.BiasGrowth(BiasKelvins);
        InputDistribution drift = Type.IsDriftTypical
            ? new NormalInput(0, Type.OffsetVoltsPerKelvin) : ErrorSource.Limits(Type.OffsetVoltsPerKelvin);
        return
        [
            .. ErrorSource.Add(Name + " offset", ErrorKind.OffsetVoltage, Type.OffsetVoltsSpread, offset),
            .. Type.OffsetVoltsPerKelvin > 0
                ? [new(Name + " offset drift", drift, ErrorKind.OffsetVoltage, [offset], (now, x, kelvins) => now + x * kelvins)]
                    : Array.Empty<ErrorSource>(),
            // Above its typical value as likely as below; both move with temperature, and the circuit has the typical one of its own.
            .. Type.BiasAmpsSpread > typicalBias && typicalBias != 0
                ? [new(Name + " bias", ErrorSource.Limits(1), ErrorKind.BiasCurrent, [bias], (now, x, kelvins) =>
                    now * Math.Pow(Type.MostBiasAmps(kelvins) / (typicalBias * Type.BiasGrowth(kelvins)), x))]
                : Array.Empty<ErrorSource>(),
            .. Type.OffsetAmpsSpread > 0
                ? [new(Name + " offset current", ErrorSource.Limits(Type.OffsetAmpsSpread),
                    ErrorKind.BiasCurrent, [new(Name, OpAmp.OffsetCurrent)],
                    (now, x, kelvins) => now + x * Type.MostBiasAmps(kelvins) / Type.MostBiasAmps(0))]
                : Array.Empty<ErrorSource>(),
            ErrorSource.Factor(Name + " gain", ErrorKind.Gain, assumed.GainFactor, new VariedNumber(Name, OpAmp.OpenLoopGain)),
        ];
    }

    /// <inheritdoc/>
    public override Part? AtBandwidth(bool high) => With(m => Strayed(m, high));

    /// <summary>The slowest or quickest piece by what gain-bandwidth products stray.</summary>
    /// <param name="model">The class's own numbers.</param>
    /// <param name="high">Whether the quickest.</param>
    internal static OpAmpModel Strayed(OpAmpModel model, bool high) =>
        model with { GainBandwidthHertz = model.GainBandwidthHertz * UsualSpread.Bandwidth.Factor(high) };

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations =>
    [
        new(Imperfection.Gain, With(m => m with { OpenLoopGain = NearlyIdealGain, InputOhms = NearlyInfiniteOhms })),
        new(Imperfection.BiasCurrent, With(m => m with { BiasAmps = 0, OffsetAmps = 0 })),
        new(Imperfection.OffsetVoltage, With(m => m with { OffsetVolts = 0 })),
        new(Imperfection.Swing, With(m => m with { DropHighVolts = 0, DropLowVolts = 0 })),
        // A faster op amp with the same capacitance at its inputs would ring.
        new(Imperfection.Bandwidth, With(m => m with { GainBandwidthHertz = FasterBy * m.GainBandwidthHertz },
            t => t with { InputFarads = 0, BetweenFarads = 0 })),
    ];

    // How many types of op amp are tried.
    private const int MostTypes = 3;

    /// <inheritdoc/>
    public override IEnumerable<Part> WithLess(Imperfection of) => of != Imperfection.BiasCurrent ? []
        : PartCatalogue.Standard.OpAmps.Where(t => t.BiasAmpsSpread < Type.BiasAmpsSpread).OrderByDescending(t => t.BiasAmpsSpread)
            .Take(MostTypes).Select(t => this with { Type = t });

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow];

    // Without a path of their own, inputs that nothing else holds would have no defined voltage.
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        BrokenOutput(mode, Output, PositiveRail, NegativeRail), .. Capacitances, .. Clamps, .. OutputClamps,
        new Resistor(Name + ".plus", Plus, Circuit.Ground, OpenOhms), new Resistor(Name + ".minus", Minus, Circuit.Ground, OpenOhms),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.HighestSupplyVolts);

    /// <inheritdoc/>
    public override AmplifierPorts? Amplifier => new(Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new OpAmp(Name, Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model), .. Capacitances, .. Clamps, .. OutputClamps,
        .. Type.Inputs.Protection == InputProtection.BackToBack
            ? [new Resistor(Between, Plus, Between, 2 * Type.Inputs.SeriesOhms)] : Array.Empty<Element>(),
    ];

    // The node behind the resistances ahead of back-to-back diodes, and the resistor that makes it.
    private string Between => Name + ".between inputs";

    // A terminal that is tied to the other one counts once.
    private ImmutableArray<string> Inputs => Plus == Minus ? [Plus] : [Plus, Minus];

    // What stands straight at an output or at ground notices nothing of some picofarads.
    private IEnumerable<Element> Capacitances
    {
        get
        {
            foreach (string input in Inputs.Where(i => i != Output && i != Circuit.Ground && Type.InputFarads > 0))
                yield return new Capacitor(Name + (input == Plus ? ".plus capacitance" : ".minus capacitance"), input, Circuit.Ground,
                    Type.InputFarads);
            if (Plus != Minus && Minus != Output && Plus != Output && Type.BetweenFarads > 0)
                yield return new Capacitor(Name + ".capacitance between inputs", Plus, Minus, Type.BetweenFarads);
        }
    }

    private ImmutableArray<Diode> Clamps => Type.Inputs.Protection switch
    {
        InputProtection.ToBothRails => ToBothRails,
        InputProtection.ToNegativeRail =>
            [.. Inputs.Select(input => Clamp(input == Plus ? ".negative to plus" : ".negative to minus", NegativeRail, input))],
        InputProtection.BackToBack => [.. ToBothRails, Clamp(".plus to minus", Between, Minus), Clamp(".minus to plus", Minus, Between)],
        _ => [],
    };

    private ImmutableArray<Diode> ToBothRails =>
    [
        .. Inputs.SelectMany(input => (Diode[])
        [
            Clamp(input == Plus ? ".plus to positive" : ".minus to positive", input, PositiveRail),
            Clamp(input == Plus ? ".negative to plus" : ".negative to minus", NegativeRail, input),
        ]),
    ];

    // The drains of a CMOS output are diodes to both supply pins, and a bipolar one has junctions that act alike.
    private ImmutableArray<Diode> OutputClamps =>
        [Clamp(".output to positive", Output, PositiveRail), Clamp(".negative to output", NegativeRail, Output)];

    private Diode Clamp(string suffix, string from, string to) => new(Name + suffix, from, to, ChipDiode.Model);

    private OpAmpPart With(Func<OpAmpModel, OpAmpModel> change, Func<OpAmpType, OpAmpType>? beside = null) =>
        this with { Type = (beside?.Invoke(Type) ?? Type) with { Model = change(Type.Model) } };
}
