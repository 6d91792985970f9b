using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

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
    /// <inheritdoc/>
    public override string Word => "opamp";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [Plus, Minus, Output, PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new OpAmp(Name, Plus, Minus, Output, PositiveRail, NegativeRail, Type.Model)];
}
