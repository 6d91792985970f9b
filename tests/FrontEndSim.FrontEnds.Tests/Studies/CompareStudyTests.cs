using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Readings against prediction: boards whose fault is known because it was put there.</summary>
public class CompareStudyTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VDD", new Toleranced(3.3, 0.02))];
    private static readonly ImmutableArray<Sensor> Sensors = [new("probe", "IN", new Span(-1.2, 1.8), 220)];
    private static readonly BenchMeter Meter = new(1e-3, 1e-3, 10e6);

    /// <summary>A single-stage shifter with given resistors.</summary>
    private static FrontEnd Board(double feedback = 75e3, double reference = 130e3, double supply = 3.3)
    {
        ImmutableArray<Rail> rails = [Rails[0], Rails[1], Rails[2] with { Volts = new Toleranced(supply, 0.02) }];
        var values = new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "PIN",
            ["maps.sensor"] = "probe",
            ["maps.span"] = new Span(0, 3.3),
            ["offset.rail"] = "VDD",
            ["opamp.type"] = "jfet-input",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
            ["input.value"] = new Quantity(47e3, Unit.Ohm),
            ["reference.value"] = new Quantity(reference, Unit.Ohm),
            ["feedback.value"] = new Quantity(feedback, Unit.Ohm),
            ["minus-ground.value"] = new Quantity(150e3, Unit.Ohm),
        };
        return new FrontEnd
        {
            Rails = rails,
            Sensors = Sensors,
            Stages = [Asked.Of("single-stage-shifter", "shift", values, rails, Sensors).Build()],
            Pins = [new("adc", "PIN") { Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
        };
    }

    /// <summary>What the meter reads at nodes of a board, by the engine.</summary>
    private static Reading[] Read(FrontEnd board, params string[] nodes)
    {
        double[] volts = [-1.2, -0.2, 0.8, 1.8];
        return
        [
            .. nodes.SelectMany(node =>
            {
                var circuit = board.ToCircuit();
                double[] read = new Circuit([.. circuit.Elements, new Resistor("meter", node, Circuit.Ground, Meter.InputOhms)]).Compile()
                    .Sweep("probe", volts).Voltage(node);
                return volts.Select((v, k) => new Reading(v, node, read[k], null, k + 2));
            }),
        ];
    }

    [Fact]
    public void A_board_as_planned_reads_as_predicted()
    {
        var result = CompareStudy.Run(Board(), "probe", Read(Board(), "PIN"), Meter);
        Assert.True(result.IsInside);
        Assert.True(result.Mismatch < 1e-6, $"{result.Mismatch}");
        Assert.Empty(result.Likely);
    }

    [Fact]
    public void A_feedback_resistor_4_percent_low_is_found_with_its_value_and_with_what_it_cannot_be_told_from()
    {
        // At the output alone, Rf low and Rg high are one and the same ratio.
        var ambiguous = CompareStudy.Run(Board(), "probe", Read(Board(feedback: 72e3), "PIN"), Meter);
        Assert.True(ambiguous.Likely.Length > 1);
        var found = Assert.Single(ambiguous.Explanations, e => e is { Subject: "shift.Rf", Kind: ExplanationKind.Resistance });
        Assert.Equal(72e3, found.Fitted!.Value.Value, 72.0);
        Assert.True(found.Left < 0.05, $"{found.Left}");
        Assert.False(found.IsWithinTolerance);
        Assert.Equal(-0.04, found.Fitted.Value.Value / found.Planned!.Value.Value - 1, 0.002);
        Assert.Equal(Role.FeedbackResistor, found.Role!.Role);
        Assert.Contains(found, ambiguous.Likely);
    }

    [Fact]
    public void A_reference_48_millivolt_high_is_found_and_is_within_its_tolerance()
    {
        var result = CompareStudy.Run(Board(), "probe", Read(Board(supply: 3.348), "PIN", "VDD"), Meter);
        var best = result.Explanations[0];
        Assert.Equal("VDD", best.Subject);
        Assert.Equal(3.348, best.Fitted!.Value.Value, 1e-3);
        Assert.True(best.IsWithinTolerance);
        Assert.True(best.IsReference);
        Assert.Equal(best, result.Likely[0]);
    }

    [Fact]
    public void A_reference_resistor_that_was_not_soldered_is_found_as_open()
    {
        var result = CompareStudy.Run(Board(), "probe", Read(Board(reference: 1e9), "PIN"), Meter);
        Assert.False(result.IsInside);
        Assert.Equal(new SingleFault("shift.R2", FaultMode.Open), result.Explanations[0].Fault);
        Assert.Equal(Role.ReferenceResistor, result.Explanations[0].Role!.Role);
        Assert.Null(result.Explanations[0].Fitted);
    }

    [Fact]
    public void A_negative_supply_that_is_off_is_found_among_the_single_faults()
    {
        var broken = new SingleFault("VN", FaultMode.RailLost).In(Board());
        var result = CompareStudy.Run(Board(), "probe", Read(broken, "PIN"), Meter);
        var best = result.Explanations[0];
        Assert.Equal(("VN", true), (best.Subject, best.Left < 0.05));
        Assert.Contains(result.Likely, e => e.Subject == "VN");
    }

    [Fact]
    public void Codes_are_compared_in_counts_of_the_rail_as_it_is()
    {
        // A ratiometric reference and converter share the rail: a supply 2 % high leaves the shift's code alone and shrinks the gain's.
        double Code(double sensor, double supply) => Math.Floor((1.1 * sensor + 0.4 * supply) / supply * 4096);
        Reading[] readings = [.. new[] { 0.0, 0.5, 1.0, 1.5 }.Select((v, k) => new Reading(v, "PIN", Code(v, 3.36), "adc", k + 2))];
        var result = CompareStudy.Run(Board(), "probe", readings, Meter);
        var rail = Assert.Single(result.Explanations, e => e.Subject == "VDD");
        Assert.Equal(3.36, rail.Fitted!.Value.Value, 0.01);
    }

    [Fact]
    public void Noise_that_no_single_change_explains_is_called_so()
    {
        Reading[] readings = [.. Read(Board(), "PIN").Select((r, k) => r with { Value = r.Value + (k % 2 == 0 ? 0.3 : -0.3) })];
        var result = CompareStudy.Run(Board(), "probe", readings, Meter);
        Assert.False(result.IsInside);
        Assert.True(result.Likely.IsEmpty || result.Explanations[0].Left > 0.3 * result.Mismatch);
    }

    /// <summary>A sensor behind 100 kohm at a pin that may leak 100 nA either way; another behind 1 kohm beside it.</summary>
    private static FrontEnd Leaking { get; } = new()
    {
        Rails = [Rails[2]],
        Sensors = [new("probe", "IN", new Span(0.5, 2.5), 100e3) { SourceTolerance = 0 }, new("other", "AT", new Span(1, 3), 1e3) { SourceTolerance = 0 }],
        Parts = [new ResistorPart("R1", "AT", Circuit.Ground, new Toleranced(1e3, 0.01))],
        Pins = [new("adc", "IN") { LeakageAmps = 100e-9, Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
    };

    [Theory]
    [InlineData(0)]
    [InlineData(250e-9)]
    public void What_a_pin_may_leak_either_way_is_not_expected_and_is_found_where_it_leaks_more(double amps)
    {
        // Ohm's law: the sensor's volts behind 100 kohm, the meter's 10 Mohm and the leakage at one node.
        double Read(double volts) => (volts / 100e3 - amps) / (1 / 100e3 + 1 / Meter.InputOhms);
        var result = CompareStudy.Run(Leaking, "probe", [.. new[] { 0.5, 1.5, 2.5 }.Select((v, k) => new Reading(v, "IN", Read(v), null, k + 2))], Meter);
        Assert.All(result.Readings, r => Assert.Equal(r.Reading.SensorValue / (1 + 100e3 / Meter.InputOhms), r.Expected, 1e-6));
        Assert.All(result.Readings, r => Assert.Equal(r.Expected - r.Low, r.High - r.Expected, 1e-6));
        Assert.Equal(amps == 0, result.IsInside);
        if (amps == 0)
        {
            Assert.True(result.Mismatch < 1e-3, $"{result.Mismatch}");
            return;
        }
        var pin = Assert.Single(result.Explanations, e => e.Kind == ExplanationKind.PinLeakage);
        Assert.Equal(("adc", false), (pin.Subject, pin.IsWithinTolerance));
        Assert.Equal(amps, pin.Fitted!.Value.Value, 1e-9);
        Assert.Equal(pin, result.Explanations[0]);
    }

    [Fact]
    public void Readings_with_one_sensor_set_and_then_another_are_explained_together()
    {
        // The divider of 1 kohm into R1, which is 5 % high on the board; the meter's load is a ten-thousandth of it.
        Reading[] readings =
        [
            new(1.5, "IN", 1.5 / (1 + 100e3 / Meter.InputOhms), null, 2),
            .. new[] { 1.0, 3 }.Select((v, k) => new Reading(v, "AT", v * 1050 / 2050, null, k + 3) { Sensor = "other" }),
        ];
        var result = CompareStudy.Run(Leaking, "probe", readings, Meter);
        Assert.Equal([true, false, false], result.Readings.Select(r => r.IsInside));
        var best = Assert.Single(result.Explanations, e => e is { Subject: "R1", Kind: ExplanationKind.Resistance });
        Assert.Equal(1050, best.Fitted!.Value.Value, 1.0);
        Assert.Contains(best, result.Likely);
    }
}
