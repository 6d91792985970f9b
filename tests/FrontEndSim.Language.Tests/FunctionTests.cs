using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Tests;

public class FunctionTests
{
    private const string Bench = """
        circuit "bench"
        sensor s drives IN span 0 V .. 1 V
        resistor R1 from IN to OUT 1k
        resistor R2 from OUT to GND 
        """;

    // Logarithm and exponential by definition; the geometric mean of 1 kohm and 4 kohm is 2 kohm.
    [Theory]
    [InlineData("sqrt(1k * 4k)", 2000)]
    [InlineData("1k * exp(ln(2))", 2000)]
    [InlineData("log10(1000) * 1 kohm", 3000)]
    [InlineData("abs(-2 kohm)", 2000)]
    [InlineData("max(1k, 2k, 500 ohm)", 2000)]
    [InlineData("min(3k, 2k)", 2000)]
    [InlineData("2 * sqrt((1 V / 1 mA) * 1k)", 2000)]
    public void Values_are_made_with_the_usual_functions(string value, double ohms) =>
        Assert.Equal(ohms, Reading.FrontEnd(Bench + value).Part<ResistorPart>("R2").Ohms.Value, ohms * 1e-12);

    [Theory]
    [InlineData("1k * sqroot(4)", "FES321")]
    [InlineData("1k * exp(1, 2)", "FES321")]
    [InlineData("min(1k)", "FES321")]
    [InlineData("1k * ln(1 V)", "FES317")]
    [InlineData("max(1k, 1 V)", "FES317")]
    [InlineData("sqrt(1 kohm)", "FES317")]
    [InlineData("1k * ln(0)", "FES314")]
    public void A_function_that_makes_no_sense_is_answered(string value, string code) =>
        Assert.Equal(code, Reading.Load(Bench + value).Diagnostics.First(d => d.IsError).Code);
}
