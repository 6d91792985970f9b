using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>A circuit file is changed a thing at a time, and keeps all else byte by byte.</summary>
public class CircuitTextTests
{
    private const string Sample = """
        # Tank, 2026: keep this line.
        circuit "tank"   # and this
        rail VDD  3.3 V   tolerance 2%
        rail VP 9 V
        rail VN -9 V
        let load = 10k
        sensor probe drives IN   # in the lid
        	span   -1.2 V .. 1.8 V
        	source 220 ohm
        stage shift is two-stage-shifter
            from IN to LEVEL
            maps probe onto 0.05 V .. 3.25 V
            offset from VDD
            opamp  jfet-input on VP and VN

        template low-pass from A to B with R = 1k
            resistor R1 from A to B R
            capacitor C1 from B to GND 10n
        stage calm is low-pass
            from LEVEL to MID
        stage guard is pin-guard
            from MID to PIN
            series   1k 1%   # limits
            shunt 100n
        resistor RL from PIN to GND load 1% rated 0.25 W drift 50 ppm/K
        pin adc at PIN rated -0.3 V .. VDD + 0.3 V injection 2 mA
            converts 12 bits over 0 V .. VDD
        event "24 V on it" at IN
            step to 24 V source 1 ohm
        require adc inside rating in every event

        # The end.
        """;

    private static CircuitText Text(string text = Sample) => new(new SourceFile("tank.fes", text));

    [Theory]
    [InlineData("VDD", "5 V", "rail VDD  3.3 V   tolerance", "rail VDD  5 V   tolerance")]
    [InlineData("load", "22k", "let load = 10k", "let load = 22k")]
    [InlineData("RL", "4k7", "to GND load 1%", "to GND 4k7 1%")]
    [InlineData("RL.rated", "0.5 W", "rated 0.25 W", "rated 0.5 W")]
    [InlineData("probe.source", "100 ohm", "source 220 ohm", "source 100 ohm")]
    [InlineData("probe.span", "0 V .. 1 V", "span   -1.2 V .. 1.8 V", "span   0 V .. 1 V")]
    [InlineData("guard.series", "2k2", "series   1k 1%   # limits", "series   2k2 1%   # limits")]
    [InlineData("guard.R", "2k2", "series   1k 1%   # limits", "series   2k2 1%   # limits")]
    [InlineData("guard.C", "10n", "shunt 100n", "shunt 10n")]
    [InlineData("adc.injection", "5 mA", "injection 2 mA", "injection 5 mA")]
    [InlineData("24 V on it.step", "30 V", "step to 24 V", "step to 30 V")]
    public void A_value_is_changed_and_nothing_else(string name, string value, string before, string after) =>
        Assert.Equal(Sample.Replace(before, after), Text().WithValue(name, value).ToString());

    [Fact]
    public void A_resistor_that_the_stage_had_chosen_is_fixed_by_its_setting()
    {
        var changed = Text().WithValue("shift.Rf1", new Quantity(12e3, Unit.Ohm));
        Assert.Equal(Sample.Replace("on VP and VN\n", "on VP and VN\n    feedback 12 kohm\n"), changed.ToString());
        Assert.Equal(12e3, CircuitFile.Load(changed.File).FrontEnd!.Part<ResistorPart>("shift.Rf1").Ohms.Value);
    }

    [Fact]
    public void A_setting_of_a_stage_of_ones_own_is_written_where_it_was_left_out() =>
        Assert.Equal(Sample.Replace("from LEVEL to MID\n", "from LEVEL to MID\n    R 2k2\n"), Text().WithValue("calm.R", "2k2").ToString());

    [Fact]
    public void A_setting_is_changed_and_added_below()
    {
        Assert.Equal(Sample.Replace("offset from VDD", "offset from VP"), Text().WithSetting("shift", "offset from VP").ToString());
        Assert.Equal(Sample.Replace("\tsource 220 ohm\n", "\tsource 220 ohm\n\tedge 5 ms\n"), Text().WithSetting("probe", "edge 5 ms")
            .ToString());
        Assert.Equal(Sample.Replace("rated 0.25 W", "rated 1 W"), Text().WithSetting("RL", "rated 1 W").ToString());
    }

    [Fact]
    public void A_statement_is_added_behind_its_like_and_removed_with_its_settings()
    {
        Assert.Equal(Sample.Replace("rail VN -9 V\n", "rail VN -9 V\nrail VREF 2.5 V\n"), Text().With("rail VREF 2.5 V").ToString());
        Assert.Equal(Sample.Replace("# The end.", "# The end.\n\ntemperature 0 C .. 50 C"), Text().With("temperature 0 C .. 50 C")
            .ToString());
        Assert.Equal(Sample.Replace("event \"24 V on it\" at IN\n    step to 24 V source 1 ohm\n", ""), Text()
            .Without(Text().Find("24 V on it")).ToString());
        Assert.Equal(Sample.Replace("circuit \"tank\"", "circuit \"pond\""), Text().WithLine(Text().Statements[0], "circuit \"pond\"")
            .ToString());
    }

    [Theory]
    [InlineData("\r\n")]
    [InlineData("\r")]
    [InlineData("\n")]
    public void Line_ends_and_a_byte_order_mark_stay_as_they_are(string end)
    {
        string text = "\uFEFF" + Sample.Replace("\n", end);
        Assert.Equal(text.Replace("series   1k", "series   2k2"), Text(text).WithValue("guard.R", "2k2").ToString());
        Assert.Equal(text.Replace($"rail VN -9 V{end}", $"rail VN -9 V{end}rail VREF 2.5 V{end}"), Text(text).With("rail VREF 2.5 V")
            .ToString());
    }

    [Theory]
    [InlineData("R99")]
    [InlineData("guard.R99")]
    [InlineData("adc.rated.x")]
    public void What_is_not_there_cannot_be_changed(string name) => Assert.Throws<ArgumentException>(() => Text().WithValue(name, "1k"));
}
