using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A series resistor with clamps and a capacitor behind it.</summary>
internal sealed class PinGuard : StageKind
{
    public override string Name => "pin-guard";

    public override string Summary =>
        "Keeps faults from a pin: a series resistor limits the current, then a zener and Schottky diodes clamp, a capacitor takes fast "
        + "edges.";

    private static Setting<DiodeType> Zener { get; } = Diode("zener",
        "Zener from ground (anode) to the pin (cathode): bounds the pin above, and one diode drop below ground.", DiodeKind.Zener);

    /// <summary>A clamp to ground.</summary>
    internal static Setting<DiodeType> Low { get; } = Diode("schottky",
        "Schottky diode from ground (anode) to the pin (cathode): bounds the pin below ground.", DiodeKind.Schottky);

    /// <summary>A clamp to a rail.</summary>
    internal static Setting<(DiodeType Type, Rail Rail)> High { get; } = Setting.Of("schottky-high", false,
        "Schottky diode from the pin (anode) to a rail (cathode): bounds the pin above the rail.",
        DiodeBlank(DiodeKind.Schottky), "to", new RailBlank("rail"));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        GuardParts.Ends, GuardParts.Series, GuardParts.Rated, GuardParts.Pulse, GuardParts.Shunt, Zener, Low, High, GuardParts.PullDown,
        GuardParts.Bleeder,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        var guard = new GuardParts(request);
        if (request.TryGet(Zener, out var zener))
            guard.AddBelow(".Dz", zener);
        if (request.TryGet(Low, out var low))
            guard.AddBelow(".Dl", low);
        if (request.TryGet(High, out var high))
            guard.AddAbove(".Dh", high.Rail, high.Type);
        return guard.ToStage(this);
    }
}
