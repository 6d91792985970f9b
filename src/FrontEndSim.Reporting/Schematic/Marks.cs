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
    public override string Symbol => Sensor.Wiring is Track or Bridge ? "sensor network"
        : Sensor.Output == Unit.Ohm ? "resistor" : Sensor.Output == Unit.Farad ? "capacitor"
            : Sensor.Output == Unit.Amps ? "sensor current" : "source";

    /// <inheritdoc/>
    public override string ValueText =>
        $"{SiText.Format(Sensor.Span.Low, Sensor.UnitText)} .. {SiText.Format(Sensor.Span.High, Sensor.UnitText)}";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
        [new("+", IsInside ? Inside(Sensor) : Sensor.Node), new("-", Sensor.Other), .. (Sensor.Wiring?.Nodes ?? [])
        .Where(n => n != Sensor.Other).Select(n => new Terminal(n, n))];

    private bool IsInside => Sensor.SourceOhms > 0 && Sensor.Output != Unit.Amps;

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
    public override ImmutableArray<Terminal> Terminals => Sensor.Output == Unit.Amps ? [new("", Sensor.Node), new("", Sensor.Other)]
        : [new("", SensorMark.Inside(Sensor)), new("", Sensor.Node)];
}

/// <summary>A pin with the clamps that it has of its own.</summary>
internal sealed record PinMark(Pin Pin) : Mark(Pin.Name)
{
    /// <inheritdoc/>
    public override string Word => "pin";

    /// <inheritdoc/>
    public override string ValueText => Pin.Converter is { } converter ? $"pin, {converter.Bits} bits"
        : Pin.Logic is { } logic ? "pin, " + logic.Type.Name : "pin";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("", Pin.Node),
        .. Pin.HasClamps ? new[] { new Terminal("ground", Circuit.Ground) } : [],
        .. Pin is { HasClamps: true, ClampRail: { } rail } ? new[] { new Terminal("supply", rail) } : [],
    ];
}
