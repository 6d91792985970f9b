using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of operational amplifier: typical numbers, and how far single pieces stray from them.</summary>
/// <param name="Name">Class name ("bipolar-general").</param>
/// <param name="Model">Typical numbers; the offset voltage is zero, as its sign differs from piece to piece.</param>
/// <param name="OffsetVoltsSpread">Largest offset voltage either way, V.</param>
/// <param name="BiasAmpsSpread">Largest bias current, A.</param>
/// <param name="OffsetAmpsSpread">Largest offset current either way, A.</param>
/// <param name="LowestSupplyVolts">Least voltage between its supply pins, V.</param>
/// <param name="HighestSupplyVolts">Highest voltage between its supply pins, V: a rating.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record OpAmpType(string Name, OpAmpModel Model, double OffsetVoltsSpread, double BiasAmpsSpread, double OffsetAmpsSpread,
    double LowestSupplyVolts, double HighestSupplyVolts, string Source)
{
    /// <summary>Largest change of the offset voltage with temperature either way, V/K.</summary>
    public double OffsetVoltsPerKelvin { get; init; }
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
    private const double NearlyIdealGain = 1e9, NearlyInfiniteOhms = 1e15;

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
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        [new(RatingKind.SupplyVoltage, new VoltageAcross(PositiveRail, NegativeRail), Type.HighestSupplyVolts, Type.Source)];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        VariedNumber offset = new(Name, OpAmp.OffsetVoltage), bias = new(Name, OpAmp.BiasCurrent);
        double typicalBias = Math.Abs(Type.Model.BiasAmps);
        return
        [
            .. ErrorSource.Add(Name + " offset", ErrorKind.OffsetVoltage, Type.OffsetVoltsSpread, offset),
            .. Type.OffsetVoltsPerKelvin > 0
                ? [new(Name + " offset drift", ErrorSource.Limits(Type.OffsetVoltsPerKelvin), ErrorKind.OffsetVoltage, [offset], (now, x, kelvins) => now + x * kelvins)]
                : Array.Empty<ErrorSource>(),
            .. Type.BiasAmpsSpread > typicalBias && typicalBias != 0
                ? [ErrorSource.Factor(Name + " bias", ErrorKind.BiasCurrent, Type.BiasAmpsSpread / typicalBias, bias)] : Array.Empty<ErrorSource>(),
            .. ErrorSource.Add(Name + " offset current", ErrorKind.BiasCurrent, Type.OffsetAmpsSpread, new(Name, OpAmp.OffsetCurrent)),
            ErrorSource.Factor(Name + " gain", ErrorKind.Gain, assumed.GainFactor, new VariedNumber(Name, OpAmp.OpenLoopGain)),
        ];
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations =>
    [
        new(Imperfection.Gain, With(m => m with { OpenLoopGain = NearlyIdealGain, InputOhms = NearlyInfiniteOhms })),
        new(Imperfection.BiasCurrent, With(m => m with { BiasAmps = 0, OffsetAmps = 0 })),
        new(Imperfection.OffsetVoltage, With(m => m with { OffsetVolts = 0 })),
        new(Imperfection.Swing, With(m => m with { DropHighVolts = 0, DropLowVolts = 0 })),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow];

    // Without a path of their own, inputs that nothing else holds would have no defined voltage.
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        BrokenOutput(mode, Output, PositiveRail, NegativeRail),
        new Resistor(Name + ".plus", Plus, Circuit.Ground, OpenOhms), new Resistor(Name + ".minus", Minus, Circuit.Ground, OpenOhms),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.HighestSupplyVolts);

    /// <inheritdoc/>
    public override AmplifierPorts? Amplifier => new(Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new OpAmp(Name, Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model)];

    private OpAmpPart With(Func<OpAmpModel, OpAmpModel> change) => this with { Type = Type with { Model = change(Type.Model) } };
}
