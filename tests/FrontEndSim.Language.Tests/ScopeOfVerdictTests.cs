using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Language.Tests;

/// <summary>What a file says of the conditions under which a verdict holds.</summary>
public class ScopeOfVerdictTests
{
    private const string Bench = """
        circuit "bench"
        rail VDD 5 V
        sensor s drives IN span 0 V .. 5 V
        resistor R1 from IN to VDD 1k

        """;

    [Theory]
    [InlineData("temperature -20 C .. 60 C", 25)]
    [InlineData("temperature 40 C .. 85 C", 40)]
    [InlineData("temperature -40 C .. 0 C", 0)]
    public void A_range_of_temperature_is_looked_at_from_25_degrees_or_its_nearest_end(string text, double celsius)
    {
        var f = Reading.FrontEnd(Bench + text);
        Assert.Equal(celsius, f.Celsius);
        Assert.NotNull(f.CelsiusRange);
        Assert.InRange(celsius, f.CelsiusRange.Value.Low, f.CelsiusRange.Value.High);
    }

    [Fact]
    public void A_range_of_temperature_runs_upwards() =>
        Assert.Equal("FES310", Reading.OnlyDiagnostic(Bench + "temperature 60 C .. -20 C").Code);

    [Fact]
    public void A_rail_may_be_said_to_sink_and_to_be_loaded()
    {
        var rail = Reading.FrontEnd(Bench.Replace("rail VDD 5 V", "rail VDD 5 V sinks load 20 mA")).Rails.Single();
        Assert.Equal((true, 0.02), (rail.Sinks, rail.LoadAmps));
        Assert.Equal("FES347", Reading.OnlyDiagnostic(Bench.Replace("rail VDD 5 V", "rail VDD 5 V sinks source-only resistance 1 ohm"))
            .Code);
    }

    [Fact]
    public void What_is_accepted_keeps_its_event_and_its_reason()
    {
        var f = Reading.FrontEnd(Bench + "event \"e\" at IN open\naccept R1 beyond power in \"e\" because \"fused\"");
        Assert.Equal(new AcceptedStress("R1", "power", "e", "fused"), f.Accepted.Single());
        Assert.True(f.Accepted[0].Covers("R1", "Power", "e"));
        Assert.False(f.Accepted[0].Covers("R1", "Power", null));
    }

    [Theory]
    [InlineData("accept R2 beyond power because \"why\"", "FES304")]
    [InlineData("accept R1 beyond torque because \"why\"", "FES343")]
    [InlineData("accept R1 beyond power in \"never\" because \"why\"", "FES304")]
    [InlineData("accept R1 beyond power because \" \"", "FES348")]
    public void What_cannot_be_accepted_is_answered(string text, string code) =>
        Assert.Equal(code, Reading.OnlyDiagnostic(Bench + text).Code);

    [Fact]
    public void A_pin_may_say_where_a_span_is_wanted_even_upside_down()
    {
        var wanted = Reading.FrontEnd(Bench + "pin adc at IN converts 10 bits over 0 V .. VDD maps s onto 1 V .. 4 V inverted")
            .Pins.Single().Wanted!;
        Assert.Equal((new Span(0, 5), new Span(1, 4)), (wanted.Input, wanted.Output));
        Assert.Equal([4, 1], new[] { wanted.Ideal(0), wanted.Ideal(5) });
    }

    [Theory]
    [InlineData("0 V .. 5 V", true)]
    [InlineData("0 V .. 5 V gain-error 2 counts", false)]
    [InlineData("0 V .. VDD", false)]
    public void A_converter_that_measures_against_plain_volts_is_said_to_be_taken_as_exact(string range, bool isSaid)
    {
        var result = CheckStudy.Run(Reading.FrontEnd(Bench + $"pin adc at IN converts 10 bits over {range}"),
            cancel: TestContext.Current.CancellationToken);
        Assert.Equal(isSaid ? ["adc"] : [], result.Scope!.ExactReferences);
    }

    [Fact]
    public void A_requirement_that_cannot_be_judged_is_not_known_and_the_others_are_judged()
    {
        // A capacitor keeps the sound from the pin: nothing is read at rest, and R1 has 0.1 mW of its 250 mW.
        const string Blocked = """
            circuit "microphone"
            rail VDD 3.3 V tolerance 1%
            sensor voice of pressure -1 Pa .. 1 Pa drives IN gives -500 mV .. 500 mV source 2 kohm
            capacitor C1 from IN to PIN 1u 10%
            resistor R1 from PIN to VDD 100k 1%
            resistor R2 from PIN to GND 100k 1%
            pin adc at PIN type converter-3v3 on VDD converts 12 bits over 0 V .. VDD
            require adc reading error under 0.05 Pa
            require R1 power under 50%
            """;
        var result = CheckStudy.Run(Reading.FrontEnd(Blocked), cancel: TestContext.Current.CancellationToken);
        Assert.Equal([Verdict.NotKnown, Verdict.Met], result.Requirements.Select(r => r.Verdict));
        Assert.Equal(Verdict.NotKnown, result.Verdict);
    }

    [Fact]
    public void What_is_read_over_whole_periods_need_not_show_at_rest()
    {
        const string Coupled = """
            circuit "microphone"
            rail VDD 3.3 V tolerance 1%
            sensor voice of pressure 0 Pa .. 1 Pa drives IN gives 0 mV .. 500 mV alternates at 1 kHz as peak
            capacitor C1 from IN to PIN 1u 10%
            resistor R1 from PIN to VDD 100k 1%
            resistor R2 from PIN to GND 100k 1%
            pin adc at PIN type converter-3v3 on VDD converts 12 bits over 0 V .. VDD
            reading loud from adc as rms of 20 samples a period over 10 periods
            require loud reading error under 0.05 Pa
            """;
        Assert.Equal(Verdict.Met, CheckStudy.Run(Reading.FrontEnd(Coupled), cancel: TestContext.Current.CancellationToken).Verdict);
    }
}
