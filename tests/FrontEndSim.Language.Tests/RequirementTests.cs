using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>What may be required, in words.</summary>
public class RequirementTests
{
    private const string Bench = """
        circuit "bench"
        rail VDD 3.3 V
        sensor s drives IN span 0 V .. 3 V
        resistor R1 from IN to PIN 10k
        resistor R2 from PIN to GND 1M
        pin adc at PIN converts 12 bits over 0 V .. VDD
        event "24 V" at IN step to 24 V source 1 ohm either way

        """;

    [Theory]
    [InlineData("adc mapping error under 3 counts")]
    [InlineData("adc mapping error under 0.25 counts on every board")]
    [InlineData("adc mapping error under 3 counts on 95% of boards")]
    [InlineData("adc mapping error under 3 counts on every board after calibration")]
    [InlineData("adc mapping error under 3 counts on 99.9% of boards after calibration")]
    [InlineData("adc reading error under 0.1 V over 0.5 V .. 2 V on 95% of boards after calibration")]
    [InlineData("adc settles to 1 counts within 5 ms")]
    [InlineData("adc settles to 1 mV within 5 ms")]
    [InlineData("adc noise under 0.5 counts")]
    [InlineData("adc noise under 20 uV")]
    [InlineData("PIN within -100 mV .. 3.4 V")]
    [InlineData("PIN within -100 mV .. 3.4 V in every event")]
    [InlineData("VDD takes under 5 mA in every event")]
    [InlineData("VDD takes under 5 mA")]
    public void A_requirement_is_written_as_it_is_read(string words)
    {
        var before = Reading.FrontEnd(Bench + "require " + words).Requirements;
        var after = Reading.FrontEnd(FrontEndText.Of(Reading.FrontEnd(Bench + "require " + words))).Requirements;
        Assert.Equal(before.Select(r => r with { Text = "" }), after.Select(r => r with { Text = "" }));
    }

    [Fact]
    public void What_must_hold_in_an_event_that_comes_either_way_must_hold_in_both() =>
        Assert.Equal(2, Reading.FrontEnd(Bench + "require PIN within -100 mV .. 3.4 V in event \"24 V\"").Requirements.Length);

    [Theory]
    [InlineData("adc mapping error under 3 counts on 20% of boards", "FES310")]
    [InlineData("adc mapping error under 3 counts on 100% of boards", "FES310")]
    [InlineData("adc mapping error under 3 counts after calibration", null)]
    // what holds of itself
    [InlineData("adc mapping error under 4095 counts", null)]
    [InlineData("adc mapping error under 4096 counts", "FES310")]
    [InlineData("adc settles to 5000 counts within 5 ms", "FES310")]
    [InlineData("adc noise under 4096 counts", "FES310")]
    [InlineData("adc settles to 1 ohm within 5 ms", "FES315")]
    [InlineData("adc settles to 0 V within 5 ms", "FES310")]
    [InlineData("adc noise under 0 V", "FES310")]
    [InlineData("adc noise under 5%", "FES315")]
    [InlineData("PINN within 0 V .. 3.4 V", "FES304")]
    [InlineData("PIN within 3.4 V .. 0 V", "FES312")]
    [InlineData("PIN within 0 V .. 3.4 V in event \"12 V\"", "FES304")]
    [InlineData("adc takes under 5 mA", "FES303")]
    [InlineData("VDD takes under 0 A", "FES310")]
    public void A_requirement_that_makes_no_sense_is_answered_in_one_line(string words, string? code) =>
        Assert.Equal(code, Reading.Load(Bench + "require " + words).Diagnostics.SingleOrDefault(d => d.IsError)?.Code);
}
