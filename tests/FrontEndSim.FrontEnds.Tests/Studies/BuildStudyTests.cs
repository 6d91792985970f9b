using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>The build sheet: parts, bench points, firmware constants.</summary>
public class BuildStudyTests(ITestOutputHelper output)
{
    private static Stage Build(string kind, string name, ImmutableArray<Rail> rails, ImmutableArray<Sensor> sensors,
        params (string Key, object Value)[] values) =>
        Asked.Of(kind, name, values.ToDictionary(v => v.Key, v => v.Value), rails, sensors).Build();

    /// <summary>A divider by two of ideal resistors onto a 12 bit pin over 0 V .. 3.3 V, with a 24 V fault at the terminal.</summary>
    private static FrontEnd Divider(double tolerance = 0.01)
    {
        ImmutableArray<Rail> rails = [new("VDD", 3.3)];
        ImmutableArray<Sensor> sensors = [new("probe", "IN", new Span(0, 6), 100) { SourceTolerance = 0 }];
        var stage = Build("passive-shifter", "half", rails, sensors, ("from.input", "IN"), ("from.output", "PIN"),
            ("maps.sensor", "probe"), ("maps.span", new Span(0, 3)), ("resistors.series", "E24"), ("resistors.tolerance", tolerance),
            ("input.value", new Quantity(9.9e3, Unit.Ohm)), ("ground.value", new Quantity(10e3, Unit.Ohm)));
        return new FrontEnd
        {
            Title = "A divider",
            Rails = rails,
            Sensors = sensors,
            Stages = [stage],
            Pins =
            [
                new("adc", "PIN")
                {
                    RatedLow = new(null, -0.3), RatedHigh = new("VDD", 0.3), InjectionAmps = 5e-3,
                    Converter = new(12, new(new(null, 0), new("VDD", 0))),
                },
            ],
            Events = [new("24 V on the terminal", "IN", new StepTo(24, 1, 1e-3))],
        };
    }

    [Fact]
    public void The_firmware_s_slope_and_offset_are_those_of_the_divider()
    {
        var constants = Assert.Single(BuildStudy.Run(Divider()).Firmware);
        // One count is 3.3 V / 4096 at the pin and twice that at the sensor; code k is the middle of its step. The pin's clamps
        // leak femtoamperes.
        Assert.Equal(2 * 3.3 / 4096, constants.Line!.Slope, 1e-9);
        Assert.Equal(3.3 / 4096, constants.Line.Offset, 1e-6);
        Assert.Equal(Math.Floor(3.0 / 3.3 * 4096), constants.HighCode);
    }

    [Fact]
    public void What_a_part_exceeds_is_told_with_the_event_that_does_it_and_what_it_bears_of_nothing_is_not()
    {
        // 15 kV through 330 ohm onto the sensor's 100 ohm leave 3.5 kV, more than such a resistor stands for nanoseconds (2.5 kV).
        var front = Divider() with { Events = [new("24 V", "IN", new StepTo(24, 1, 1e-3)), new("a touch", "IN", new Discharge(15e3))] };
        var first = BuildStudy.Run(front).Parts.Single(p => p.Names.Contains("half.R1"));
        Assert.True(first.IsBeyond);
        Assert.Contains(first.Worst, w => w is { IsBeyond: true, Unit: "V", Event: "a touch" });
        Assert.All(first.Worst.Where(w => !w.IsBeyond), w => Assert.True(w.Found > 0));
    }

    [Fact]
    public void What_to_expect_at_the_bench_is_the_middle_of_what_a_pin_may_leak()
    {
        var front = Divider();
        front = front with { Pins = [front.Pins[0] with { LeakageAmps = 1e-6 }] };
        var at = BuildStudy.Run(front).Points.Single(p => p is { Place: BenchPlace.Pin, SensorValue: 3 });
        // Half of 3 V, loaded with the meter's 10 Mohm: 5 kohm of 10.005 Mohm. The leakage of 5 mV is in the limits, either way.
        Assert.Equal(1.5 * 10e6 / 10.005e6, at.ExpectedVolts, 1e-4);
        Assert.True(at.LowVolts < at.ExpectedVolts - 5e-3 && at.HighVolts > at.ExpectedVolts + 5e-3);
    }

    [Fact]
    public void The_whole_number_line_is_off_by_no_more_than_it_says_and_by_less_than_a_microvolt_and_a_half()
    {
        var c = BuildStudy.Run(Divider()).Firmware[0].Line!;
        double worst = 0;
        for (long code = 0; code < 4096; code++)
            worst = Math.Max(worst, Math.Abs(c.Whole.At(code) - 1e6 * (c.Offset + c.Slope * code)));
        Assert.Equal(1e-6, c.Whole.ResultUnit);
        Assert.Equal(worst, 1e6 * c.Whole.RoundingError, 1e-6);
        Assert.True(worst < c.Slope * 1e6 * 0.05, $"{worst} µV");
        if (c.Whole.ProductBits == 32)
            Assert.True(4096 * Math.Abs(c.Whole.Factor) + c.Whole.Rounding <= int.MaxValue);
    }

    [Fact]
    public void A_bench_point_counts_the_meter_s_load_and_the_tolerances()
    {
        var points = BuildStudy.Run(Divider(), new BenchMeter(0, 0, 1e6)).Points;
        var full = Assert.Single(points, p => p is { Node: "PIN", SensorValue: 6 });
        // 5 kohm behind 3 V, loaded with 1 Mohm.
        Assert.Equal(3 * 1e6 / (1e6 + 5e3), full.ExpectedVolts, 1e-6);
        // Both resistors 1 % apart in opposite directions, and their drift is none at 25 °C: 6 V·R3/(R1 + R3), to first order 3 V ± 1 %.
        Assert.Equal(0.03, full.HighVolts - full.ExpectedVolts, 1e-3);
        Assert.Equal(0.03, full.ExpectedVolts - full.LowVolts, 1e-3);
    }

    [Fact]
    public void A_resistor_s_watts_come_from_the_worst_event()
    {
        var sheet = BuildStudy.Run(Divider());
        foreach (var line in sheet.Parts)
            output.WriteLine($"{string.Join(",", line.Names)} {line.Word} {line.Value} {line.Needed} {string.Join(", ", line.Worst)} "
                + $"{line.IsBeyond}");
        foreach (var step in sheet.Steps)
            output.WriteLine(step.ToString());
        foreach (var p in sheet.Points)
            output.WriteLine($"{p.Sensor} {p.SensorValue}: {p.Node} {p.Place} {p.Of} {p.ExpectedVolts:F4} {p.LowVolts:F4} "
                + $"{p.HighVolts:F4} {p.Code}");
        // 24 V with the pin clamped near 4 V: (20 V)²/10 kohm is 40 mW, so that an eighth of a watt would do; the file's 0.25 W stays.
        var line1 = Assert.Single(sheet.Parts, l => l.Names.Contains("half.R1"));
        Assert.Equal(new PartsNeed(RatingKind.Power, 0.25), line1.Needed);
        Assert.Equal("24 V on the terminal", Assert.Single(line1.Worst).Event);
    }
}
