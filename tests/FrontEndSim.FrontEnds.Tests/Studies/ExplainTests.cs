using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.FrontEnds.Tests.Studies;

public class ExplainTests
{
    private static StageExplanation Shift(string opamp, params Stage[] after)
    {
        var front = FrontEndOf.Of([FrontEndOf.Shifter(FrontEndOf.ShifterSettings(opamp)), .. after]);
        if (after.Length == 0)
            front = front with { Pins = [] };
        return ExplainStudy.Run(front).Stages[0];
    }

    [Fact]
    public void The_hand_math_with_finite_gain_and_bias_current_meets_the_simulation_to_ten_microvolts()
    {
        var shift = Shift("bipolar-general");
        // The closed form leaves input and output resistance out, which the loop gain of more than 10^4 divides.
        Assert.All(shift.Lines, l => Assert.Equal(l.ExpectedVolts!.Value, l.SimulatedVolts, 10e-6));
        Assert.Equal("probe", shift.Input);
    }

    [Fact]
    public void The_bias_current_through_the_feedback_resistor_is_named_as_what_lowers_a_general_purpose_stage()
    {
        var shift = Shift("bipolar-general");
        var feedback = shift.Stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "shift.Rf1");
        var first = shift.Causes[0];
        Assert.Equal(new RealThing(RealThingKind.BiasCurrent, "shift.U1"), first.Thing);
        // Handbook: the bias current flows through the feedback resistor (80 nA typical), and the second stage inverts (gain 1).
        Assert.Equal(-80e-9 * feedback.Ohms.Value, first.Volts, 2e-3 * 80e-9 * feedback.Ohms.Value);
        Assert.Equal(new RealThing(RealThingKind.BiasCurrent, "shift.U1"), shift.Causes[0].Thing);
        Assert.True(shift.Furthest!.DifferenceVolts < 0);
    }

    [Fact]
    public void The_causes_add_up_to_the_difference()
    {
        var shift = Shift("bipolar-general");
        double difference = shift.Lines.Select(l => l.DifferenceVolts).MaxBy(Math.Abs);
        Assert.Equal(difference, shift.Causes.Sum(c => c.Volts), 0.01 * Math.Abs(difference));
    }

    [Fact]
    public void Every_line_of_gain_shift_and_ends_has_its_simulated_value_beside_it()
    {
        var shift = Shift("precision-bipolar");
        foreach (string what in (string[])["gain reached", "shift reached", "output at the lower end", "output at the upper end"])
        {
            var step = shift.Steps.Single(s => s.Step.What == what);
            Assert.NotNull(step.Simulated);
            Assert.Equal(step.Step.Result, step.Simulated.Value, 1e-3);
        }
        // A resistance is chosen, not simulated.
        Assert.Null(shift.Steps.Single(s => s.Step.Unit == "ohm").Simulated);
    }

    /// <summary>A stage of a kind on a board of its own, by its steps.</summary>
    private static StageExplanation Explained(string kind, params (string Key, object Value)[] more)
    {
        Rail[] rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3), new("LOOP", 24)];
        Sensor[] sensors = [new("probe", "IN", new Span(-1.2, 1.8), 220), new("command", "COMMAND", new Span(1, 5), 0),
            new("high", "TALL", new Span(0, 15), 100)];
        var values = new Dictionary<string, object> { ["from.input"] = "IN", ["from.output"] = "OUT" };
        if (kind is "single-stage-shifter" or "difference-stage")
            (values["opamp.type"], values["opamp.positive"], values["opamp.negative"]) = ("bipolar-general", "VP", "VN");
        foreach (var (key, value) in more)
            values[key] = value;
        var stage = Asked.Of(kind, "s", values, rails, sensors).Build();
        return ExplainStudy.Run(new FrontEnd { Rails = [.. rails], Sensors = [.. sensors], Stages = [stage] }, "s").Stages.Single();
    }

    private static (string, object)[] Shifted(double low, double high) =>
        [("maps.sensor", "probe"), ("maps.span", new Span(low, high)), ("offset.rail", "VDD")];

    private static ExplainedStep Step(StageExplanation stage, string what) => stage.Steps.Single(s => s.Step.What == what);

    [Fact]
    public void The_gains_of_both_stages_and_of_the_reference_are_measured_one_by_one()
    {
        var shift = Shift("precision-bipolar");
        double Ohms(string name) => shift.Stage.Parts.OfType<ResistorPart>().Single(p => p.Name == name).Ohms.Value;
        // Handbook: an inverting amplifier's gain is −Rf/Ri; loop gains of more than 10^5 leave 1e-5 of it to other things.
        Assert.Equal(-Ohms("shift.Rf1") / (Ohms("shift.R1") + 220), Step(shift, "first stage, gain for the sensor").Simulated!.Value, 1e-4);
        Assert.Equal(-Ohms("shift.Rf1") / Ohms("shift.Rr"), Step(shift, "first stage, gain for the reference").Simulated!.Value, 1e-4);
        Assert.Equal(-Ohms("shift.Rf2") / Ohms("shift.R2"), Step(shift, "second stage, gain").Simulated!.Value, 1e-4);
    }

    [Fact]
    public void A_single_stage_has_its_noise_gain_and_plus_input_measured_and_the_bias_current_named()
    {
        var stage = Explained("single-stage-shifter", Shifted(0.05, 3.25));
        var noise = Step(stage, "noise gain");
        // Handbook: a finite gain A leaves K/(1 + K/A); the class's input resistance takes about as little again.
        double expected = noise.Step.Result / (1 + noise.Step.Result / 2e5);
        Assert.Equal(expected, noise.Simulated!.Value, 1e-5 * expected);
        Assert.Contains(noise.Causes, c => c.Thing.Kind == RealThingKind.GainAndInputResistance);
        var parallel = Step(stage, "parallel of the resistors at the plus input");
        Assert.Equal(parallel.Step.Result, parallel.Simulated!.Value, 1e-5 * parallel.Step.Result);
        Assert.Contains(Step(stage, "shift").Causes, c => c.Thing == new RealThing(RealThingKind.BiasCurrent, "s.U1"));
        Assert.Equal(0, Step(stage, "offset that the bias current makes of the difference").Difference!.Value, 1e-6);
    }

    [Fact]
    public void A_divided_reference_is_measured_with_the_input_resistor_lifted_and_sags_by_the_bias_current()
    {
        var stage = Explained("difference-stage", Shifted(0.05, 3.25));
        ExplainedStep divided = Step(stage, "divided reference"), source = Step(stage, "its source resistance");
        Assert.Equal(source.Step.Result, source.Simulated!.Value, 1e-5 * source.Step.Result);
        // Ohm's law: 80 nA through the divider's source resistance.
        Assert.Equal(-80e-9 * source.Step.Result, divided.Difference!.Value, 1e-2 * 80e-9 * source.Step.Result);
        Assert.Contains(divided.Causes, c => c.Thing == new RealThing(RealThingKind.BiasCurrent, "s.U1"));
        Assert.NotNull(Step(stage, "gain of the minus side").Simulated);
        Assert.NotNull(Step(stage, "gain of the plus side").Simulated);
    }

    [Fact]
    public void Resistors_alone_are_as_by_hand()
    {
        var stage = Explained("passive-shifter", Shifted(0.5, 2));
        foreach (string what in (string[])["output resistance", "gain", "shift", "output at the lower end", "output at the upper end"])
            Assert.Equal(0, Step(stage, what).Difference!.Value, 1e-6 * Math.Max(1, Step(stage, what).Step.Result));
        var divider = Explained("divider", ("from.input", "TALL"), ("maps.sensor", "high"), ("maps.span", new Span(0, 3)));
        foreach (string what in (string[])["ratio", "output resistance", "load on what drives it", "power of R1 at the far end"])
            Assert.Equal(0, Step(divider, what).Difference!.Value, 1e-6 * Math.Max(1, Step(divider, what).Step.Result));
    }

    [Fact]
    public void A_loops_burden_has_its_voltage_and_power_measured()
    {
        var stage = Explained("loop-receiver", ("from.input", "COMMAND"), ("terminal.node", "TERM"), ("supply.rail", "LOOP"),
            ("maps.sensor", "command"),
            ("maps.span", new Span(0.6, 3)), ("burden.value", new Quantity(150, Unit.Ohm)),
                ("series.value", new Quantity(4.7e3, Unit.Ohm)));
        // 20 mA through 150 ohm: 3 V and 60 mW.
        Assert.Equal(3, Step(stage, "voltage at the upper end").Simulated!.Value, 1e-3);
        Assert.Equal(0.06, Step(stage, "power of the burden there").Simulated!.Value, 1e-4);
    }

    [Fact]
    public void Clamps_are_measured_with_a_milliampere_and_their_leakage_by_what_it_makes_of_the_lower_end()
    {
        var stage = Explained("rail-clamp-guard", ("from.input", "TALL"), ("series.value", new Quantity(10e3, Unit.Ohm)),
            ("diodes.type", "1N5711"), ("diodes.rail", "VDD"));
        // The type's registered forward voltage at 1 mA is 0.41 V (from memory), which the model was fitted to.
        Assert.Equal(3.3 + 0.41, Step(stage, "pin while the upper diode takes 1 mA").Simulated!.Value, 5e-3);
        Assert.Equal(-0.41, Step(stage, "pin while the lower diode takes 1 mA").Simulated!.Value, 5e-3);
        // Ohm's law: some nanoamperes through 10.1 kohm; the lower diode, which conducts a little at 0 V, takes a part of it.
        var leak = Step(stage, "what the leakage of one diode makes at the other end of the span");
        Assert.InRange(leak.Simulated!.Value, 0.5 * leak.Step.Result, 1.1 * leak.Step.Result);
    }

    [Fact]
    public void A_guards_pull_down_divides_and_its_corner_is_that_of_its_resistors_and_capacitor()
    {
        var guard = FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(10e3)),
            ("pulldown.value", FrontEndOf.Ohm(90e3)),
            ("shunt.value", new Quantity(10e-9, Unit.Farad)));
        var front = FrontEndOf.Of(FrontEndOf.Shifter(), guard);
        var explained = ExplainStudy.Run(front, "guard").Stages.Single();
        Assert.Equal("LEVEL", explained.Input);
        // 90/(10 + 90), and 1/(2π·9 kohm·10 nF); the pin and its clamps add 11 pF.
        Assert.All(explained.Lines, l => Assert.Equal(0.9 * l.InputVolts, l.SimulatedVolts, 1e-5));
        double corner = 1 / (2 * Math.PI * 9e3 * 10.011e-9);
        Assert.Equal(corner, explained.Steps.Single(s => s.Step.Unit == "Hz").Simulated!.Value, 1e-3 * corner);
    }

    [Fact]
    public void A_guard_without_a_pull_down_speaks_of_none()
    {
        var guard = FrontEndOf.Guard(("from.input", "IN"), ("series.value", FrontEndOf.Ohm(10e3)),
            ("shunt.value", new Quantity(10e-9, Unit.Farad)));
        Assert.All(guard.HandMath, h => Assert.DoesNotContain("Rp", h.Formula, StringComparison.Ordinal));
    }

    [Fact]
    public void A_rail_that_a_clamp_lifts_is_named_and_not_the_diodes_whose_voltages_the_line_adds_up()
    {
        var stage = Asked.Of("rail-clamp-guard", "guard", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "PIN",
            ["series.value"] = FrontEndOf.Ohm(1e3),
            ["diodes.type"] = "1N5711",
            ["diodes.rail"] = "VDD",
        }, [FrontEndOf.Supply], [FrontEndOf.Probe]).Build();
        var front = FrontEndOf.Of(stage) with { Rails = [FrontEndOf.Supply with { SourceOnly = true }] };
        var pushed = ExplainStudy.Run(front).Stages.Single()
            .Steps.Single(s => s.Step.What.StartsWith("pin while the upper", StringComparison.Ordinal));
        // Nothing takes the milliampere but the breakdown of the pin's own clamp: the line is volts off, and the rail is why.
        Assert.True(pushed.Difference > 1);
        var cause = Assert.Single(pushed.Causes);
        Assert.Equal(new RealThing(RealThingKind.DeliveringRail, "VDD"), cause.Thing);
        Assert.Equal(pushed.Difference!.Value, cause.Effect, 0.02);
    }

    [Fact]
    public void A_filters_corner_is_moved_by_the_op_amps_bandwidth()
    {
        Rail supply = new("V5", 5);
        var probe = new Sensor("voice", "IN", new Span(2.2, 2.8), 0);
        var stage = Asked.Of("sallen-key", "calm", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "PIN",
            ["corner.value"] = new Quantity(10e3, Unit.Hertz),
            ["response.shape"] = "butterworth",
            ["opamp.type"] = "rail-to-rail-cmos",
            ["opamp.positive"] = "V5",
            ["opamp.negative"] = "GND",
        }, [supply], [probe]).Build();
        var front = new FrontEnd { Rails = [supply], Sensors = [probe], Stages = [stage] };
        var corner = ExplainStudy.Run(front).Stages.Single().Steps.Single(s => s.Step.What == "corner frequency");
        var cause = Assert.Single(corner.Causes);
        Assert.Equal(new RealThing(RealThingKind.Bandwidth, "calm.U1"), cause.Thing);
        Assert.Equal(corner.Difference!.Value, cause.Effect, 0.1 * Math.Abs(corner.Difference.Value));
    }

    [Fact]
    public void A_leaking_schottky_diode_is_named()
    {
        var explained = ExplainStudy.Run(FrontEndOf.Guarded(), "guard").Stages.Single();
        Assert.Equal(RealThingKind.Leakage, explained.Causes[0].Thing.Kind);
        Assert.StartsWith("guard.D", explained.Causes[0].Thing.Subject, StringComparison.Ordinal);
        Assert.True(Math.Abs(explained.Causes[0].Volts) > 0.02 * Math.Abs(explained.Furthest!.DifferenceVolts));
    }

    [Fact]
    public void Clamps_that_add_capacitance_are_named_where_the_corner_is_lower_than_by_hand()
    {
        var explained = ExplainStudy.Run(FrontEndOf.Guarded(), "guard").Stages.Single();
        Assert.True(explained.Steps.Single(s => s.Step.Unit == "Hz").Difference < 0);
        Assert.True(explained.Corner!.Hertz < 0 && explained.Corner.Causes[0].Effect < 0);
        Assert.Contains(explained.Corner.Causes, c => c.Thing.Kind == RealThingKind.Leakage
            && c.Thing.Subject.StartsWith("guard.D", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(-1.2, 1.8, new[] { -1.2, -1, -0.5, 0, 0.5, 1, 1.5, 1.8 })]
    [InlineData(0, 10, new[] { 0.0, 2, 4, 6, 8, 10 })]
    [InlineData(0.4, 2, new[] { 0.4, 0.6, 0.8, 1, 1.2, 1.4, 1.6, 1.8, 2 })]
    public void The_mapping_is_shown_at_values_that_a_person_would_choose(double low, double high, double[] expected)
    {
        var wire = new FrontEnd
        {
            Rails = [FrontEndOf.Supply],
            Sensors = [new Sensor("probe", "PIN", new Span(low, high), 100)],
            Pins = [FrontEndOf.Adc]
        };
        Assert.Equal(expected, ExplainStudy.Run(wire).Mappings.Single().Points.Select(p => Math.Round(p.SensorValue, 9)));
    }
}
