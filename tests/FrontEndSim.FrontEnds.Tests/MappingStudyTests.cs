using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Tests;

public class MappingStudyTests
{
    [Fact]
    public void The_error_at_the_pin_is_that_of_the_stages_closed_form_in_counts()
    {
        var stage = FrontEndOf.Shifter();
        var mapping = MappingStudy.Run(FrontEndOf.Of(stage,
            FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(1e3)))), "adc");
        Assert.Equal("probe", mapping.Sensor);
        Assert.All(mapping.Points, p => Assert.Equal((stage.Expected!.Output(p.SensorValue) - p.IdealVolts) / (3.3 / 4096), p.ErrorCounts,
            0.01));
        Assert.Equal(-1.2, mapping.Points[0].SensorValue);
        Assert.Equal(1.8, mapping.Points[^1].SensorValue);
    }

    [Fact]
    public void The_error_of_a_pull_down_is_that_of_the_divider_it_makes()
    {
        // 4k7 and 470k divide by 1 − 4.7/474.7: 1 % of what the shifter gives at the top, 4096 counts or nearly.
        double top = FrontEndOf.Shifter().Expected!.Output(1.8);
        var mapping = MappingStudy.Run(FrontEndOf.Of(FrontEndOf.Shifter(), FrontEndOf.Guard(("from.input", "LEVEL"),
            ("series.value", FrontEndOf.Ohm(4700)), ("pulldown.value", FrontEndOf.Ohm(470e3)))), "adc");
        Assert.Equal((top * 470 / 474.7 - 3.3) / (3.3 / 4096), mapping.Points[^1].ErrorCounts, 0.05);
    }

    [Fact]
    public void Gain_offset_and_curvature_add_up_to_the_error_at_every_point()
    {
        var mapping = MappingStudy.Run(FrontEndOf.Guarded(), "adc");
        double width = mapping.Points[^1].SensorValue - mapping.Points[0].SensorValue;
        Assert.All(mapping.Points, p => Assert.InRange(Math.Abs(p.ErrorCounts - mapping.OffsetErrorCounts
            - mapping.GainErrorCounts * (p.SensorValue - mapping.Points[0].SensorValue) / width), 0,
                Math.Abs(mapping.NonlinearityCounts) + 1e-9));
    }

    [Fact]
    public void Codes_stop_at_the_ends_of_the_converter()
    {
        var loud = FrontEndOf.Probe with { Span = new Span(-2, 3) };
        var frontEnd = FrontEndOf.Of(FrontEndOf.Shifter(),
            FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(1e3))));
        var mapping = MappingStudy.Run(frontEnd with { Sensors = [loud] }, "adc");
        Assert.Equal(0, mapping.Points[0].Code);
        Assert.Equal(4095, mapping.Points[^1].Code);
    }

    [Fact]
    public void Headroom_is_the_distance_between_the_output_and_the_rail_less_its_drop()
    {
        // The second op amp reaches 3.3 V of 9 V − 2 V; the first −3.3 V or so of −9 V + 2 V: 3.7 V either way with unity second stage.
        var mapping = MappingStudy.Run(FrontEndOf.Guarded(), "adc");
        var second = mapping.Headroom.Single(h => h.OpAmp == "shift.U2");
        Assert.Equal(3.7, second.SwingVolts, 0.01);
        Assert.Equal("upper", second.SwingSide);
        Assert.Equal(1.8, second.SwingAt, 1e-9);
    }

    [Fact]
    public void A_pin_that_no_sensor_reaches_is_said_so()
    {
        var problem = Assert.Throws<StudyProblemException>(() => MappingStudy.Run(FrontEndOf.Of(), "adc"));
        Assert.Equal(new Problem(ProblemKind.NoSensorReaches, "adc"), problem.Problem);
    }
}
