using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Levels;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Levels, delay and edges of a logic pin behind a divider with a capacitor, against hand math.</summary>
public class LogicStudyTests
{
    private const double Series = 47e3, Down = 12e3, Farads = 22e-9, High = 24;
    private const double Share = Down / (Series + Down), Seen = Series * Down / (Series + Down), TimeConstant = Seen * Farads;

    /// <summary>A switch of 0 V or 24 V, a divider with a capacitor, and an ideal pin of a family on 5 V.</summary>
    private static FrontEnd Divided(string family, double? edge = null, Ripple? ripple = null, double tolerance = 0,
        double railTolerance = 0) => new()
        {
            Title = "Divided",
            Rails = [new Rail("VCC", new Toleranced(5, railTolerance))],
            Sensors = [new Sensor("switch", "IN", new Span(0, High), 0) { EdgeSeconds = edge, Ripple = ripple }],
            Parts =
        [
            new ResistorPart("R1", "IN", "PIN", new(Series, tolerance)), new ResistorPart("R2", "PIN", "GND", new(Down, tolerance)),
            new CapacitorPart("C1", "PIN", "GND", Farads) { LeakageOhms = 1e15 },
        ],
            Pins = [PinType.Find(family)!.ToPin("input", "PIN", "VCC") with { LeakageAmps = 0, Farads = 0, HasClamps = false }],
        };

    [Fact]
    public void Noise_margins_are_the_distances_from_the_familys_levels()
    {
        var found = LogicStudy.Run(Divided("cmos-hc"), "input");
        // JESD7A, from memory: low below 30 %, high above 70 % of the supply.
        Assert.Equal(1.5, found.Low.MarginVolts, 9);
        Assert.Equal(High * Share - 3.5, found.High.MarginVolts, 9);
    }

    [Fact]
    public void At_worst_the_divider_is_low_and_the_supply_that_sets_the_levels_is_high()
    {
        var found = LogicStudy.Run(Divided("cmos-hc", tolerance: 0.05, railTolerance: 0.1), "input");
        double worst = High * (0.95 * Down) / (0.95 * Down + 1.05 * Series) - 0.7 * 5.5;
        Assert.Equal(worst, found.High.WorstMarginVolts, 1e-6);
        Assert.Equal(0.3 * 4.5, found.Low.WorstMarginVolts, 1e-6);
        Assert.True(found.High.IsExact);
    }

    [Fact]
    public void A_gates_input_without_a_pin_is_judged_as_a_pin_that_leaks()
    {
        var frontEnd = Divided("cmos-hc", tolerance: 0.05, railTolerance: 0.1);
        var type = frontEnd.Pins[0].Logic!.Type;
        var result = CheckStudy.Run(frontEnd with { Pins = [], Parts = [.. frontEnd.Parts, new GatePart("U1", "PIN", "OUT", "VCC", type, false)] });
        // 1 µA either way (JESD7A, from memory) through both resistors side by side, which are largest where the lower one is: the worst of the
        // corners by hand.
        double worst = (from up in new[] { 0.95, 1.05 }
                        from down in new[] { 0.95, 1.05 }
                        let a = Series * up
                        let b = Down * down
                        select (High / a - 1e-6) / (1 / a + 1 / b) - 0.7 * 5.5).Min();
        var judged = Assert.Single(result.Implied, r => r.Requirement is NoiseMargin);
        Assert.Equal("U1.input", ((NoiseMargin)judged.Requirement).Pin);
        Assert.Equal(worst, judged.Found!.Value.Value, 2e-3);
    }

    [Theory]
    [InlineData(10e3, 10e3, false)]
    [InlineData(1e3, 100e3, true)]
    public void An_input_that_nothing_moves_stands_at_a_guaranteed_level_or_is_not_met(double up, double down, bool isMet)
    {
        var type = PinType.Find("cmos-hc")!;
        var result = CheckStudy.Run(new FrontEnd
        {
            Title = "Spare",
            Rails = [new Rail("VCC", new Toleranced(5, 0.05))],
            Parts =
            [
                new ResistorPart("R1", "VCC", "A", new(up, 0.01)), new ResistorPart("R2", "A", "GND", new(down, 0.01)),
                new GatePart("U1", "A", "OUT", "VCC", type, false),
            ],
        });
        var judged = Assert.Single(result.Implied, r => r.Requirement is LevelHeld);
        Assert.Equal(isMet ? Verdict.Met : Verdict.NotMet, judged.Verdict);
        // The share of the supply and the levels move with it: the margin is least at the lower supply above, the leakage at its worst.
        double Margin(double a, double b, double volts, double amps) => (volts / a + amps) / (1 / a + 1 / b) is var v
            ? Math.Max(0.3 * volts - v, v - 0.7 * volts) : 0;
        double worst = (from a in new[] { 0.99 * up, 1.01 * up }
                        from b in new[] { 0.99 * down, 1.01 * down }
                        from v in new[] { 4.75, 5.25 }
                        from i in new[] { -1e-6, 1e-6 }
                        select Margin(a, b, v, i)).Min();
        Assert.InRange(judged.Found!.Value.Value, worst - (isMet ? 2e-3 : 0.06), worst + 2e-3);
    }

    [Fact]
    public void What_is_measured_creeps_where_no_edge_is_written()
    {
        var plain = Divided("cmos-hc");
        Assert.Null(plain.Sensors[0].SlowestSeconds);
        var creeping = plain with { Sensors = [plain.Sensors[0] with { Quantity = "pressure" }] };
        var slow = Assert.Single(LogicStudy.Run(creeping, "input").Edges, e => e is { IsSudden: false, Rises: true });
        // From 1.5 V to 3.5 V of the 4.88 V that the pin moves in a second.
        Assert.Equal(1.0, slow.TakenSeconds);
        Assert.Equal(2 / (High * Share), slow.PassageSeconds, 1e-4);
        Assert.False(slow.IsClean);
    }

    [Fact]
    public void The_delay_is_that_of_an_RC_charging_to_the_level()
    {
        var found = LogicStudy.Run(Divided("cmos-hc-hysteresis"), "input");
        double rise = TimeConstant * Math.Log(High * Share / (High * Share - 3.5)), fall = TimeConstant * Math.Log(High * Share / 1.0);
        var up = found.Edges.Single(e => e is { IsSudden: true, Rises: true });
        var down = found.Edges.Single(e => e is { IsSudden: true, Rises: false });
        Assert.Equal(rise, up.PinDelaySeconds, 1e-3 * rise);
        Assert.Equal(fall, down.PinDelaySeconds, 1e-3 * fall);
        Assert.Equal(Math.Max(rise, fall), found.DelaySeconds, 1e-3 * fall);
        // The typical gate changes at 53 % and 31 % of its supply.
        Assert.Equal(TimeConstant * Math.Log(High * Share / (High * Share - 2.65)), up.GateDelaySeconds, 2e-3 * rise);
        Assert.Equal(TimeConstant * Math.Log(High * Share / 1.55), down.GateDelaySeconds, 2e-3 * fall);
    }

    [Fact]
    public void Without_hysteresis_an_edge_slower_than_specified_is_not_clean_though_it_is_one_change()
    {
        var found = LogicStudy.Run(Divided("cmos-hc"), "input");
        Assert.All(found.Edges, e => Assert.Equal(1, e.Changes));
        // JESD7A, from memory: 500 ns at 4.5 V; here the pin takes a fraction of its time constant of 210 us.
        Assert.All(found.Edges, e => Assert.Equal(500e-9 / 4.5 * 2, e.SlowestPassageSeconds!.Value, 1e-12));
        Assert.False(found.IsClean);
    }

    [Fact]
    public void The_ripple_that_is_covered_is_the_least_hysteresis_over_the_gain_at_its_frequency()
    {
        var ripple = new Ripple(1, 2e3);
        var found = LogicStudy.Run(Divided("cmos-hc-hysteresis", 10e-3, ripple), "input");
        double turn = 2 * Math.PI * ripple.Hertz * TimeConstant, gain = Share / Math.Sqrt(1 + turn * turn);
        Assert.Equal(0.09 * 5 / gain, found.RippleLimitVolts!.Value, 1e-6);
    }

    [Theory]
    [InlineData(0.9, true)]
    [InlineData(1.3, false)]
    public void A_slow_change_with_ripple_within_what_is_covered_is_clean_and_beyond_it_chatters(double factor, bool clean)
    {
        const double hertz = 2e3, edge = 50e-3;
        double limit = LogicStudy.Run(Divided("cmos-hc-hysteresis", edge, new Ripple(1e-3, hertz)), "input").RippleLimitVolts!.Value;
        var found = LogicStudy.Run(Divided("cmos-hc-hysteresis", edge, new Ripple(factor * limit, hertz)), "input");
        Assert.All(found.Edges.Where(e => !e.IsSudden), e => Assert.Equal(clean, e.Changes == 1));
        Assert.All(found.Edges, e => Assert.Equal(1, e.Changes % 2)); // it ends where it should
    }

    [Fact]
    public void Requirements_on_a_logic_pin_are_judged_with_reason_and_remedy()
    {
        var plain = Divided("cmos-hc") with
        {
            Requirements =
            [
                new NoiseMargin("input", 1.2, "noise margin"), new NoiseMargin("input", 1.6, "noise margin"),
                new EdgeDelay("input", 1e-3, "delay"), new EdgeDelay("input", 1e-4, "delay"), new CleanEdges("input", "edges"),
            ],
        };
        var check = CheckStudy.Run(plain);
        Assert.Equal([true, false, true, false, false], check.Requirements.Select(r => r.Met));
        Assert.All(check.Requirements, r => Assert.Equal(r.Met, r.Candidates.IsEmpty));
        Assert.Equal("cmos-hc-hysteresis", check.Requirements[^1].Candidates[0].Other);
        Assert.Single(check.Logic);
    }

    [Fact]
    public void A_pin_without_logic_levels_and_an_edge_with_too_much_ripple_are_refused()
    {
        var converter = Divided("cmos-hc") with { Pins = [new Pin("input", "PIN")] };
        Assert.Equal(ProblemKind.NoLogicLevels, Assert.Throws<StudyProblemException>(() => LogicStudy.Run(converter, "input"))
            .Problem.Kind);
        var busy = Divided("cmos-hc", 1, new Ripple(1, 1e6));
        Assert.Equal(ProblemKind.RippleTooFast, Assert.Throws<StudyProblemException>(() => LogicStudy.Run(busy, "input")).Problem.Kind);
    }

    [Theory]
    [InlineData("cmos-hc-hysteresis", 5.0)]
    [InlineData("cmos-4000-hysteresis", 12.0)]
    [InlineData("lvttl-hysteresis", 3.3)]
    public void Every_gate_of_a_family_changes_between_the_familys_certain_levels(string family, double supply)
    {
        var type = PinType.Find(family)!;
        Assert.All(new[] { type.Gate!, type.GateAtWorst! }, g =>
        {
            Assert.InRange(g.Falling(supply), type.LowBelow(supply)!.Value, g.Rising(supply));
            Assert.InRange(g.Rising(supply), g.Falling(supply), type.HighAbove(supply)!.Value);
        });
        Assert.True(type.HasHysteresis);
    }
}
