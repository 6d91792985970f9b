using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of comparator.</summary>
/// <param name="Name">Its name: "open-collector".</param>
/// <param name="Model">Its typical numbers.</param>
/// <param name="Source">Where they come from.</param>
public sealed record ComparatorType(string Name, ComparatorModel Model, string Source) : PartType(Name, Source)
{
    /// <summary>Largest offset voltage of a piece, either way, V.</summary>
    public double MostOffsetVolts { get; init; }

    /// <summary>Largest bias current of a piece, A, as a magnitude.</summary>
    public double MostBiasAmps { get; init; }

    /// <summary>Lowest and highest supply voltage that it works on, V.</summary>
    public (double Low, double High) SupplyVolts { get; init; } = (2, 36);

    /// <summary>Supply voltage that it stands, V.</summary>
    public double MostSupplyVolts { get; init; } = 36;

    /// <summary>Highest voltage of an input above the negative supply pin, V; null where diodes lead to the positive pin.</summary>
    public double? HighestInputVolts { get; init; }

    /// <summary>Largest current through the diodes of the inputs, A.</summary>
    public double InputAmps { get; init; } = 5e-3;

    /// <summary>Highest voltage of an open output above the negative supply pin, V; null where a diode leads to the positive pin.</summary>
    public double? HighestOutputVolts { get; init; }

    /// <summary>Largest lasting output current, A.</summary>
    public double OutputAmps { get; init; } = 20e-3;

    /// <summary>Largest leakage of an open output over temperature, A, at any voltage that it stands; zero for an output that drives both
    /// ways.</summary>
    public double MostLeakageAmps { get; init; }

    /// <summary>Rated power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 0.5;

    /// <inheritdoc/>
    public override string Kind => "comparator";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("delay", Model.DelaySeconds, "s"), .. TypeFigure.Stated("largest offset voltage", MostOffsetVolts, "V"),
        .. TypeFigure.Stated("hysteresis", Model.HysteresisVolts, "V"), .. TypeFigure.Stated("bias current", Model.BiasAmps, "A"),
        .. TypeFigure.Stated("largest bias current", MostBiasAmps, "A"),
            new("inputs below the positive supply", Model.CommonModeHighVolts, "V"),
        new("inputs above the negative supply", Model.CommonModeLowVolts, "V"), .. TypeFigure.Stated("sinks", Model.SinkAmps, "A"),
        .. TypeFigure.Stated("resistance of the low output", Model.SinkOhms, "ohm"),
            .. TypeFigure.Stated("delivers", Model.SourceAmps, "A"),
        .. TypeFigure.Stated("lowest supply", SupplyVolts.Low, "V"), .. TypeFigure.Stated("highest supply", SupplyVolts.High, "V"),
        .. TypeFigure.Stated("rated supply", MostSupplyVolts, "V"), .. TypeFigure.Stated("rated output voltage", HighestOutputVolts, "V"),
        .. TypeFigure.Stated("largest leakage of the output", MostLeakageAmps, "A"),
        .. TypeFigure.Stated("rated output current", OutputAmps, "A"), .. TypeFigure.Stated("supply current", Model.SupplyAmps, "A"),
        .. TypeFigure.Stated("rated power", RatedWatts, "W"),
    ];
}

/// <summary>A comparator.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Type">Its class.</param>
public sealed record ComparatorPart(string Name, string Plus, string Minus, string Output,
    string PositiveRail, string NegativeRail, ComparatorType Type) : Part(Name)
{
    // Every supply pin stands a diode's drop the wrong way round; a plastic case bears 125 °C (common practice, no source).
    private const double ReversedSupplyVolts = 0.3, MostJunctionCelsius = 150;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "comparator";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("plus input", Plus), new("output", Output), new("positive supply", PositiveRail),
            new("negative supply", NegativeRail), new("minus input", Minus),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply =>
        (PositiveRail, NegativeRail, new(Type.SupplyVolts.Low, Math.Max(Type.SupplyVolts.High, Type.MostSupplyVolts)));

    /// <inheritdoc/>
    public override bool IsSwitched => true;

    // Of the automotive grade of its class (from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        Rating Volts(RatingKind kind, string from, string to, double limit) =>
            new(kind, new VoltageAcross(from, to, EitherWay: false), limit, Type.Source);
        return
        [
            Volts(RatingKind.SupplyVoltage, PositiveRail, NegativeRail, Type.MostSupplyVolts),
            Volts(RatingKind.ReversedSupply, NegativeRail, PositiveRail, ReversedSupplyVolts),
            new(RatingKind.InputCurrent, new CurrentThrough([.. InputDiodes.Select(d => d.Name)]), Type.InputAmps, Type.Source),
            .. Type.HighestInputVolts is { } highest ? Inputs.Select(i => Volts(RatingKind.InputVoltage, i, NegativeRail, highest)) : [],
            .. Type.HighestOutputVolts is { } most ? [Volts(RatingKind.Voltage, Output, NegativeRail, most)] : Array.Empty<Rating>(),
            new(RatingKind.PeakCurrent, new CurrentThrough([Name, .. OutputDiodes.Select(d => d.Name)]), Type.OutputAmps, Type.Source),
            JunctionPower(Type.RatedWatts, ambientCelsius, MostJunctionCelsius, Type.Source),
        ];
    }

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
    [
        .. ErrorSource.Add(Name + " offset", ErrorKind.OffsetVoltage, Type.MostOffsetVolts,
            new VariedNumber(Name, Comparator.OffsetVoltage)),
        .. Type.MostBiasAmps > Math.Abs(Type.Model.BiasAmps)
            ? [new ErrorSource(Name + " bias", new RectangularInput(0, Type.MostBiasAmps / Math.Max(Math.Abs(Type.Model.BiasAmps), 1e-18)),
                ErrorKind.BiasCurrent,
                [new VariedNumber(Name, Comparator.BiasCurrent)], (now, x, _) => now * x)]
            : Array.Empty<ErrorSource>(),
        .. OutputLeakage.Select(l => new ErrorSource(Name + " output leakage",
            new RectangularInput(Math.Log(UsualShare), 0), ErrorKind.Leakage,
            [new VariedNumber(l.Name, InputLeakage.Scale)], (now, x, _) => now * Math.Exp(x) / UsualShare)),
    ];

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations =>
    [
        new(Imperfection.BiasCurrent, this with { Type = Type with { Model = Type.Model with { BiasAmps = 0 } } }),
        new(Imperfection.OffsetVoltage, this with { Type = Type with { Model = Type.Model with { OffsetVolts = 0 } } }),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        // Without a transistor to the positive pin a stuck output is an open one.
        BrokenOutput(mode == FaultMode.StuckHigh && Type.Model.SourceAmps == 0 ? FaultMode.Open : mode, Output, PositiveRail, NegativeRail),
        .. InputDiodes, .. OutputDiodes, .. Inputs.Select(i => new Resistor(Name + "." + i, i, NegativeRail, OpenOhms)),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.SupplyVolts.High);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new Comparator(Name, Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model),
        .. InputDiodes, .. OutputDiodes, .. OutputLeakage,
    ];

    // An open output leaks far less than the largest that is stated (typical of the class, from memory).
    private const double UsualShare = 1e-4;

    // Beside the leakage of the model, which is typical.
    private IEnumerable<InputLeakage> OutputLeakage => Type.MostLeakageAmps == 0 || Type.Model.SourceAmps > 0 ? []
        : [new(Name + ".output leakage", Output, NegativeRail, null, UsualShare * Type.MostLeakageAmps)];

    private ImmutableArray<string> Inputs => Plus == Minus ? [Plus] : [Plus, Minus];

    private ImmutableArray<Diode> InputDiodes =>
    [
        .. Inputs.SelectMany(i => (Diode[])
        [
            new($"{Name}.negative to {(i == Plus ? "plus" : "minus")}", NegativeRail, i, ChipDiode.Model),
            .. Type.HighestInputVolts is null
                ? [new Diode($"{Name}.{(i == Plus ? "plus" : "minus")} to positive", i, PositiveRail, ChipDiode.Model)]
                : Array.Empty<Diode>(),
        ]),
    ];

    private ImmutableArray<Diode> OutputDiodes =>
    [
        new(Name + ".negative to output", NegativeRail, Output, ChipDiode.Model),
        .. Type.HighestOutputVolts is null ? [new Diode(Name + ".output to positive", Output, PositiveRail, ChipDiode.Model)]
            : Array.Empty<Diode>(),
    ];
}
