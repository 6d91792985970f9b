using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>Dividers, buffers and rail-clamp guards: their hand math against the engine, and what they refuse.</summary>
public class GuardAndBufferTests
{
    // A diode that conducts nothing short of a few volts: what is left of a guard is its resistors.
    private static readonly DiodeModel IdealDiode = new()
    {
        SaturationAmps = 1e-30,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
    };

    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3)];

    private static Quantity Ohm(double value) => new(value, Unit.Ohm);

    private static Stage Build(string kind, Sensor? sensor, params (string Key, object Value)[] settings)
    {
        var values = new Dictionary<string, object> { ["from.input"] = "IN", ["from.output"] = "OUT" };
        foreach (var (key, value) in settings)
            values[key] = value;
        return Asked.Of(kind, "s", values, Rails, sensor is null ? [] : [sensor],
            PartCatalogue.Standard with { OpAmps = [IdealOpAmp.Type, .. PartCatalogue.Standard.OpAmps] }).Build();
    }

    private static (string Key, object Value)[] OpAmp(string type) =>
        [("opamp.type", type), ("opamp.positive", "VP"), ("opamp.negative", "VN")];

    private static void AgreesWithTheEngine(Stage stage, LinearExpectation closedForm, Sensor sensor, double within)
    {
        double[] inputs = [sensor.Span.Low, sensor.Span.Middle, sensor.Span.High];
        double[] outputs = new FrontEnd { Rails = Rails, Sensors = [sensor], Stages = [stage] }.ToCircuit().Compile()
            .Sweep(sensor.Name, inputs).Voltage("OUT");
        for (int k = 0; k < inputs.Length; k++)
            Assert.Equal(closedForm.Output(inputs[k]), outputs[k], within);
    }

    private static double OhmsOf(Stage stage, string name) =>
        stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "s." + name).Ohms.Value;

    [Theory]
    [InlineData(0, 10, 0, 3, 100)]
    [InlineData(-10, 10, -1, 1, 0)]
    [InlineData(0, 30, 0, 3.3, 2000)]
    [InlineData(4, 20, 0.5, 2.5, 50)]
    public void A_divider_s_closed_form_agrees_with_the_engine_to_a_billionth(double low, double high, double pinLow, double pinHigh,
        double source)
    {
        var sensor = new Sensor("probe", "IN", new Span(low, high), source);
        var stage = Build("divider", sensor, ("maps.sensor", "probe"), ("maps.span", new Span(pinLow, pinHigh)));
        AgreesWithTheEngine(stage, stage.Ideal!, sensor, 1e-9);
        // One ratio of two preferred numbers is met to half a step, 10^(1/192) − 1 = 1.2 %.
        Assert.Equal(pinHigh, stage.Ideal!.Output(high), (Math.Pow(10, 1.0 / 192) - 1) * pinHigh);
    }

    [Fact]
    public void A_ratio_of_a_tenth_is_nine_to_one()
    {
        // R1/R2 = 1/k − 1 = 9 (voltage divider rule). E24 has 9.1/1.0, 1 % off, and 27/3.0 exactly.
        var stage = Build("divider", null, ("ratio.value", new Quantity(0.1, Unit.None)), ("resistors.series", "E24"));
        Assert.Equal(9, OhmsOf(stage, "R1") / OhmsOf(stage, "R2"), 1e-9);
        Assert.Null(stage.Mapping);
    }

    [Fact]
    public void A_ratio_says_where_the_sensor_s_span_lands()
    {
        var sensor = new Sensor("probe", "IN", new Span(0, 24), 1000);
        var stage = Build("divider", sensor, ("ratio.value", new Quantity(0.125, Unit.None)));
        Assert.Equal(new Span(0, 3), stage.Mapping!.Output);
        AgreesWithTheEngine(stage, stage.Ideal!, sensor, 1e-9);
        Assert.Equal(0.125, OhmsOf(stage, "R2") / (OhmsOf(stage, "R1") + OhmsOf(stage, "R2") + 1000), 1e-4);
    }

    [Fact]
    public void Resistors_that_are_given_are_taken_and_the_other_follows()
    {
        var both = Build("divider", null, ("input.value", Ohm(90e3)), ("ground.value", Ohm(10e3)));
        Assert.Equal(0.1, both.Ideal!.Gain, 1e-12);
        var one = Build("divider", null, ("ratio.value", new Quantity(0.5, Unit.None)), ("ground.value", Ohm(12e3)));
        Assert.InRange(OhmsOf(one, "R1"), 11.8e3, 12.1e3); // the neighbours of 12 kohm in E96
    }

    [Fact]
    public void A_divider_that_would_have_to_shift_is_refused_with_the_span_that_it_can_give()
    {
        var sensor = new Sensor("probe", "IN", new Span(4, 20), 0);
        var problem = Assert.Throws<StageProblemException>(() => Build("divider", sensor, ("maps.sensor", "probe"),
            ("maps.span", new Span(0, 2.5))));
        Assert.Equal((new Quantity(0.5, Unit.Volts), new Quantity(2.5, Unit.Volts)), (problem.Problem.Low, problem.Problem.High));
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(0.0)]
    [InlineData(-0.1)]
    public void A_ratio_that_no_divider_has_is_refused(double ratio) =>
        Assert.Throws<StageProblemException>(() => Build("divider", null, ("ratio.value", new Quantity(ratio, Unit.None))));

    public static TheoryData<double?, double?> BufferResistors => new() { { null, null }, { 10e3, null }, { 10e3, 1e6 }, { null, 1e6 } };

    [Theory]
    [MemberData(nameof(BufferResistors))]
    public void A_buffer_s_closed_form_agrees_with_the_engine(double? series, double? pulldown)
    {
        var sensor = new Sensor("probe", "IN", new Span(-2, 5), 0);
        Stage Of(string type) => Build("buffer", sensor, [.. OpAmp(type),
            .. series is { } r ? [("series.value", (object)Ohm(r))] : Array.Empty<(string, object)>(),
            .. pulldown is { } p ? [("pulldown.value", (object)Ohm(p))] : Array.Empty<(string, object)>()]);
        AgreesWithTheEngine(Of("ideal"), Of("ideal").Ideal!, sensor, 1e-9);
        // A real op amp's input stage bends by 1e-9 of its drive: nanovolts here.
        var real = Of("bipolar-general");
        AgreesWithTheEngine(real, real.Expected!, sensor, 1e-7);
    }

    [Fact]
    public void A_buffer_keeps_a_source_of_a_megohm_from_being_loaded()
    {
        // 1 Mohm into 10 kohm would leave 1 % (divider rule); behind a buffer all of it is left.
        var sensor = new Sensor("probe", "IN", new Span(0, 3), 1e6);
        var stage = Build("buffer", sensor, OpAmp("ideal"));
        stage = stage with { Parts = stage.Parts.Add(new ResistorPart("load", "OUT", Circuit.Ground, 10e3)) };
        AgreesWithTheEngine(stage, new(1, 0), sensor, 1e-6);
    }

    [Fact]
    public void Rails_of_a_buffer_in_the_wrong_order_are_refused() => Assert.Throws<StageProblemException>(() =>
        Build("buffer", null, ("opamp.type", "ideal"), ("opamp.positive", "VN"), ("opamp.negative", "VP")));

    [Fact]
    public void An_op_amp_that_does_not_work_on_the_rails_is_refused_with_the_voltages()
    {
        // The class jfet-input wants 7 V between its rails (typical of the class, from memory).
        var problem = Assert.Throws<StageProblemException>(() => Build("buffer", null, ("opamp.type", "jfet-input"),
            ("opamp.positive", "VDD"), ("opamp.negative", Circuit.Ground)));
        Assert.Equal((ProblemKind.SupplyOutside, new Quantity(3.3, Unit.Volts)), (problem.Problem.Kind, problem.Problem.Found));
    }

    [Theory]
    [InlineData(null)]
    [InlineData(100e3)]
    public void A_rail_clamp_guard_with_ideal_diodes_is_its_resistors(double? pulldown)
    {
        var sensor = new Sensor("probe", "IN", new Span(0, 3.3), 0);
        var stage = Build("rail-clamp-guard", sensor, [("series.value", Ohm(4700)), ("diodes.type", "1N4148"), ("diodes.rail", "VDD"),
            ("shunt.value", new Quantity(10e-9, Unit.Farad)), .. pulldown is { } p ? [("pulldown.value", (object)Ohm(p))]
                : Array.Empty<(string, object)>()]);
        stage = stage with
        {
            Parts = [.. stage.Parts.Select(p => p is DiodePart d ? d with { Type = d.Type with { Model = IdealDiode } }
            : p)]
        };
        AgreesWithTheEngine(stage, stage.Ideal!, sensor, 1e-9);
        Assert.Equal(pulldown is null ? 1 : 100e3 / 104.7e3, stage.Ideal!.Gain, 1e-12);
        // fc = 1/(2πRC) with R the parallel of both.
        double seen = pulldown is null ? 4700 : 4700 * 100e3 / 104.7e3;
        Assert.Equal(1 / (2 * Math.PI * seen * 10e-9), stage.HandMath.Single(h => h.Unit == "Hz").Result, 1e-6);
    }

    [Theory]
    [InlineData(double.PositiveInfinity, 1.0)]
    [InlineData(1000.0, 0.8)]
    public void A_current_source_of_4_milliamperes_gives_1_volt_on_250_ohm_less_what_its_own_resistance_takes(double beside, double volts)
    {
        // Ohm's law: 4 mA · 250 ohm, and 4 mA · (250 ohm ∥ 1 kohm = 200 ohm).
        var parts = new Part[] { new CurrentSourcePart("I1", Circuit.Ground, "A", new Engine.Waveforms.Constant(4e-3), beside),
            new ResistorPart("Rb", "A", Circuit.Ground, 250) };
        Assert.Equal(volts, new FrontEnd { Parts = [.. parts] }.ToCircuit().Compile().SolveOperatingPoint().Nodes["A"], 1e-12);
    }

    [Theory]
    [InlineData(24)]
    [InlineData(-24)]
    public void A_rail_clamp_guard_holds_a_fault_to_the_rail_and_a_drop(double fault)
    {
        // Hand calculation: I = (24 V − 3.3 V − 0.6 V)/4.7 kohm = 4.3 mA, or (24 V − 0.6 V)/4.7 kohm = 5 mA, where a 1N4148 drops 0.62 V to
        // 0.72 V.
        var sensor = new Sensor("probe", "IN", new Span(fault, fault + 1), 0);
        var stage = Build("rail-clamp-guard", sensor, ("series.value", Ohm(4700)), ("diodes.type", "1N4148"), ("diodes.rail", "VDD"));
        var point = new FrontEnd { Rails = Rails, Sensors = [sensor], Stages = [stage] }
            .ToCircuit(new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add("probe", fault) }).Compile()
                .SolveOperatingPoint();
        double pin = point.Nodes["OUT"], drop = fault > 0 ? pin - 3.3 : -pin;
        Assert.InRange(drop, 0.6, 0.75);
        // The hand math's limits are those at 1 mA; 4 to 5 times that makes up to n·Vt·ln 5, 80 mV, more.
        double limit = stage.HandMath.Single(h => h.What.Contains(fault > 0 ? "upper" : "lower", StringComparison.Ordinal)).Result;
        Assert.InRange(Math.Abs(pin - limit), 0.03, 0.1);
    }

    [Fact]
    public void A_rail_clamp_guard_to_a_negative_rail_or_to_ground_is_refused()
    {
        foreach (string rail in new[] { "VN", Circuit.Ground })
            Assert.Throws<StageProblemException>(() => Build("rail-clamp-guard", null, ("series.value", Ohm(4700)),
                ("diodes.type", "1N5817"), ("diodes.rail", rail)));
    }
}
