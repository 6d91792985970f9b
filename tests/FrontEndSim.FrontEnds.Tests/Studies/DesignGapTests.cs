using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Design;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Where a stage is missing.</summary>
public class DesignGapTests
{
    private static Sensor Sensor(string name, string node) => new(name, node, new(0, 1), 100);

    private static Stage Filter(string name, string from, string to) => new(name, "rc-filter", [new("from", from), new("to", to)],
        [new ResistorPart(name + ".R", from, to, 1e3), new CapacitorPart(name + ".C", to, "GND", 1e-9)]);

    [Fact]
    public void The_gap_lies_between_the_last_stage_behind_the_sensor_and_the_first_ahead_of_the_pin()
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [Sensor("probe", "IN")],
            Stages = [Filter("calm", "IN", "QUIET"), Filter("guard", "LEVEL", "PIN")],
            Pins = [new Pin("adc", "PIN")],
        };
        Assert.Equal(new DesignGap("probe", "adc", "QUIET", "LEVEL"), DesignGap.In(frontEnd));
    }

    [Fact]
    public void A_burden_resistor_at_the_sensor_leaves_the_gap_at_the_sensor()
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [Sensor("probe", "IN")],
            Parts = [new ResistorPart("Rb", "IN", "GND", 100)],
            Pins = [new Pin("adc", "PIN")],
        };
        Assert.Equal(new DesignGap("probe", "adc", "IN", "PIN"), DesignGap.In(frontEnd));
    }

    [Fact]
    public void A_sensor_that_reaches_a_pin_is_not_the_one_to_design_for()
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [Sensor("probe", "IN"), Sensor("other", "IN2")],
            Stages = [Filter("calm", "IN2", "PIN2")],
            Pins = [new Pin("adc", "PIN"), new Pin("adc2", "PIN2")],
        };
        Assert.Equal(new DesignGap("probe", "adc", "IN", "PIN"), DesignGap.In(frontEnd));
    }

    [Theory]
    [InlineData(0, 1, false, ProblemKind.NoSensorToDesignFor, "")]
    [InlineData(1, 0, false, ProblemKind.NoPinToDesignFor, "")]
    [InlineData(2, 1, false, ProblemKind.SeveralFree, "s1 s2")]
    [InlineData(1, 2, false, ProblemKind.SeveralFree, "p1 p2")]
    [InlineData(1, 1, true, ProblemKind.NothingUnfinished, "")]
    public void Without_one_sensor_and_one_pin_to_bring_together_it_is_said_which_there_are(int sensors, int pins, bool connected,
        ProblemKind expected, string which)
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [.. Enumerable.Range(1, sensors).Select(k => Sensor($"s{k}", $"IN{k}"))],
            Pins = [.. Enumerable.Range(1, pins).Select(k => new Pin($"p{k}", $"PIN{k}"))],
            Stages = connected ? [Filter("calm", "IN1", "PIN1")] : [],
        };
        var problem = Assert.Throws<StudyProblemException>(() => DesignGap.In(frontEnd));
        Assert.Equal((expected, which), (problem.Problem.Kind, string.Join(' ', problem.Problem.Known)));
    }
}
