using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Language.Tests;

/// <summary>What a converter measures against, and what feeds a pin.</summary>
public sealed class ReferenceTests
{
    [Fact]
    public void A_reference_that_sags_is_named_with_its_voltage_where_the_pin_itself_is_right()
    {
        var frontEnd = Reading.FrontEnd("""
            circuit "Bridge on the converter's reference"
            rail VREF 2.5 V resistance 10 ohm
            resistor Rb from VREF to GND 500 ohm
            sensor probe drives IN span 0 V .. 2.5 V source 100 ohm
            resistor R1 from IN to PIN 1k
            pin adc at PIN converts 12 bits over 0 V .. VREF
            require adc mapping error under 12 counts
            """);
        var reason = Assert.IsType<MappingReason>(CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken)
            .Requirements.Single().Reason);
        Assert.Equal("VREF", reason.Reference!.Rail);
        // 2.5 V · 500/510; the pin's clamp takes a little of it.
        Assert.Equal(2.5 * 500 / 510, reason.Reference.Volts, 1e-3);
        Assert.Equal(2.5, reason.Reference.NominalVolts);
    }

    [Fact]
    public void A_pin_on_a_regulators_output_is_told_how_to_write_that_supply()
    {
        var result = Reading.Load("""
            circuit "A pin on a regulator"
            rail V5 5 V
            regulator U1 cmos-low-dropout from V5 to V3 ground GND 3.3 V
            sensor probe drives IN span 0 V .. 3 V
            resistor R1 from IN to PIN 10k
            pin adc at PIN type converter-3v3 on V3
            """);
        var told = result.Diagnostics.Single(d => d.Code == "FES304");
        Assert.Contains("rail V3 3.3 V", told.Suggestion);
    }
}
