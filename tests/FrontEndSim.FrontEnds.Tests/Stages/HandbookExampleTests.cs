using System.Collections.Immutable;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>
/// Worked examples from textbooks and application notes, with the engine's answer held against the one printed. All examples
/// and their numbers are from memory; the printed answers are rounded as the books round them.
/// </summary>
public class HandbookExampleTests
{
    private static OpAmpType Ideal(OpAmpModel? model = null) => IdealOpAmp.Like(model ?? IdealOpAmp.Model, 300);

    private static readonly ImmutableArray<Rail> Supplies = [new("VP", 100), new("VN", -100)];

    private static OpAmpPart OpAmp(string plus, string minus, string output, OpAmpModel? model = null, string name = "U") =>
        new(name, plus, minus, output, "VP", "VN", Ideal(model));

    private static ResistorPart R(string name, string from, string to, double ohms) => new(name, from, to, ohms);

    /// <summary>A shipped stage with its resistors given, its input from the rail V1.</summary>
    private static Stage Stage(string kind, Rail[] inputs, params (string Key, object Value)[] settings)
    {
        var values = new Dictionary<string, object>
        {
            ["from.input"] = "V1",
            ["from.output"] = "OUT",
            ["opamp.type"] = "ideal",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        };
        foreach (var (key, value) in settings)
            values[key] = value is double ohms ? new Quantity(ohms, Unit.Ohm) : value;
        return Asked.Of(kind, "shift", values, [.. Supplies, .. inputs], [], PartCatalogue.Standard with { OpAmps = [Ideal()] }).Build();
    }

    private static OperatingPoint Solve(Rail[] inputs, Part[] parts, params Stage[] stages) =>
        new FrontEnd { Rails = [.. Supplies, .. inputs], Parts = [.. parts], Stages = [.. stages] }.ToCircuit().Compile()
            .SolveOperatingPoint();

    // Sedra and Smith, Microelectronic Circuits, section 2.2.2, example of an inverting amplifier with 1 kohm and 100 kohm.
    [Theory]
    [InlineData(1e3, 90.83, 9.08e-3)]
    [InlineData(1e4, 99.00, 0.99e-3)]
    [InlineData(1e5, 99.90, 0.10e-3)]
    public void Sedra_and_Smith_inverting_amplifier_of_finite_gain(double openLoopGain, double gain, double virtualGround)
    {
        var point = Solve([new("V1", 0.1)], [R("R1", "V1", "N", 1e3), R("R2", "N", "OUT", 100e3),
            OpAmp("GND", "N", "OUT", IdealOpAmp.Model with { OpenLoopGain = openLoopGain })]);
        Assert.Equal(gain, -point.Nodes["OUT"] / 0.1, 0.005);
        Assert.Equal(virtualGround, Math.Abs(point.Nodes["N"]), 0.005e-3);
    }

    // The same, section 2.2.3: a gain of -100 with an input resistance of 1 Mohm and no resistor above that, by a T in the feedback; R3 =
    // 10.2 kohm.
    [Fact]
    public void Sedra_and_Smith_inverting_amplifier_with_a_T_network()
    {
        var point = Solve([new("V1", 0.1)],
            [R("R1", "V1", "N", 1e6), R("R2", "N", "X", 1e6), R("R4", "X", "OUT", 1e6), R("R3", "X", "GND", 10.2e3),
                OpAmp("GND", "N", "OUT")]);
        Assert.Equal(-100, point.Nodes["OUT"] / 0.1, 0.1); // R3 is printed to three digits: half of its last is 0.5 %, its use 0.04 %
    }

    // The same, section 2.2.4, exercise: design vO = 2·v1 + v2 − 4·v3 with two op amps: 5, 10, 10 kohm; 10, 2.5, 10 kohm.
    [Theory]
    [InlineData(1, 0, 0, 2)]
    [InlineData(0, 1, 0, 1)]
    [InlineData(0, 0, 1, -4)]
    [InlineData(0.3, -0.7, 1.1, -4.5)]
    public void Sedra_and_Smith_weighted_summer_of_both_signs_is_a_two_stage_shifter_with_one_more_resistor(double v1, double v2,
        double v3, double expected)
    {
        Rail[] inputs = [new("V1", v1), new("V2", v2), new("V3", v3)];
        var stage = Stage("two-stage-shifter", inputs, ("offset.rail", "V2"), ("input.value", 5e3), ("reference.value", 10e3),
            ("feedback.value", 10e3),
            ("second-input.value", 10e3), ("second-feedback.value", 10e3));
        var point = Solve(inputs, [R("R3", "V3", "shift.SUM2", 2.5e3)], stage);
        Assert.Equal(expected, point.Nodes["OUT"], 1e-9);
    }

    // The same, section 2.3, exercise: 2 and 3 kohm into the plus input, 9 kohm of feedback, 1 kohm to ground: vO = 6·v1 + 4·v2.
    [Theory]
    [InlineData(1, 0, 6)]
    [InlineData(0, 1, 4)]
    [InlineData(0.5, -0.25, 2)]
    public void Sedra_and_Smith_non_inverting_summer_is_a_single_stage_shifter(double v1, double v2, double expected)
    {
        Rail[] inputs = [new("V1", v1), new("V2", v2)];
        var stage = Stage("single-stage-shifter", inputs, ("offset.rail", "V2"), ("input.value", 2e3), ("reference.value", 3e3),
            ("feedback.value", 9e3), ("minus-ground.value", 1e3));
        Assert.Equal(expected, Solve(inputs, [], stage).Nodes["OUT"], 1e-9);
    }

    // The exercise after it: the 1 kohm goes to a third input instead of ground: vO = 6·v1 + 4·v2 − 9·v3.
    [Theory]
    [InlineData(1, 0, 0, 6)]
    [InlineData(0, 0, 1, -9)]
    [InlineData(0.5, 0.5, 0.5, 0.5)]
    public void Sedra_and_Smith_summer_of_both_signs_with_one_op_amp_is_a_difference_stage_against_a_node(double v1, double v2, double v3,
        double expected)
    {
        Rail[] inputs = [new("V1", v1), new("V2", v2), new("V3", v3)];
        var stage = Stage("difference-stage", inputs, ("against.node", "V3"), ("offset.rail", "V2"), ("input.value", 2e3),
            ("reference.value", 3e3),
            ("minus-input.value", 1e3), ("feedback.value", 9e3));
        Assert.Equal(expected, Solve(inputs, [], stage).Nodes["OUT"], 1e-9);
    }

    // The same, section 2.4.1, exercise: 2 kohm and 200 kohm; Ad = 100, Rid = 4 kohm; with 1 % resistors at worst Acm = 0.04 and CMRR = 68
    // dB.
    [Fact]
    public void Sedra_and_Smith_difference_amplifier_and_its_common_mode_gain_with_one_percent_resistors()
    {
        double Output(double plus, double minus, int corner)
        {
            double Off(double ohms, int bit) => ohms * (corner < 0 ? 1 : (corner & 1 << bit) != 0 ? 1.01 : 0.99);
            Rail[] inputs = [new("V1", plus), new("V2", minus)];
            var stage = Stage("difference-stage", inputs, ("against.node", "V2"), ("input.value", Off(2e3, 0)),
                ("plus-ground.value", Off(200e3, 1)),
                ("minus-input.value", Off(2e3, 2)), ("feedback.value", Off(200e3, 3)));
            return Solve(inputs, [], stage).Nodes["OUT"];
        }
        Assert.Equal(100, Output(0.01, 0, -1) / 0.01, 1e-6);
        // A floating source between the inputs sees both 2 kohm in a row, as the op amp holds its inputs equal.
        var floating = Solve([], [new SourcePart("VD", "A", "B", new Constant(0.01), 0), R("R1", "A", "P", 2e3),
            R("R2", "P", "GND", 200e3), R("R3", "B", "N", 2e3), R("R4", "N", "OUT", 200e3), OpAmp("P", "N", "OUT")]);
        Assert.Equal(4e3, 0.01 / Math.Abs(floating.Parts["VD"].Amps), 1e-3);
        double common = Enumerable.Range(0, 16).Max(corner => Math.Abs(Output(1, 1, corner)));
        Assert.Equal(0.04, common, 0.005);
        Assert.Equal(68, 20 * Math.Log10(100 / common), 0.5);
    }

    // The same, section 2.6.2, exercise: 10 kohm and 1 Mohm, IB = 100 nA, IOS = 10 nA: 0.1 V; with 9.9 kohm at the plus input 0.01 V.
    [Fact]
    public void Sedra_and_Smith_offset_of_bias_currents_before_and_after_the_compensating_resistor()
    {
        var bias = IdealOpAmp.Model with { BiasAmps = 100e-9 };
        var before = Solve([new("V1", 0)], [R("R1", "V1", "N", 10e3), R("R2", "N", "OUT", 1e6), OpAmp("GND", "N", "OUT", bias)]);
        Assert.Equal(0.1, before.Nodes["OUT"], 1e-6);
        var after = Solve([new("V1", 0)],
            [R("R1", "V1", "N", 10e3), R("R2", "N", "OUT", 1e6), R("R3", "P", "GND", 9.9e3),
                OpAmp("P", "N", "OUT", bias with { OffsetAmps = 10e-9 })]);
        Assert.Equal(0.01, Math.Abs(after.Nodes["OUT"]), 0.0005);
    }

    // Franco, Design with Operational Amplifiers and Analog Integrated Circuits, section 1.3, example of a summing amplifier:
    // vO = −2·(3·v1 + 4·v2 + 2·v3) with 20, 15, 30 kohm and a feedback of 120 kohm.
    [Theory]
    [InlineData(1, 0, 0, -6)]
    [InlineData(0, 1, 0, -8)]
    [InlineData(0, 0, 1, -4)]
    [InlineData(0.5, -0.5, 0.25, 0)]
    public void Franco_summing_amplifier_of_three_inputs(double v1, double v2, double v3, double expected)
    {
        var point = Solve([new("V1", v1), new("V2", v2), new("V3", v3)],
            [R("R1", "V1", "N", 20e3), R("R2", "V2", "N", 15e3), R("R3", "V3", "N", 30e3), R("RF", "N", "OUT", 120e3),
                OpAmp("GND", "N", "OUT")]);
        Assert.Equal(expected, point.Nodes["OUT"], 1e-9);
    }

    // Mancini, Op Amps for Everyone, chapter on single-supply design, case 1 (VOUT = m·VIN + b): 0.01 V .. 1 V onto 1 V .. 4.5 V
    // with a reference of 5 V: R2 = 18.316·R1, RF = 2.73·RG; built with 10, 180, 10 and 27 kohm of 5 %.
    [Fact]
    public void Mancini_non_inverting_amplifier_with_positive_offset_is_what_the_single_stage_shifter_chooses()
    {
        Rail[] inputs = [new("V1", 0.01), new("VREF", 5)];
        var built = Stage("single-stage-shifter", inputs, ("offset.rail", "VREF"), ("input.value", 10e3), ("reference.value", 180e3),
            ("feedback.value", 27e3), ("minus-ground.value", 10e3));
        Assert.Equal(1, Solve(inputs, [], built).Nodes["OUT"], 0.05 * 3.5); // as far as 5 % resistors allow
        Assert.Equal(4.5, Solve([new("V1", 1), new("VREF", 5)], [], built).Nodes["OUT"], 0.05 * 3.5);

        var target = Asked.Of("single-stage-shifter", "shift", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "OUT",
            ["maps.sensor"] = "probe",
            ["maps.span"] = new Span(1, 4.5),
            ["offset.rail"] = "VREF",
            ["resistors.series"] = "E192",
            ["opamp.type"] = "ideal",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        }, [.. Supplies, new("VREF", 5)], [new("probe", "IN", new Span(0.01, 1), 0)],
        PartCatalogue.Standard with { OpAmps = [Ideal()] });
        var chosen = target.Build().Parts.OfType<ResistorPart>().ToDictionary(r => r.Name, r => r.Ohms.Value);
        const double Step = 0.012; // E192's
        Assert.Equal(18.316, chosen["shift.R2"] / chosen["shift.R1"], 18.316 * Step);
        Assert.Equal(2.73, chosen["shift.Rf"] / chosen["shift.Rg"], 2.73 * Step);
        Assert.DoesNotContain("shift.R3", chosen.Keys);
    }

    // The same, case 2 (VOUT = m·VIN − b): 0.2 V .. 0.5 V onto 1.5 V .. 4.5 V from 5 V: 75 kohm and 820 ohm, 20 and 180 kohm. The
    // text leaves the divider's 811 ohm beside 20 kohm out, 4 %, and builds with resistors of 5 %.
    [Theory]
    [InlineData(0.2, 1.5)]
    [InlineData(0.5, 4.5)]
    public void Mancini_non_inverting_amplifier_with_negative_offset(double input, double printed)
    {
        var point = Solve([new("V1", input), new("VREF", 5)],
            [R("R1", "VREF", "X", 75e3), R("R2", "X", "GND", 820), R("RG", "X", "N", 20e3), R("RF", "N", "OUT", 180e3),
                OpAmp("V1", "N", "OUT")]);
        Assert.Equal(printed, point.Nodes["OUT"], 0.05 * printed);
        // With the divider's resistance, to the last digit.
        double divider = 75e3 * 820 / 75820.0, offset = 5 * 820 / 75820.0;
        Assert.Equal(input + 180e3 / (20e3 + divider) * (input - offset), point.Nodes["OUT"], 1e-9);
    }
}
