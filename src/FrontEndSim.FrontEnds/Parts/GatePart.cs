using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Pins;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A logic gate with one input, as a buffer or an inverter.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Input">Input. It takes no current: what the input loads and stands is said by the pin there.</param>
/// <param name="Output">Output.</param>
/// <param name="Rail">Node of its supply; its other supply pin is at ground.</param>
/// <param name="Type">Its family: a type of pin that has a gate.</param>
/// <param name="Inverts">Whether the output is low while the input is high.</param>
public sealed record GatePart(string Name, string Input, string Output, string Rail, PinType Type, bool Inverts) : Part(Name)
{
    /// <inheritdoc/>
    public override (string Input, string Output, string Supply)? Logic => (Input, Output, Rail);

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => Inverts ? "inverting gate" : "gate";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override string Symbol => (Inverts ? "inverting gate" : "gate") + (Type.HasHysteresis ? " with hysteresis" : "");

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
        [new("input", Input), new("output", Output), new("supply", Rail), new("ground", Circuit.Ground)];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [Rail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply => (Rail, Circuit.Ground, Type.Supply);

    /// <inheritdoc/>
    public override bool IsSwitched => true;

    /// <inheritdoc/>
    public override Part AtPin(string node, PinType family) => node == Input ? this with { Type = family } : this;

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        .. Type.MostOutputAmps is { } amps
            ? [new(RatingKind.Current, new CurrentThrough([Name]), amps, Type.Source)] : Array.Empty<Rating>(),
        .. BeyondVolts is { } beyond ?
        [
            new(RatingKind.Voltage, new VoltageAcross(Input, Rail, EitherWay: false), beyond, Type.Source),
            new(RatingKind.ReverseVoltage, new VoltageAcross(Circuit.Ground, Input, EitherWay: false), beyond, Type.Source),
        ] : Array.Empty<Rating>(),
    ];

    /// <summary>How far its input stands beyond its supply and below ground, V; null where a pin at its input says it.</summary>
    internal double? BeyondVolts { get; init; }

    // Of both families (JESD7A and JESD13-B, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) => [BrokenOutput(mode, Output, Rail, Circuit.Ground)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
        [new LogicGate(Name, Input, Output, Rail, Circuit.Ground, Type.Gate! with { Inverts = Inverts })];
}
