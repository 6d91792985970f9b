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
        Assert.Equal("sensor probe", shift.Input);
    }

    [Fact]
    public void The_bias_current_through_the_feedback_resistor_is_named_as_what_lowers_a_general_purpose_stage()
    {
        var shift = Shift("bipolar-general");
        var feedback = shift.Stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "shift.Rf1");
        var first = shift.Causes[0];
        Assert.Equal("bias current of shift.U1", first.Name);
        // Handbook: the bias current flows through the feedback resistor (80 nA typical), and the second stage inverts (gain 1).
        Assert.Equal(-80e-9 * feedback.Ohms.Value, first.Volts, 2e-3 * 80e-9 * feedback.Ohms.Value);
        Assert.Contains("bias current of shift.U1", shift.Reason);
        Assert.Contains("below", shift.Reason);
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

    [Fact]
    public void A_guards_pull_down_divides_and_its_corner_is_that_of_its_resistors_and_capacitor()
    {
        var guard = FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(10e3)), ("pulldown.value", FrontEndOf.Ohm(90e3)),
            ("shunt.value", new Quantity(10e-9, Unit.Farad)));
        var front = FrontEndOf.Of(FrontEndOf.Shifter(), guard);
        var explained = ExplainStudy.Run(front, "guard").Stages.Single();
        Assert.Equal("node LEVEL", explained.Input);
        // 90/(10 + 90), and 1/(2π·9 kohm·10 nF); the pin and its clamps add 11 pF.
        Assert.All(explained.Lines, l => Assert.Equal(0.9 * l.InputVolts, l.SimulatedVolts, 1e-5));
        double corner = 1 / (2 * Math.PI * 9e3 * 10.011e-9);
        Assert.Equal(corner, explained.Steps.Single(s => s.Step.Unit == "Hz").Simulated!.Value, 1e-3 * corner);
    }

    [Fact]
    public void A_leaking_schottky_diode_is_named()
    {
        var explained = ExplainStudy.Run(FrontEndOf.Guarded(), "guard").Stages.Single();
        Assert.StartsWith("leakage of guard.D", explained.Causes[0].Name);
        Assert.Contains(explained.Causes[0].Name, explained.Reason);
    }

    [Fact]
    public void Clamps_that_add_capacitance_are_named_where_the_corner_is_lower_than_by_hand()
    {
        var explained = ExplainStudy.Run(FrontEndOf.Guarded(), "guard").Stages.Single();
        Assert.True(explained.Steps.Single(s => s.Step.Unit == "Hz").Difference < 0);
        Assert.Contains("below the one by hand: -", explained.Reason);
        Assert.Contains("from capacitance and leakage of guard.D", explained.Reason);
    }

    [Theory]
    [InlineData(-1.2, 1.8, new[] { -1.2, -1, -0.5, 0, 0.5, 1, 1.5, 1.8 })]
    [InlineData(0, 10, new[] { 0.0, 2, 4, 6, 8, 10 })]
    [InlineData(0.4, 2, new[] { 0.4, 0.6, 0.8, 1, 1.2, 1.4, 1.6, 1.8, 2 })]
    public void The_mapping_is_shown_at_values_that_a_person_would_choose(double low, double high, double[] expected)
    {
        var wire = new FrontEnd { Rails = [FrontEndOf.Supply], Sensors = [new Sensor("probe", "PIN", new Span(low, high), 100)], Pins = [FrontEndOf.Adc] };
        Assert.Equal(expected, ExplainStudy.Run(wire).Mappings.Single().Points.Select(p => Math.Round(p.SensorVolts, 9)));
    }
}
