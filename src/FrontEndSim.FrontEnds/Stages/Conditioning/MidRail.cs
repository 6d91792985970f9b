using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>A node in the middle of a supply, which an alternating signal swings about: two resistors, a capacitor, and a follower if its
/// source is to be stiff.</summary>
internal sealed class MidRail : StageKind
{
    private const double UsualOhms = 10e3;

    public override string Name => "mid-rail";

    public override string Summary =>
        "Makes a node in the middle of a supply, for alternating signals to swing about; the other end of a transformer or a generator is "
        + "joined to it.";

    private static Setting<(Rail Rail, string Output)> From { get; } =
        Setting.Of("from", true, "The supply, and the node that is made.", new RailBlank("rail"), "to", new NodeBlank("output"));

    private static Setting<double> Share { get; } =
        Setting.Of("share", false, "The node's voltage over the supply's; a half if left out.", new PercentBlank("value"));

    private static AmountSetting Impedance { get; } =
        Amount("impedance", "About what the two resistors shall be; 10 kohm if left out.", Unit.Ohm);

    private static PartSetting Reservoir { get; } = new("reservoir", true,
        "Capacitor from the divider to ground, which keeps the supply's ripple and the signal's current from it.", Unit.Farad);

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        From, Share, Impedance, Reservoir,
        OpAmpOnRails("Class and supply rails of a follower, for a node that has to carry a current.", isRequired: false),
        PreferredResistors,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (rail, output) = request.Get(From);
        double supply = rail.Volts.Value, share = request.Get(Share, 0.5);
        if (supply == 0 || output == rail.Name)
            throw new StageProblemException("from", new(ProblemKind.NoMiddle, rail.Name, output, new(supply, Unit.Volts)));
        if (share is not (> 0.01 and < 0.99))
            throw new StageProblemException("share", new(ProblemKind.ShareOfSupply, Found: Quantity.Share(share)));
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        double ohms = request.Positive(Impedance, UsualOhms);
        var pair = (from above in series.Between(ohms * 2 * (1 - share) / 3, ohms * 2 * (1 - share) * 3)
                    from below in series.Neighbours(above * share / (1 - share)).Distinct()
                    orderby Math.Max(1e-4, Math.Abs(below / (above + below) - share)), Math.Abs(Math.Log((above + below) / (2 * ohms)))
                    select (Upper: above, Lower: below)).First();
        var farads = request.Toleranced(Reservoir, UsualSpread.Reservoir.Amount);
        bool isHeld = request.TryGet(OpAmp, out var amp);
        string middle = isHeld ? name + ".DIV" : output;
        double volts = supply * pair.Lower / (pair.Upper + pair.Lower), source = pair.Upper * pair.Lower / (pair.Upper + pair.Lower);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".Ra", rail.Name, middle, new(pair.Upper, tolerance)) { Role = Role.ReferenceResistor });
        parts.Add(new ResistorPart(name + ".Rb", middle, Circuit.Ground, new(pair.Lower, tolerance)));
        parts.Add(new CapacitorPart(name + ".C", middle, Circuit.Ground, farads));
        if (isHeld)
            parts.Add(amp.Checked().Part(name + ".U1", middle, output, output));
        string a = ShiftHandMath.Ohms(pair.Upper), b = ShiftHandMath.Ohms(pair.Lower), c = SiText.Format(farads.Value, "F");
        return new Stage(name, Name, [new("to", output)], parts.ToImmutable())
        {
            HandMath =
            [
                new("voltage of the node", $"Vm = {rail.Name}·Rb/(Ra + Rb)", $"{ShiftHandMath.V(supply)}·{b}/({a} + {b})", volts, "V")
                { Measure = new VoltageMeasure(output), Allowed = Math.Max(2 * tolerance, 0.01) * Math.Abs(supply) / 2 },
                new("resistance of the divider", "Rm = Ra ∥ Rb", $"{a} ∥ {b}", source, "ohm") { Measure = new ResistanceMeasure(middle) },
                new("above this the capacitor holds the node", "fm = 1/(2π·Rm·C)",
                    $"1/(2π·{ShiftHandMath.Ohms(source)}·{c})", 1 / (2 * Math.PI * source * farads.Value), "Hz"),
                new("time until the node stands after the supply is on", "t = 5·Rm·C",
                    $"5·{ShiftHandMath.Ohms(source)}·{c}", 5 * source * farads.Value, "s"),
            ],
        };
    }
}
