using System.Collections.Immutable;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>Instrumentation amplifiers, rectifiers, held peaks and transistor switches against formulas that are not their own.</summary>
public class StagesOfSeveralPartsTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 15), new("VN", -15), new("VDD", 5), new("VREF", 2.5)];

    private static Quantity Ohm(double value) => new(value, Unit.Ohm);

    private static Quantity Volts(double value) => new(value, Unit.Volts);

    private static Stage Build(string kind, Sensor sensor, params (string Key, object Value)[] settings) => Named("s", kind, sensor, settings);

    private static Stage Named(string name, string kind, Sensor sensor, params (string Key, object Value)[] settings)
    {
        var values = new Dictionary<string, object> { ["from.input"] = "IN", ["from.output"] = "OUT", ["opamp.type"] = "ideal", ["opamp.positive"] = "VP", ["opamp.negative"] = "VN" };
        foreach (var (key, value) in settings)
            values[key] = value;
        return Asked.Of(kind, name, values, Rails, [sensor],
            PartCatalogue.Standard with { OpAmps = [IdealOpAmp.Type, .. PartCatalogue.Standard.OpAmps] }).Build();
    }

    private static FrontEnd With(Sensor sensor, params Stage[] stages) => new() { Rails = Rails, Sensors = [sensor], Stages = [.. stages] };

    private static RequirementResult AsAsked(FrontEnd frontEnd) =>
        CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken).Implied.Single(r => r.Requirement is StagesAsAsked);

    [Theory]
    [InlineData(2.495, 2.505, 0.5, 4.5)]
    [InlineData(2.4, 2.6, 0, 5)]
    [InlineData(0, 5, 1, 2)]
    public void An_instrumentation_amplifier_s_closed_form_agrees_with_the_engine(double low, double high, double outLow, double outHigh)
    {
        var sensor = new Sensor("cell", "IN", new(low, high), 175);
        var stage = Build("instrumentation-amplifier", sensor, ("against.node", "VREF"), ("maps.sensor", "cell"), ("maps.span", new Span(outLow, outHigh)), ("offset.rail", "VDD"));
        double R(string name) => stage.Parts.OfType<ResistorPart>().FirstOrDefault(r => r.Name == "s." + name)?.Ohms.Value ?? 0;
        double[] inputs = [low, (low + high) / 2, high];
        var sweep = With(sensor, stage).ToCircuit().Compile().Sweep("cell", inputs);
        double reference = 5 * R("Rb") / (R("Ra") + R("Rb"));
        for (int k = 0; k < inputs.Length; k++)
        {
            // Superposition: the gain resistor carries (V+ − V−)/Rg, which both feedback resistors carry on.
            double current = R("Rg") == 0 ? 0 : (inputs[k] - 2.5) / R("Rg"), a = inputs[k] + current * R("R1a"), b = 2.5 - current * R("R1b");
            Assert.Equal(a, sweep.Voltage("s.A")[k], 1e-9);
            Assert.Equal(b, sweep.Voltage("s.B")[k], 1e-9);
            Assert.Equal((a - b) * R("R3b") / R("R2b") + reference, sweep.Voltage("OUT")[k], 1e-9);
            Assert.Equal(stage.Ideal!.Output(inputs[k]), sweep.Voltage("OUT")[k], 1e-9);
        }
        Assert.Equal(outLow, stage.Ideal!.Output(low), 0.02 * (outHigh - outLow));
        Assert.Equal(outHigh, stage.Ideal.Output(high), 0.02 * (outHigh - outLow));
    }

    [Theory]
    [InlineData(1, 0, 0, 0)]
    [InlineData(0, 0, 1, 0)]
    [InlineData(1, -1, -1, 1)] // all at their worst: R2a and R3b up, R3a and R2b down
    public void Its_common_mode_gain_is_what_the_mismatch_of_its_resistors_makes(int r2a, int r3a, int r2b, int r3b)
    {
        const double t = 0.01;
        // Both inputs on one node: the sensor is the common mode.
        var sensor = new Sensor("common", "IN", new(-5, 5), 0);
        var stage = Build("instrumentation-amplifier", sensor, ("against.node", "OTHER"), ("gain.value", new Quantity(100, Unit.None)));
        var off = new Dictionary<string, double> { ["s.R2a"] = 1 + r2a * t, ["s.R3a"] = 1 + r3a * t, ["s.R2b"] = 1 + r2b * t, ["s.R3b"] = 1 + r3b * t };
        stage = stage with { Parts = [.. stage.Parts.Select(p => p is ResistorPart r && off.TryGetValue(r.Name, out double factor) ? r with { Ohms = new(r.Ohms.Value * factor) } : p)] };
        var frontEnd = With(sensor, stage) with { Parts = [new ResistorPart("tie", "IN", "OTHER", new(1))] };
        double[] outputs = frontEnd.ToCircuit().Compile().Sweep("common", [-1, 1]).Voltage("OUT");
        double found = (outputs[1] - outputs[0]) / 2;
        double R(string name) => 10e3 * off["s." + name];
        // Voltage divider at the plus input, the gain of the minus side behind it.
        double expected = R("R3a") / (R("R2a") + R("R3a")) * (1 + R("R3b") / R("R2b")) - R("R3b") / R("R2b");
        Assert.Equal(expected, found, 1e-6 * Math.Abs(expected));
        if (r2a * r3a * r2b * r3b != 0) // 4·t·G2/(1 + G2) to first order
            Assert.Equal(4 * t / 2, Math.Abs(found), 2 * t * 4 * t / 2);
    }

    [Fact]
    public void First_op_amps_that_clip_are_seen_though_the_output_lies_inside()
    {
        // 12 V ± 50 mV at a gain of 100: the first op amps would have to reach 12 V ± 2.5 V of 15 V, and stop at 13.5 V.
        var sensor = new Sensor("cell", "IN", new(11.95, 12.05), 0);
        var rails = Rails.Add(new("V12", 12));
        var stage = Asked.Of("instrumentation-amplifier", "s", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "OUT",
            ["against.node"] = "V12",
            ["maps.sensor"] = "cell",
            ["maps.span"] = new Span(-5, 5),
            ["opamp.type"] = "jfet-input",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        }, rails, [sensor]).Build();
        var result = CheckStudy.Run(With(sensor, stage) with { Rails = rails }, cancel: TestContext.Current.CancellationToken);
        Assert.Contains(result.Implied, r => r is { Requirement: OpAmpsInRange, Met: false });
        Assert.Contains(result.Implied, r => r is { Requirement: StagesAsAsked, Met: false });
    }

    [Fact]
    public void A_node_that_stands_elsewhere_than_said_is_seen()
    {
        var sensor = new Sensor("cell", "IN", new(2.49, 2.51), 0);
        var stage = Build("instrumentation-amplifier", sensor, ("against.node", "SN"), ("common.value", Volts(2.5)), ("maps.sensor", "cell"), ("maps.span", new Span(0.5, 4.5)), ("offset.rail", "VDD"));
        FrontEnd Tied(double ohms) => With(sensor, stage) with { Parts = [new ResistorPart("Ra", "VDD", "SN", new(10e3)), new ResistorPart("Rb", "SN", "GND", new(ohms))] };
        Assert.True(AsAsked(Tied(10e3)).Met);
        Assert.False(AsAsked(Tied(9.9e3)).Met);
    }

    [Theory]
    [InlineData("full", 0)]
    [InlineData("half", 0)]
    [InlineData("full", 100)]
    public void A_precision_rectifier_makes_the_absolute_value(string wave, double source)
    {
        var sensor = new Sensor("wave", "IN", new(-4, 4), source);
        var stage = Build("precision-rectifier", sensor, ("wave.part", wave), ("resistors.series", "E24"));
        double[] inputs = [-4, -1, -0.01, 0, 0.01, 1, 4], outputs = With(sensor, stage).ToCircuit().Compile().Sweep("wave", inputs).Voltage("OUT");
        double left = 10e3 / (10e3 + source); // 20 k twice to virtual grounds, or 10 k once
        for (int k = 0; k < inputs.Length; k++)
            Assert.Equal(left * (wave == "full" ? Math.Abs(inputs[k]) : Math.Max(0, -inputs[k])), outputs[k], 4e-3);
        Assert.True(AsAsked(With(sensor, stage)).Met);
    }

    [Fact]
    public void A_peak_hold_whose_sensor_rests_at_nothing_is_stable_and_what_a_rectifier_gives_is_no_line()
    {
        // The loop about the diode is open there: what an infinitely small step does tells nothing of it. Sign and size are not told apart.
        var sensor = new Sensor("knock", "IN", new(-2, 2), 50);
        var rectifier = Build("precision-rectifier", sensor, ("wave.part", "full"), ("opamp.type", "jfet-input"), ("from.output", "SIZE"));
        var hold = Named("top", "peak-hold", sensor, ("hold.value", new Quantity(100e-9, Unit.Farad)), ("decay.value", new Quantity(0.1, Unit.Seconds)),
            ("opamp.type", "jfet-input"), ("from.input", "SIZE"));
        var frontEnd = With(sensor, rectifier, hold) with
        {
            Pins = [new Pin("adc", "OUT") { Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
        };
        var check = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken);
        Assert.True(check.Implied.Single(r => r.Requirement is OpAmpsStable).Met);
        Assert.Null(Assert.Single(check.Mappings).Back);
    }

    [Fact]
    public void A_peak_is_held_and_falls_with_its_time_constant()
    {
        var sensor = new Sensor("knock", "KNOCK", new(0, 1), 0);
        var stage = Build("peak-hold", sensor, ("hold.value", new Quantity(100e-9, Unit.Farad)), ("decay.value", new Quantity(10e-3, Unit.Seconds)), ("opamp.type", "jfet-input"));
        double ohms = stage.Parts.OfType<ResistorPart>().Single(r => r.Name == "s.R").Ohms.Value;
        var circuit = With(sensor, stage).ToCircuit();
        var pulse = new VoltageSource("pulse", "IN", "GND", new Pulse(0, 3, 1e-3, 1e-6, 1e-3, 1e-6));
        var trace = new Engine.Circuits.Circuit([.. circuit.Elements, pulse], 25).Compile().RunTransient(12e-3, TestContext.Current.CancellationToken).Voltage("OUT");
        double peak = 3 * ohms / (ohms + 470);
        Assert.Equal(peak, trace.At(1.9e-3), 3e-3);
        // From the end of the pulse at 2.001 ms on by R·C alone.
        double from = trace.At(3e-3);
        Assert.Equal(from * Math.Exp(-8e-3 / (ohms * 100e-9)), trace.At(11e-3), 3e-3);
    }

    [Theory]
    [InlineData("2N3904", null, true)]
    [InlineData("2N7002", null, true)]
    [InlineData("2N3904", 10e6, false)] // 0.7 µA of base current are no saturation with any gain
    public void A_transistor_switch_translates_levels_or_is_not_met(string type, double? series, bool met)
    {
        var sensor = new Sensor("line", "IN", new(0, 12), 1e3);
        var stage = Build("transistor-switch", sensor, [("transistor.type", type), ("rail.supply", "VDD"), ("high.value", Volts(8)), ("low.value", Volts(0.5)), ("hold.value", Ohm(47e3)),
            .. series is { } r ? [("series.value", (object)Ohm(r))] : Array.Empty<(string, object)>()]);
        Assert.Equal(met, AsAsked(With(sensor, stage)).Met);
    }

    [Theory]
    [InlineData("open-collector", 3.0, 2.5)]
    [InlineData("push-pull-cmos", 2.0, 1.9)]
    [InlineData("open-collector", 1.0, 0.2)]
    public void A_comparator_switches_at_the_thresholds_of_three_resistors(string type, double upper, double lower)
    {
        var sensor = new Sensor("level", "IN", new(0, 5), 0);
        var stage = Build("hysteresis-comparator", sensor, ("comparator.type", type), ("comparator.positive", "VDD"), ("comparator.negative", "GND"), ("upper.value", Volts(upper)),
            ("lower.value", Volts(lower)), ("offset.rail", "VDD"));
        double R(string name) => stage.Parts.OfType<ResistorPart>().FirstOrDefault(r => r.Name == "s." + name)?.Ohms.Value ?? double.PositiveInfinity;
        var model = stage.Parts.OfType<ComparatorPart>().Single().Type.Model;
        bool isOpen = model.SourceAmps == 0;
        // Nodal analysis of the plus input, output at the supply behind pull-up or transistor, or at ground behind the sinking transistor.
        double low = isOpen ? 5 * model.SinkOhms / (model.SinkOhms + R("Rp")) : 0, lowOhms = isOpen ? 1 / (1 / model.SinkOhms + 1 / R("Rp")) : model.SinkOhms;
        double Threshold(double output, double behind) => (5 / R("Ra") + output / (R("Rf") + behind)) / (1 / R("Ra") + 1 / R("Rb") + 1 / (R("Rf") + behind));
        double above = Threshold(5, isOpen ? R("Rp") : model.SourceOhms), below = Threshold(low, lowOhms);
        Assert.Equal(upper, above, 0.1 * (upper - lower));
        Assert.Equal(lower, below, 0.1 * (upper - lower));
        double Slack(double ohms) => model.HysteresisVolts + Math.Abs(model.BiasAmps) * ohms + 1e-3; // its own hysteresis and bias
        double seen = 1 / (1 / R("Ra") + 1 / R("Rb") + 1 / R("Rf"));
        var circuit = With(sensor, stage).ToCircuit().Compile();
        double Output(params double[] path) => circuit.Sweep("level", path).Voltage("OUT")[^1];
        Assert.True(Output(0, above - Slack(seen)) > 4);
        Assert.True(Output(0, above + Slack(seen)) < 1);
        Assert.True(Output(5, below + Slack(seen)) < 1);
        Assert.True(Output(5, below - Slack(seen)) > 4);
        Assert.True(AsAsked(With(sensor, stage)).Met);
    }
}
