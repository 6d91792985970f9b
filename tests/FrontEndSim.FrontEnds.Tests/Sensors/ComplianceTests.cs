using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>Whether a transmitter can drive its current, by Ohm's law.</summary>
public class ComplianceTests
{
    private static RequirementResult Driven(double supply, double burden, Compliance? limit, AlarmLevels? alarms)
    {
        var level = new Span(0, 5);
        var frontEnd = new FrontEnd
        {
            Rails = [new("VLOOP", new(supply, 0.05, 0))],
            Sensors =
            [
                new("level", "LOOP", level, 0)
                {
                    Quantity = "level", UnitText = "m", Law = new StraightLaw(level, 4e-3, 20e-3, Unit.Amps), Alarms = alarms,
                        Compliance = limit,
                },
            ],
            Parts = [new ResistorPart("Rb", "LOOP", "GND", new(burden, 0.01, 0)), new ResistorPart("Rl", "VLOOP", "GND", new(1e4, 0, 0))],
        };
        return new CurrentsDriven().Judge(new SolvedFrontEnd(frontEnd));
    }

    [Theory]
    [InlineData(24, 250)]
    [InlineData(12, 120)]
    [InlineData(15, 250)]
    public void A_transmitter_keeps_what_Ohms_law_leaves_of_its_supply_at_its_upper_alarm_level(double supply, double burden)
    {
        var result = Driven(supply, burden, new(10, "VLOOP"), AlarmLevels.Ne43);
        // NE 43: 21 mA; the supply 5 % low, the burden 1 % high.
        double across = 0.95 * supply - 21e-3 * 1.01 * burden;
        Assert.Equal(across, result.Found!.Value.Value, 1e-4);
        Assert.Equal(across >= 10, result.Met);
        Assert.Equal(across - 10, result.Margin!.Value.Value, 1e-4);
    }

    [Fact]
    public void One_with_a_supply_of_its_own_drives_its_current_up_to_its_compliance()
    {
        // 20 mA into 500 ohm and 1 %: 10.1 V. With alarm levels and nothing said, 10 V are taken.
        Assert.Equal(10.1, Driven(24, 500, new(12, null), null).Found!.Value.Value, 1e-4);
        Assert.True(Driven(24, 500, new(12, null), null).Met);
        Assert.False(Driven(24, 500, new(10, null), null).Met);
        Assert.True(Driven(24, 450, null, AlarmLevels.Ne43).Met);
        Assert.False(Driven(24, 500, null, AlarmLevels.Ne43).Met);
    }

    [Theory]
    [InlineData(24, null, true)]
    [InlineData(15, null, false)]
    [InlineData(15, 9.0, true)]
    public void A_loop_receiver_asks_for_what_its_transmitter_needs_across_itself(double supply, double? across, bool met)
    {
        var frontEnd = new FrontEnd
        {
            Rails = [new("VLOOP", supply)],
            Sensors = [new("command", "COMMAND", new Span(1, 5), 0)],
            Parts = [new TransmitterPart("T", "COMMAND", "LOOP", "VLOOP") { AcrossVolts = across },
                new ResistorPart("Rb", "LOOP", "GND", 250)],
        };
        var result = new CurrentsDriven().Judge(new SolvedFrontEnd(frontEnd));
        // 20 mA through 250 ohm take 5 V of the supply, whose drift of 50 ppm/K is nothing at 25 °C.
        Assert.Equal(supply - 5, result.Found!.Value.Value, 1e-3);
        Assert.Equal(met, result.Met);
    }
}
