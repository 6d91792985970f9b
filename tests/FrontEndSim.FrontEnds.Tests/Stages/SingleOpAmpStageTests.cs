using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>The stages with one op amp or none: their hand math against the engine, and the values that they choose.</summary>
public class SingleOpAmpStageTests
{
    private static readonly ImmutableArray<Rail> Rails =
        [new("VP", 9), new("VN", -9), new("VDD", 3.3), new("VREF", 2.5)];

    private static Stage Build(string kind, Span sensor, Span pin, string? reference, double sourceOhms = 0, string series = "E96",
        OpAmpType? opAmp = null, params (string Key, object Value)[] more)
    {
        var values = new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "OUT",
            ["maps.sensor"] = "probe",
            ["maps.span"] = pin,
            ["resistors.series"] = series,
            ["opamp.type"] = (opAmp ?? IdealOpAmp.Type).Name,
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        };
        if (reference is not null)
            values["offset.rail"] = reference;
        foreach (var (key, value) in more)
            values[key] = value;
        return Asked.Of(kind, "shift", values, Rails, [new("probe", "IN", sensor, sourceOhms)],
            PartCatalogue.Standard with { OpAmps = [IdealOpAmp.Type, .. PartCatalogue.Standard.OpAmps] }).Build();
    }

    private static double[] EngineOutputs(Stage stage, Span sensor, double sourceOhms, double[] inputs)
    {
        var frontEnd = new FrontEnd { Rails = Rails, Sensors = [new("probe", "IN", sensor, sourceOhms)], Stages = [stage] };
        return frontEnd.ToCircuit().Compile().Sweep("probe", inputs).Voltage("OUT");
    }

    public static TheoryData<string, double, double, double, double, string?, double> Targets => new()
    {
        // kind, sensor low, sensor high, pin low, pin high, reference, source
        { "single-stage-shifter", -1.2, 1.8, 0, 3.3, "VDD", 220 },     // adds, gain 1.1
        { "single-stage-shifter", -5, 5, 0.2, 3.1, "VREF", 0 },        // adds, loses voltage: a follower behind a network
        { "single-stage-shifter", 0.5, 1.0, 0, 3, "VREF", 1000 },      // subtracts, gain above that of the reference
        { "single-stage-shifter", 1, 5, 0, 3.3, "VREF", 50 },          // subtracts, divided at the plus input
        { "single-stage-shifter", 0, 0.1, 0, 3.3, null, 10 },          // gain alone
        { "single-stage-shifter", 0, 10, 0, 2.5, null, 600 },          // division alone
        { "single-stage-shifter", 0, 3.3, 0, 3.3, null, 0 },           // a buffer
        { "single-stage-shifter", 0, 3.3, 0, 3.305, null, 0 },         // a gain hardly above one
        { "difference-stage", -1.2, 1.8, 0, 3.3, "VDD", 220 },
        { "difference-stage", 0.5, 1.0, 0, 3, "VREF", 1000 },
        { "difference-stage", -1, 1, 0, 5, "VREF", 100 },              // the whole reference, no divider
        { "difference-stage", 0, 0.1, 0, 3.3, null, 10 },
        { "difference-stage", -5, 5, 0.2, 3.1, "VREF", 0 },
        { "passive-shifter", -5, 5, 0.2, 2.4, "VDD", 470 },
        { "passive-shifter", 0, 10, 0, 2.5, null, 100 },
        { "passive-shifter", -3.3, 3.3, 0, 3.3, "VDD", 0 },            // no resistor to ground
    };

    [Theory]
    [MemberData(nameof(Targets))]
    public void The_closed_form_of_a_stage_agrees_with_the_engine_to_a_billionth_with_ideal_parts(
        string kind, double low, double high, double pinLow, double pinHigh, string? reference, double source)
    {
        var sensor = new Span(low, high);
        var stage = Build(kind, sensor, new(pinLow, pinHigh), reference, source);
        double[] inputs = [low, sensor.Middle, high];
        double[] outputs = EngineOutputs(stage, sensor, source, inputs);
        for (int k = 0; k < inputs.Length; k++)
            Assert.Equal(stage.Ideal!.Output(inputs[k]), outputs[k], 1e-9);
    }

    public static TheoryData<string, string, double, double, string> References => new()
    {
        // kind, what gives the reference, sensor low, sensor high, rail
        { "single-stage-shifter", "potentiometer", -1.2, 1.8, "VDD" },
        { "single-stage-shifter", "potentiometer", 1, 2, "VREF" }, // subtracts
        { "single-stage-shifter", "buffered", -1.2, 1.8, "VDD" },
        { "difference-stage", "potentiometer", -1.2, 1.8, "VDD" },
        { "difference-stage", "buffered", -1.2, 1.8, "VP" },
        { "difference-stage", "buffered", 1, 3, "VREF" }, // subtracts
        { "two-stage-shifter", "potentiometer", -1.2, 1.8, "VP" },
        { "two-stage-shifter", "buffered", -1.2, 1.8, "VDD" },
        { "passive-shifter", "potentiometer", -5, 5, "VP" },
    };

    [Theory]
    [MemberData(nameof(References))]
    public void A_reference_from_a_potentiometer_or_a_buffered_divider_is_in_the_closed_form_with_its_loading(
        string kind, string from, double low, double high, string rail)
    {
        var sensor = new Span(low, high);
        var onto = kind == "passive-shifter" ? new Span(0.5, 2.5) : new Span(0.1, 3.2);
        var stage = Build(kind, sensor, onto, rail, 220, more: from == "buffered" ? ("buffered", true)
            : ("potentiometer.value", new Quantity(10e3, Unit.Ohm)));
        double[] inputs = [low, sensor.Middle, high];
        double[] outputs = EngineOutputs(stage, sensor, 220, inputs);
        for (int k = 0; k < inputs.Length; k++)
            Assert.Equal(stage.Ideal!.Output(inputs[k]), outputs[k], 1e-9);
        if (from != "potentiometer")
            return;
        // The potentiometer is turned until the middle of the span is right; its source resistance is P·α·(1 − α) and the wiper's.
        Assert.Equal(onto.Middle, outputs[1], 1e-9);
        var pot = Assert.Single(stage.Parts.OfType<PotentiometerPart>());
        Assert.InRange(pot.Position, 0.01, 0.99);
        Assert.Equal(100, pot.WiperOhms);
    }

    [Fact]
    public void A_real_buffer_moves_the_reference_by_its_offset_and_the_expectation_says_by_how_much()
    {
        foreach (string kind in new[] { "single-stage-shifter", "difference-stage", "two-stage-shifter" })
        {
            var sensor = new Span(-1.2, 1.8);
            var stage = Build(kind, sensor, new(0, 3.3), "VDD", 220, opAmp: PartCatalogue.Standard.FindOpAmp("bipolar-general"),
                more: ("buffered", true));
            double[] outputs = EngineOutputs(stage, sensor, 220, [-1.2, 1.8]);
            // What the hand form leaves out (loading of outputs) lies below 1e-6 of the span.
            Assert.Equal(stage.Expected!.Output(-1.2), outputs[0], 5e-6);
            Assert.Equal(stage.Expected!.Output(1.8), outputs[1], 5e-6);
        }
    }

    [Theory]
    [MemberData(nameof(Targets))]
    public void The_mapping_is_met_to_half_a_step_of_the_series(
        string kind, double low, double high, double pinLow, double pinHigh, string? reference, double source)
    {
        var stage = Build(kind, new(low, high), new(pinLow, pinHigh), reference, source);
        // Ratios of a geometric series are a geometric series: one ratio alone is met to half a step, 10^(1/192) − 1 = 1.2 %.
        double worst = Math.Max(Math.Abs(stage.Ideal!.Output(low) - pinLow),
            Math.Abs(stage.Ideal.Output(high) - pinHigh)) / (pinHigh - pinLow);
        Assert.True(worst < Math.Pow(10, 1.0 / 192) - 1, $"{worst:P4}");
    }

    [Theory]
    [MemberData(nameof(Targets))]
    public void Every_resistor_chosen_is_a_preferred_number(
        string kind, double low, double high, double pinLow, double pinHigh, string? reference, double source)
    {
        foreach (var series in new[] { ESeries.E12, ESeries.E24, ESeries.E96 })
        {
            foreach (var part in Build(kind, new(low, high), new(pinLow, pinHigh), reference, source, series.Name)
                .Parts.OfType<ResistorPart>())
                Assert.Equal(part.Ohms.Value, series.Nearest(part.Ohms.Value), part.Ohms.Value * 1e-12);
        }
    }

    [Theory]
    [MemberData(nameof(Targets))]
    public void The_closed_form_with_a_real_op_amp_agrees_with_the_engine(
        string kind, double low, double high, double pinLow, double pinHigh, string? reference, double source)
    {
        var sensor = new Span(low, high);
        var type = PartCatalogue.Standard.FindOpAmp("bipolar-general")!;
        var stage = Build(kind, sensor, new(pinLow, pinHigh), reference, source, opAmp: type);
        double[] inputs = [low, sensor.Middle, high];
        double[] outputs = EngineOutputs(stage, sensor, source, inputs);
        // The op amp's input stage bends by 1e-9 of its drive up to a tenth of its range: nanovolts at the input here.
        for (int k = 0; k < inputs.Length; k++)
            Assert.Equal(stage.Expected!.Output(inputs[k]), outputs[k], 1e-7);
    }

    // Ron Mancini, "Op Amps for Everyone", chapter 4, case 1 (y = mx + b with both positive); numbers of the target from memory,
    // ratios from the book's formulas: R2/R1 = m·Vref/b and Rf/Rg = m + b/Vref − 1.
    [Fact]
    public void A_handbook_s_single_supply_example_gets_the_handbook_s_ratios()
    {
        var stage = Build("single-stage-shifter", new(0.01, 1), new(1, 5), "VP");
        double m = 4 / 0.99, b = 1 - 0.01 * m;
        double Ohms(string name) => stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "shift." + name).Ohms.Value;
        Assert.Equal(m * 9 / b, Ohms("R2") / Ohms("R1"), 0.05 * m * 9 / b);
        Assert.Equal(m + b / 9 - 1, Ohms("Rf") / Ohms("Rg"), 0.02 * (m + b / 9 - 1));
    }

    // Textbook result: a balanced difference amplifier has G = R2/R1 and passes no common mode
    // (Horowitz and Hill, The Art of Electronics, chapter on op amps; from memory).
    [Fact]
    public void A_balanced_difference_stage_amplifies_the_difference_and_not_the_common_mode()
    {
        var stage = Build("difference-stage", new(0, 0.1), new(0, 1), null, 0, "E24", null, ("against.node", "REMOTE"));
        double Output(double input, double remote) => new Circuit(
        [
            .. Rails.Select(r => (Element)new VoltageSource(r.Name, r.Name, Circuit.Ground, r.Volts.Value)),
            new VoltageSource("in", "IN", Circuit.Ground, input), new VoltageSource("remote", "REMOTE", Circuit.Ground, remote),
            .. stage.Parts.SelectMany(p => p.ToElements()),
        ]).Compile().SolveOperatingPoint().Nodes["OUT"];
        Assert.Equal(1, Output(0.1, 0), 1e-9);
        Assert.Equal(1, Output(0.6, 0.5), 1e-9);
        Assert.Equal(0, Output(0.5, 0.5), 1e-9);
    }

    // Common practice, no source: equal resistances at both inputs cancel the bias current's offset.
    [Fact]
    public void A_compensation_resistor_equal_to_the_parallel_of_the_minus_side_cancels_the_bias_current_offset()
    {
        double Offset(double plusOhms) => Build("single-stage-shifter", new(0, 0.1), new(0, 1), null,
            opAmp: PartCatalogue.Standard.FindOpAmp("bipolar-general")!, more:
            [
                ("input.value", new Quantity(plusOhms, Unit.Ohm)), ("feedback.value", new Quantity(90e3, Unit.Ohm)),
                ("minus-ground.value", new Quantity(10e3, Unit.Ohm)),
            ]).Expected!.OffsetVolts;
        double compensated = Offset(9e3), direct = Offset(10);
        Assert.Equal(80e-9 * 90e3, direct, 80e-9 * 90e3 * 2e-3); // Ib·Rf
        Assert.True(Math.Abs(compensated) < 1e-3 * direct, $"{compensated}");
    }

    [Theory]
    [InlineData("passive-shifter", -0.1, 0.1, 0, 3.3, "VDD", ProblemKind.AverageAboveOne)]
    [InlineData("passive-shifter", 1, 5, 0, 3.3, "VREF", ProblemKind.AverageOfOtherSign)]
    [InlineData("single-stage-shifter", -1, 1, 0, 3.3, null, ProblemKind.NoReference)]
    [InlineData("difference-stage", -1, 1, 0, 6, "VREF", ProblemKind.DividedReferenceTooHigh)]
    public void An_impossible_target_says_what_to_change(string kind, double low, double high, double pinLow, double pinHigh,
        string? reference, ProblemKind expected)
    {
        var problem = Assert.Throws<StageProblemException>(() => Build(kind, new(low, high), new(pinLow, pinHigh), reference));
        Assert.Equal(expected, problem.Problem.Kind);
    }

    [Fact]
    public void Given_resistors_are_kept_and_the_rest_is_chosen_around_them()
    {
        var stage = Build("single-stage-shifter", new(-1.2, 1.8), new(0, 3.3), "VDD", 220, "E96", null,
            ("input.value", new Quantity(22e3, Unit.Ohm)), ("feedback.value", new Quantity(47e3, Unit.Ohm)));
        Assert.Equal(22e3, stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "shift.R1").Ohms.Value);
        Assert.Equal(47e3, stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "shift.Rf").Ohms.Value);
        Assert.Equal(3.3, stage.Ideal!.Output(1.8), 0.03);
    }

    [Fact]
    public void Hand_math_ends_with_the_outputs_that_the_closed_form_gives()
    {
        foreach (string kind in new[] { "single-stage-shifter", "difference-stage" })
        {
            var stage = Build(kind, new(-1.2, 1.8), new(0, 3.3), "VDD", 220);
            Assert.Equal(stage.Ideal!.Output(1.8), stage.HandMath[^1].Result, 1e-12);
            Assert.Equal(stage.Ideal.Output(-1.2), stage.HandMath[^2].Result, 1e-12);
        }
    }

    [Theory]
    [InlineData("single-stage-shifter")]
    [InlineData("difference-stage")]
    public void An_op_amp_that_its_rails_do_not_suit_is_refused(string kind)
    {
        var tooLow = PartCatalogue.Standard.FindOpAmp("rail-to-rail-cmos"); // of 5 V families
        var refused = Assert.Throws<StageProblemException>(() => Build(kind, new(-1, 1), new(0, 3.3), "VDD", opAmp: tooLow));
        Assert.Equal(("opamp", new Quantity(18, Unit.Volts)), (refused.Problem.Setting, refused.Problem.Found));
    }
}
