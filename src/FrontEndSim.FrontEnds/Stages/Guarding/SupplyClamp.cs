using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A zener from a supply to ground, which takes what clamps push into a supply that only delivers, and a resistor that takes the
/// rest.</summary>
internal sealed class SupplyClamp : StageKind
{
    public override string Name => "supply-clamp";

    public override string Summary =>
        "Holds a supply that only delivers where clamps push current into it: a zener to ground, a resistor and a capacitor beside it.";

    private static Setting<Rail> On { get; } = Setting.Of("on", true, "The supply.", new RailBlank("rail"));

    private static Setting<DiodeType> Zener { get; } = Diode("zener", "Zener from the supply to ground.", DiodeKind.Zener);

    private static AmountSetting Takes { get; } =
        RequiredAmount("takes", "The largest current that a fault pushes into the supply.", Unit.Amps, "amps");

    private static PartSetting Load { get; } =
        Resistor("load", "Resistor from the supply to ground, which takes what it can at the supply's own voltage.");

    private static PartSetting Reservoir { get; } = Capacitor("reservoir", "Capacitor beside it.");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [On, Zener, Takes, Load, Reservoir];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, ground = Circuit.Ground;
        var rail = request.Get(On);
        double supply = rail.Volts.Value, takes = request.Get(Takes);
        if (!(supply > 0))
            throw new StageProblemException("on", new(ProblemKind.RailNotPositive, rail.Name, "clamp", new(supply, Unit.Volts)));
        if (!(takes > 0))
            throw new StageProblemException("takes", new(ProblemKind.NotAbove, Found: new(takes, Unit.Amps), Low: new(0, Unit.Amps)));
        if (!request.Has(Zener) && !request.Has(Load))
            throw new StageProblemException(null, new(ProblemKind.NothingTakesCurrent, name));
        var parts = ImmutableArray.CreateBuilder<Part>();
        var math = ImmutableArray.CreateBuilder<HandStep>();
        double rest = takes, highest = supply;
        if (request.Given(Load, UsualSpread.Resistor.Amount) is { } load)
        {
            parts.Add(new ResistorPart(name + ".R", rail.Name, ground, load));
            double flows = supply / load.Value;
            math.Add(new("current that the load takes at the supply's own voltage", $"I = {rail.Name}/R",
                $"{ShiftHandMath.V(supply)}/{ShiftHandMath.Ohms(load.Value)}", flows, "A"));
            rest = Math.Max(0, takes - flows);
            highest = Math.Max(supply, takes * load.Value);
        }
        if (request.TryGet(Zener, out var zener))
        {
            double leak = DiodeCurve.LeakageAmps(zener.Model, supply);
            parts.Add(new DiodePart(name + ".Dz", ground, rail.Name, zener) { Role = Role.Zener });
            math.Add(new("current left for the zener", "Iz = Ifault − I",
                $"{SiText.Format(takes, "A")} − {SiText.Format(takes - rest, "A", 3)}", rest, "A"));
            math.Add(new("what the zener draws at the supply's own voltage", "Iz0 from its curve",
                $"{zener.Name} at {ShiftHandMath.V(supply)}", leak, "A"));
        }
        else
            math.Add(new("voltage that the fault's current makes in the load, at least the supply's",
                "V = max(Vs, Ifault·R)", $"max({ShiftHandMath.V(supply)}, {SiText.Format(highest, "V")})", highest, "V"));
        if (request.Given(Reservoir, UsualSpread.Reservoir.Amount) is { } farads)
        {
            parts.Add(new CapacitorPart(name + ".C", rail.Name, ground, farads));
            math.Add(new("rise in a microsecond of that current", "dV = I·1 µs/C",
                $"{SiText.Format(takes, "A")}·1 µs/{SiText.Format(farads.Value, "F")}", takes * 1e-6 / farads.Value, "V"));
        }
        return new Stage(name, Name, [new("on", rail.Name)], parts.ToImmutable()) { HandMath = math.ToImmutable() };
    }
}
