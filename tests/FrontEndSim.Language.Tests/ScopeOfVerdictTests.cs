using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;

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
        Assert.Equal("FES347", Reading.OnlyDiagnostic(Bench.Replace("rail VDD 5 V", "rail VDD 5 V sinks source-only resistance 1 ohm")).Code);
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
    public void What_cannot_be_accepted_is_answered(string text, string code) => Assert.Equal(code, Reading.OnlyDiagnostic(Bench + text).Code);

    [Fact]
    public void A_pin_may_say_where_a_span_is_wanted_even_upside_down()
    {
        var wanted = Reading.FrontEnd(Bench + "pin adc at IN converts 10 bits over 0 V .. VDD maps s onto 1 V .. 4 V inverted").Pins.Single().Wanted!;
        Assert.Equal((new Span(0, 5), new Span(1, 4)), (wanted.Input, wanted.Output));
        Assert.Equal([4, 1], new[] { wanted.Ideal(0), wanted.Ideal(5) });
    }
}
