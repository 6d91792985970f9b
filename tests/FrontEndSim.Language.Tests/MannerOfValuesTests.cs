using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>A value is changed where it is written, in the manner in which it was written.</summary>
public class MannerOfValuesTests
{
    private const string Text = """
        circuit "A filter" # said once
        rail VDD 3.3 V
        sensor probe drives IN span 0 V .. 3 V

        # The resistor, R1, of 4.7 kohm.
        resistor  R1 from IN to A 4.7 kohm 1%   # not 4k7 by chance
        resistor  R2 from A to B 4k7 5%
        capacitor C1 from B to GND 100nF
        template two from X to Y with R = 10k
            resistor R1 from X to Y R
            resistor R2 from Y to GND R
        stage t is two
            from B to PIN
            R 22k
        pin adc at PIN
        """;

    private static string Changed(string text, string part, double value) => new CircuitText(new SourceFile("a.fes", text))
        .WithValue(part, new Quantity(value, part == "C1" ? Unit.Farad : Unit.Ohm)).ToString();

    [Theory]
    [InlineData("R1", 5600, "to A 4.7 kohm 1%", "to A 5.6 kohm 1%")]
    [InlineData("R2", 150, "to B 4k7 5%", "to B 150R 5%")]
    [InlineData("R2", 1.2e6, "to B 4k7 5%", "to B 1M2 5%")]
    [InlineData("C1", 2.2e-6, "GND 100nF", "GND 2.2uF")]
    public void One_number_is_exchanged_and_all_else_stays(string part, double value, string before, string after) =>
        Assert.Equal(Text.Replace(before, after, StringComparison.Ordinal), Changed(Text, part, value));

    [Fact]
    public void A_parameter_is_changed_where_the_stage_gives_it() =>
        Assert.Equal(Text.Replace("R 22k", "R 33k", StringComparison.Ordinal), Changed(Text, "t.R1", 33e3));

    [Fact]
    public void The_ends_of_lines_stay_what_they_are()
    {
        string text = Text.ReplaceLineEndings("\r\n");
        Assert.Equal(text.Replace("4.7 kohm 1%", "5.6 kohm 1%", StringComparison.Ordinal), Changed(text, "R1", 5600));
    }

    [Fact]
    public void What_is_computed_or_not_there_cannot_be_changed()
    {
        string text = Text.Replace("4k7 5%", "2 * 2.35 kohm 5%", StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Changed(text, "R2", 5600));
        Assert.Throws<ArgumentException>(() => Changed(Text, "R9", 5600));
    }
}
