using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A series resistor with clamps and a capacitor behind it.</summary>
public sealed class PinGuard : StageKind
{
    /// <inheritdoc/>
    public override string Name => "pin-guard";

    /// <inheritdoc/>
    public override string Summary =>
        "Keeps faults from a pin: a series resistor limits the current, then a zener and Schottky diodes clamp, a capacitor takes fast "
            + "edges.";

    /// <inheritdoc/>
    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Setting.Of("from", true, "Input node and the node of the pin.", Node("input"), new Keyword("to"), Node("output")),
        Setting.Of("series", true, "Series resistor.", Value("value", Unit.Ohm), Tolerance),
        .. GuardParts.SeriesRatings,
        Setting.Of("shunt", false, "Capacitor from the pin to ground.", Value("value", Unit.Farad), Tolerance),
        Setting.Of("zener", false, "Zener from ground (anode) to the pin (cathode): bounds the pin above, and one diode drop below ground.",
            new Slot("type", SlotKind.PartName)),
        Setting.Of("schottky", false, "Schottky diode from ground (anode) to the pin (cathode): bounds the pin below ground.",
            new Slot("type", SlotKind.PartName)),
        Setting.Of("schottky-high", false, "Schottky diode from the pin (anode) to a rail (cathode): bounds the pin above the rail.",
            new Slot("type", SlotKind.PartName), new Keyword("to"), new Slot("rail", SlotKind.Rail)),
        Setting.Of("pulldown", false, "Resistor from the pin to ground, which holds the pin when nothing is connected.",
            Value("value", Unit.Ohm), Tolerance),
        GuardParts.Bleeder,
    ];

    /// <inheritdoc/>
    protected override Stage Assemble(StageRequest request)
    {
        var guard = new GuardParts(request);
        if (request.Has("zener"))
            guard.AddBelow(".Dz", request.Diode("zener.type", DiodeKind.Zener));
        if (request.Has("schottky"))
            guard.AddBelow(".Dl", request.Diode("schottky.type", DiodeKind.Schottky, DiodeKind.Junction));
        if (request.Has("schottky-high"))
            guard.AddAbove(".Dh", request.Rail("schottky-high.rail"),
                request.Diode("schottky-high.type", DiodeKind.Schottky, DiodeKind.Junction));
        return guard.ToStage(this);
    }
}
