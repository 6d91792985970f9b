using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A series resistor, a diode each to the supply and to ground, and a capacitor: the pin stays between the rails.</summary>
internal sealed class RailClampGuard : StageKind
{
    // What a clamp carries where it is said to begin: a current that is no leakage any more, and heats nothing (common practice, no
    // source).
    private const double ClampAmps = 1e-3;

    public override string Name => "rail-clamp-guard";

    public override string Summary =>
        "Keeps a pin between ground and its supply: a series resistor limits the current, a diode to each of them takes it, a capacitor "
        + "takes fast edges.";

    private static Setting<(DiodeType Type, Rail Rail)> Diodes { get; } = Setting.Of("diodes", true,
        "Type of both diodes, and the supply that the upper one leads to: one that can sink, or is loaded by more than a fault brings.",
        DiodeBlank(DiodeKind.Schottky, DiodeKind.Junction), "to", new RailBlank("rail"));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        GuardParts.Ends, GuardParts.Series, GuardParts.Rated, GuardParts.Pulse, Diodes, GuardParts.Shunt, GuardParts.PullDown,
        GuardParts.Bleeder,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        var (type, rail) = request.Get(Diodes);
        double supply = rail.Volts.Value;
        if (!(supply > 0))
            throw new StageProblemException("diodes", new(ProblemKind.RailNotPositive, rail.Name, "upper diode", new(supply, Unit.Volts)));
        string name = request.Name, pin = request.Get(GuardParts.Ends).Output;
        var guard = new GuardParts(request);
        guard.AddAbove(".Dh", rail, type);
        guard.AddBelow(".Dl", type);
        double drop = DiodeCurve.ForwardVolts(type.Model, ClampAmps), leak = DiodeCurve.LeakageAmps(type.Model, supply);
        string d = SiText.Format(drop, "V"), v = SiText.Format(supply, "V");
        guard.Add(
            new("pin while the upper diode takes 1 mA", "V = Vs + Vd", $"V = {v} + {d}", supply + drop, "V")
            { Measure = new PushedMeasure(pin, ClampAmps, name + ".R") },
            new("pin while the lower diode takes 1 mA", "V = −Vd", $"V = −{d}", -drop, "V")
            { Measure = new PushedMeasure(pin, -ClampAmps, name + ".R") },
            new("what the leakage of one diode makes at the other end of the span", $"Ve = Il · {guard.Seen}",
                $"Ve = {SiText.Format(leak, "A")} · {SiText.Format(guard.SeenOhms, "ohm")}", leak * guard.SeenOhms, "V")
            { Measure = new PartMeasure(name + ".Dh") });
        return guard.ToStage(this);
    }
}
