using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>Something on the sheet that is no part to buy: it stands in the drawing like one.</summary>
internal abstract record Mark(string Name) : Part(Name)
{
    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [];
}

/// <summary>What a sensor gives, ahead of its source resistance.</summary>
internal sealed record SensorMark(Sensor Sensor) : Mark(Sensor.Name)
{
    /// <inheritdoc/>
    public override string Word => "sensor";

    /// <inheritdoc/>
    public override string Symbol => "source";

    /// <inheritdoc/>
    public override string ValueText => $"{SiText.Format(Sensor.Span.Low, "V")} .. {SiText.Format(Sensor.Span.High, "V")}";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("+", Sensor.SourceOhms > 0 ? Inside(Sensor) : Sensor.Node), new("-", Circuit.Ground)];

    /// <summary>The place between a sensor and its source resistance. No circuit has a node of that name: it holds a space.</summary>
    public static string Inside(Sensor sensor) => "inside " + sensor.Name;
}

/// <summary>A sensor's source resistance.</summary>
internal sealed record SourceResistanceMark(Sensor Sensor) : Mark(Sensor.Name + " source")
{
    /// <inheritdoc/>
    public override string Word => "source resistance";

    /// <inheritdoc/>
    public override string Symbol => "resistor";

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(Sensor.SourceOhms, "ohm");

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("", SensorMark.Inside(Sensor)), new("", Sensor.Node)];
}

/// <summary>A pin with the clamps that it has of its own.</summary>
internal sealed record PinMark(Pin Pin) : Mark(Pin.Name)
{
    /// <inheritdoc/>
    public override string Word => "pin";

    /// <inheritdoc/>
    public override string ValueText => Pin.Converter is { } converter ? $"pin, {converter.Bits} bits" : Pin.Logic is { } logic ? "pin, " + logic.Type.Name : "pin";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("", Pin.Node),
        .. Pin.HasClamps ? new[] { new Terminal("ground", Circuit.Ground) } : [],
        .. Pin is { HasClamps: true, ClampRail: { } rail } ? new[] { new Terminal("supply", rail) } : [],
    ];
}
