using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of instrumentation amplifier in one part: two amplifiers at the inputs and one that takes their difference.</summary>
/// <param name="Name">Its name: "precision-in-amp".</param>
/// <param name="Input">The amplifiers at the inputs; their common-mode limits are those of the part.</param>
/// <param name="Output">The amplifier that takes the difference; its swing is that of the part.</param>
/// <param name="GainOhms">The gain is one and this over the resistor between the two gain pins, ohm.</param>
/// <param name="MostOffsetVolts">Largest input offset voltage, either way, V.</param>
/// <param name="MostOutputOffsetVolts">Largest output offset voltage, either way, V: over the gain it adds to the input's.</param>
/// <param name="OffsetVoltsPerKelvin">Largest drift of the input offset voltage, V/K.</param>
/// <param name="MostBiasAmps">Largest bias current, A.</param>
/// <param name="RejectionDecibels">Least common-mode rejection at a gain of one, dB; with gain it grows by as much.</param>
/// <param name="GainError">Largest error of the gain, a fraction, without that of the resistor.</param>
/// <param name="SupplyVolts">Lowest and highest voltage between its supply pins, V.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record InAmpType(string Name, OpAmpModel Input, OpAmpModel Output, double GainOhms, double MostOffsetVolts,
    double MostOutputOffsetVolts, double OffsetVoltsPerKelvin, double MostBiasAmps, double RejectionDecibels, double GainError,
    (double Low, double High) SupplyVolts, string Source) : PartType(Name, Source)
{
    /// <inheritdoc/>
    public override string Kind => "in-amp";

    /// <summary>Largest offset current between the inputs, either way, A; null for half of the largest bias current (sheets state half of
    /// it to all of it, from memory).</summary>
    public double? OffsetAmps { get; init; }

    /// <summary>The same, with what is taken.</summary>
    internal double MostOffsetAmps => OffsetAmps ?? MostBiasAmps / 2;

    /// <summary>Its gain with a resistor between the gain pins, or without one.</summary>
    /// <param name="ohms">The resistor, ohm; infinite for none.</param>
    public double Gain(double ohms) => 1 + GainOhms / ohms;

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("gain less one times the gain resistor", GainOhms, "ohm") { Fitted = GainOhms },
        .. TypeFigure.Stated("largest input offset voltage", MostOffsetVolts, "V"),
        .. TypeFigure.Stated("largest output offset voltage", MostOutputOffsetVolts, "V"),
        .. TypeFigure.Stated("largest offset drift", OffsetVoltsPerKelvin, "V/K"),
        .. TypeFigure.Stated("largest bias current", MostBiasAmps, "A"),
        .. TypeFigure.Stated("largest offset current", MostOffsetAmps, "A"),
        new("least common-mode rejection at a gain of one", RejectionDecibels, "dB") { IsLimit = true },
        .. TypeFigure.Stated("largest gain error", GainError, "%"),
        new("inputs below the positive supply", Input.CommonModeHighVolts, "V"),
        new("inputs above the negative supply", Input.CommonModeLowVolts, "V"),
        new("inner outputs below the positive supply", Input.DropHighVolts, "V"),
        new("inner outputs above the negative supply", Input.DropLowVolts, "V"),
        new("output below the positive supply", Output.DropHighVolts, "V"),
        new("output above the negative supply", Output.DropLowVolts, "V"),
        .. TypeFigure.Stated("lowest supply", SupplyVolts.Low, "V"), .. TypeFigure.Stated("highest supply", SupplyVolts.High, "V"),
    ];
}

/// <summary>
/// An instrumentation amplifier in one part, as three amplifiers: the two at its inputs clip inside, at common modes where neither the
/// inputs nor the output show it.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="Reference">What the output stands at without a difference; it takes current.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Type">Its class.</param>
public sealed record InAmpPart(string Name, string Plus, string Minus, string Output, string Reference, string PositiveRail,
    string NegativeRail, InAmpType Type) : Part(Name)
{
    // Resistors of the difference amplifier (typical of the classes, from memory).
    private const double DifferenceOhms = 10e3;

    /// <summary>The gain pins, the one of the plus input first; null where nothing is connected to them.</summary>
    public (string AtPlus, string AtMinus)? GainPins { get; init; }

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "in-amp";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("plus input", Plus), new("output", Output), new("positive supply", PositiveRail), new("negative supply", NegativeRail),
        .. GainPins is { } pins ? [new("gain pin of the plus input", pins.AtPlus), new("gain pin of the minus input", pins.AtMinus)]
            : Array.Empty<Terminal>(),
        new("minus input", Minus), new("reference", Reference),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply =>
        (PositiveRail, NegativeRail, new(Type.SupplyVolts.Low, Type.SupplyVolts.High));

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        new(RatingKind.Temperature, new Ambient(ambientCelsius), 125, Type.Source),
        new(RatingKind.SupplyVoltage, new VoltageAcross(PositiveRail, NegativeRail, EitherWay: false), Type.SupplyVolts.High, Type.Source),
        new(RatingKind.ReversedSupply, new VoltageAcross(NegativeRail, PositiveRail, EitherWay: false), 0.3, Type.Source),
        new(RatingKind.InputCurrent, new CurrentThrough([.. Clamps.Select(c => c.Name)]), 10e-3, Type.Source),
        new(RatingKind.OutputCurrent, new CurrentThrough([.. OutputClamps.Select(c => c.Name)]), 10e-3, Type.Source),
        JunctionPower(0.5, ambientCelsius, 150, Type.Source),
    ];

    /// <inheritdoc/>
    public override IEnumerable<AmplifierElement> Amplifiers =>
    [
        new(PlusName, new(Plus, PlusGain, Name + ".1", PositiveRail, NegativeRail, Type.Input)),
        new(MinusName, new(Minus, MinusGain, Name + ".2", PositiveRail, NegativeRail, Type.Input)),
        // Its inputs stand wherever the divider of its own resistors brings them; the part states no limit of theirs.
        new(Name, new(Name + ".plus", Name + ".minus", Output, PositiveRail, NegativeRail,
            Type.Output with { CommonModeHighVolts = -1, CommonModeLowVolts = -1 })),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        VariedNumber offset = new(PlusName, OpAmp.OffsetVoltage);
        // One of four equal resistors that is off by δ makes a common-mode gain of δ/2 (any text on difference amplifiers).
        double mismatch = 2 * Math.Pow(10, -Type.RejectionDecibels / 20);
        return
        [
            .. ErrorSource.Add(Name + " offset", ErrorKind.OffsetVoltage, Type.MostOffsetVolts, offset),
            .. ErrorSource.Add(Name + " output offset", ErrorKind.OffsetVoltage, Type.MostOutputOffsetVolts / 2,
                new VariedNumber(Name, OpAmp.OffsetVoltage)),
            .. Type.OffsetVoltsPerKelvin > 0
                ? [new(Name + " offset drift", ErrorSource.Limits(Type.OffsetVoltsPerKelvin), ErrorKind.OffsetVoltage, [offset],
                    (now, x, kelvins) => now + x * kelvins)]
                : Array.Empty<ErrorSource>(),
            .. Type.MostBiasAmps > Math.Abs(Type.Input.BiasAmps)
                ? [new ErrorSource(Name + " bias", ErrorSource.Limits(1), ErrorKind.BiasCurrent,
                    [new(PlusName, OpAmp.BiasCurrent), new(MinusName, OpAmp.BiasCurrent)], (_, x, _) => x * Type.MostBiasAmps)]
                : Array.Empty<ErrorSource>(),
            .. ErrorSource.Add(Name + " offset current", ErrorKind.BiasCurrent, Type.MostOffsetAmps,
                new VariedNumber(PlusName, OpAmp.BiasCurrent)),
            .. ErrorSource.Scale(Name + " common-mode rejection", ErrorKind.ResistorTolerance, mismatch,
                new VariedNumber(Name + ".to reference", Resistor.Resistance)),
            .. ErrorSource.Scale(Name + " gain", ErrorKind.ResistorTolerance, Type.GainError,
                new VariedNumber(Name + ".plus feedback", Resistor.Resistance),
                new VariedNumber(Name + ".minus feedback", Resistor.Resistance)),
        ];
    }

    // Amplifiers of one chip stray together.
    /// <inheritdoc/>
    public override Part? AtBandwidth(bool high) => this with
    {
        Type = Type with { Input = OpAmpPart.Strayed(Type.Input, high), Output = OpAmpPart.Strayed(Type.Output, high) },
    };

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        BrokenOutput(mode, Output, PositiveRail, NegativeRail), .. Clamps, .. OutputClamps,
        .. new[] { Plus, Minus, Reference }.Concat(GainPins is { } pins ? [pins.AtPlus, pins.AtMinus] : Array.Empty<string>()).Distinct()
            .Where(n => n != NegativeRail).Select(n => new Resistor($"{Name}.{n}", n, NegativeRail, OpenOhms)),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.SupplyVolts.High);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new OpAmp(PlusName, Plus, PlusGain, Name + ".1", PositiveRail, NegativeRail, Type.Input),
        new OpAmp(MinusName, Minus, MinusGain, Name + ".2", PositiveRail, NegativeRail, Type.Input),
        new Resistor(Name + ".plus feedback", Name + ".1", PlusGain, Type.GainOhms / 2),
        new Resistor(Name + ".minus feedback", Name + ".2", MinusGain, Type.GainOhms / 2),
        new Resistor(Name + ".plus in", Name + ".1", Name + ".plus", DifferenceOhms),
        new Resistor(Name + ".to reference", Name + ".plus", Reference, DifferenceOhms),
        new Resistor(Name + ".minus in", Name + ".2", Name + ".minus", DifferenceOhms),
        new Resistor(Name + ".feedback", Name + ".minus", Output, DifferenceOhms),
        new OpAmp(Name, Name + ".plus", Name + ".minus", Output, PositiveRail, NegativeRail, Type.Output),
        .. Clamps, .. OutputClamps,
    ];

    private string PlusName => Name + ".plus amplifier";

    private string MinusName => Name + ".minus amplifier";

    private string PlusGain => GainPins?.AtPlus ?? Name + ".plus gain";

    private string MinusGain => GainPins?.AtMinus ?? Name + ".minus gain";

    private ImmutableArray<Diode> OutputClamps =>
    [
        new($"{Name}.output to positive", Output, PositiveRail, ChipDiode.Model),
        new($"{Name}.negative to output", NegativeRail, Output, ChipDiode.Model),
    ];

    private ImmutableArray<Diode> Clamps =>
    [
        .. (Plus == Minus ? [("plus", Plus)] : new[] { ("plus", Plus), ("minus", Minus) }).SelectMany(end => (Diode[])
        [
            new($"{Name}.{end.Item1} to positive", end.Item2, PositiveRail, ChipDiode.Model),
            new($"{Name}.negative to {end.Item1}", NegativeRail, end.Item2, ChipDiode.Model),
        ]),
    ];
}

/// <summary>Classes of instrumentation amplifiers in one part.</summary>
internal static class InAmpCatalogue
{
    public static ImmutableArray<PartType> Types { get; } =
    [
        new InAmpType("precision-in-amp", Amplifier(1.3e6, 4e6, 1.2, 0.8, 1.9, 1.2), Amplifier(1e6, 4e6, 1.3, 1.3, 1.5, 1.5), 49.4e3,
            125e-6, 1.5e-3, 1e-6, 5e-9, 73, 0.005, (4.6, 36), "AD620 and INA128 classes, from memory"),
        new InAmpType("zero-drift-in-amp",
            Amplifier(350e3, 0.16e6, 0.05, 0.05, 0.1, 0.1) with { BiasAmps = 70e-12, InputOhms = 1e11, OutputOhms = 200 },
            Amplifier(350e3, 0.16e6, 0.05, 0.05, -0.1, -0.1) with { OutputOhms = 200, OutputLimitAmps = 5e-3 },
            100e3, 25e-6, 75e-6, 0.1e-6, 200e-12, 80, 0.0025, (1.8, 5.5), "INA333 class, from memory"),
    ];

    private static OpAmpModel Amplifier(double bandwidth, double slew, double dropHigh, double dropLow, double modeLow,
        double modeHigh) => new()
        {
            OpenLoopGain = 1e7,
            GainBandwidthHertz = bandwidth,
            SlewVoltsPerSecond = slew,
            BiasAmps = 0.5e-9,
            InputOhms = 1e10,
            OutputOhms = 50,
            DropHighVolts = dropHigh,
            DropLowVolts = dropLow,
            CommonModeHighVolts = modeHigh,
            CommonModeLowVolts = modeLow,
            OutputLimitAmps = 18e-3,
            PhaseMarginDegrees = 60,
            NoiseVolts = 9e-9,
            NoiseAmps = 0.1e-12,
            SupplyAmps = 0.3e-3,
        };
}
