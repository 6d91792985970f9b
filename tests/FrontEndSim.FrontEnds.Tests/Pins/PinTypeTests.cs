using FrontEndSim.FrontEnds.Pins;

namespace FrontEndSim.FrontEnds.Tests.Pins;

public class PinTypeTests
{
    [Theory]
    [InlineData(5.0, 5.5)]
    [InlineData(3.3, 3.8)]
    [InlineData(0.0, 0.5)]
    public void A_cmos_input_stands_half_a_volt_above_the_supply_that_is_present_and_off_half_a_volt(double supply, double highest)
    {
        // Common practice, no source: a logic pin stands -0.5 V to supply + 0.5 V.
        var type = PinType.Find("cmos-hc")!;
        Assert.Equal(highest, type.RatedHigh("VCC").Resolve(_ => supply), 12);
        Assert.Equal(-0.5, type.RatedLow.Resolve(_ => supply), 12);
    }

    // JESD7A: at 4.5 V low below 1.35 V, high above 3.15 V; JESD13-B: at 5 V 1.5 V and 3.5 V; JESD8C: 0.8 V and 2 V. From memory.
    [Theory]
    [InlineData("cmos-hc", 4.5, 1.35, 3.15)]
    [InlineData("cmos-4000", 5.0, 1.5, 3.5)]
    [InlineData("lvttl", 3.3, 0.8, 2.0)]
    public void Thresholds_are_those_of_the_standard(string name, double supply, double low, double high)
    {
        var type = PinType.Find(name)!;
        Assert.Equal(low, type.LowBelow(supply)!.Value, 9);
        Assert.Equal(high, type.HighAbove(supply)!.Value, 9);
    }

    [Fact]
    public void A_pin_whose_rating_does_not_move_with_its_supply_has_no_clamp_to_it() =>
        Assert.Null(PinType.Find("lvttl")!.ToPin("in", "IN", "VDD").ClampRail);

    [Fact]
    public void Every_type_names_its_source_and_a_converter_has_no_thresholds()
    {
        Assert.All(PinType.All, t => Assert.Contains("memory", t.Source));
        Assert.All(PinType.All.Where(t => t.Name.StartsWith("converter", StringComparison.Ordinal)), t => Assert.Null(t.LowBelow(5)));
    }
}
