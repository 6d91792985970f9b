using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>What a file leaves unsaid is not taken to be ideal.</summary>
public class LeftOutTests
{
    private static FrontEnd Guard(double ohms) => new()
    {
        Rails = [new Rail("VDD", new Toleranced(3.3, 0.01)) { Sinks = true }],
        Sensors = [new Sensor("probe", "IN", new Span(0, 3), 100)],
        Parts = [new ResistorPart("R1", "IN", "PIN", ohms) { RatedWatts = 1 }],
        Pins = [new Pin("adc", "PIN") { RatedHigh = new Level("VDD", 0.3), InjectionAmps = 2e-3 }],
        Events = [new("24 V", "IN", new StepTo(24, 1, 1e-3, 20e-3))],
    };

    [Theory]
    [InlineData(false, Verdict.Met)]
    [InlineData(true, Verdict.NotMet)]
    public void A_resistor_without_a_tolerance_is_five_per_cent_off_where_that_decides(bool isLeftOut, Verdict expected)
    {
        // (24 V - 4 V)/10.2 kohm is 1.96 mA, of 2 mA allowed; 5 % less resistance, as E24 has (IEC 60063), is 2.06 mA.
        var frontEnd = Guard(10_200);
        frontEnd = isLeftOut ? frontEnd with { WithoutTolerance = ["R1"] } : frontEnd;
        var inside = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is InsideRating);
        Assert.Equal(expected, inside.Verdict);
        if (isLeftOut)
            Assert.Equal(0.95 * 10_200, Assert.IsType<PinReason>(inside.Reason).Where.Ends.Single(e => e.Subject == "R1").Value.Value, 1);
    }

    [Theory]
    [InlineData(false, 11)]
    [InlineData(true, 5)]
    public void A_supply_drawn_as_a_source_is_lifted_unless_it_sinks(bool sinks, double volts)
    {
        // 12 V through 1 kohm and a junction's 0.6 V to 0.8 V into a node that nothing else loads.
        var frontEnd = new FrontEnd
        {
            Parts =
            [
                new SourcePart("V5", "VCC", Circuit.Ground, new Constant(5), 0) { Sinks = sinks }, new ResistorPart("R1", "IN", "A", 1000),
                new DiodePart("D1", "A", "VCC", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!),
                new SourcePart("V12", "IN", Circuit.Ground, new Constant(12), 0),
            ],
        };
        Assert.InRange(new SolvedFrontEnd(frontEnd).Rest().Nodes["VCC"], volts, volts + 0.8);
    }

    [Fact]
    public void A_pin_reads_the_sensor_that_it_is_said_to_map_and_not_the_nearer_one()
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("near", "PIN", new Span(0, 1), 1e6), new Sensor("far", "IN", new Span(0, 4), 0)],
            Parts = [new ResistorPart("R1", "IN", "M", 1000), new ResistorPart("R2", "M", "PIN", 1000),
                new ResistorPart("R3", "PIN", Circuit.Ground, 2000)],
            Pins = [new Pin("adc", "PIN") { HasClamps = false, Wanted = new("far", new Span(0, 4), new Span(0, 2)) }],
        };
        Assert.Equal("far", MappingStudy.SensorOf(frontEnd, frontEnd.Pins[0])!.Name);
        Assert.True(MappingStudy.Maps(frontEnd, frontEnd.Pins[0], frontEnd.Sensors[1]));
        Assert.Equal("far", new SolvedFrontEnd(frontEnd).Mapping("adc").Sensor);
        Assert.Equal("near", MappingStudy.SensorOf(frontEnd, frontEnd.Pins[0] with { Wanted = null })!.Name);
    }

    [Theory]
    [InlineData(false, Verdict.Met)]
    [InlineData(true, Verdict.NotMet)]
    public void What_a_pin_takes_with_the_supplies_off_is_judged_where_the_file_asks_and_said_where_it_does_not(bool isAsked,
        Verdict expected)
    {
        // (24 V - 0.8 V)/11 kohm is 2.1 mA into a dead supply, and (24 V - 4 V)/11 kohm 1.8 mA into a live one.
        var frontEnd = Guard(11_000) with { AlsoUnpowered = isAsked };
        var check = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(expected, check.Verdict);
        // At rest the sensor's 3 V reach it through 11.1 kohm.
        if (isAsked)
            Assert.Null(check.Scope!.Unpowered);
        else
            Assert.InRange(check.Scope!.Unpowered!.Found.Value, 2.2 / 11_100, 2.5 / 11_100);
    }
}
