using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

/// <summary>Wrong lines as people write them, and the answer that helps.</summary>
public class MessageTests
{
    private const string Bench = """
        circuit "bench"
        rail VP 9 V
        rail VN -9 V
        sensor s drives IN span 0 V .. 1 V
        resistor R1 from IN to OUT 1k

        """;

    [Theory]
    [InlineData("resistor R2 from OUT to GND 1 k", "1k without the blank")]
    [InlineData("resistor R2 from OUT to GND 10Meg", "10 Mohm")]
    [InlineData("resistor R2 from OUT to 0 1k", "GND, if it is ground")]
    [InlineData("resistor R2 from OUT to GND 10m", "10 mohm")]
    [InlineData("inductor L1 from OUT to GND 10m", "10 mH")]
    [InlineData("schottky D1 from OUT to GND 1N4148", "1N4148 is a diode, but a schottky is needed")]
    [InlineData("diode D1 from OUT to GND type 1N4148", "1N4148 alone, without the word type")]
    [InlineData("event \"a\" at IN step to 5 V source 1 ohm with VP lost VN lost", "','")]
    [InlineData("opamp U1 bipolar-general plus OUT minus A output A on VN and VP", "VP is")]
    [InlineData("opamp U1 bipolar-general plus OUT minus A output A on VCC and GND", "rail VCC 5 V")]
    [InlineData("gate U1 cmos-hc from OUT to A on VCC\nresistor R3 from A to GND 1k", "VCC, which is no rail")]
    public void What_was_meant_is_named(string line, string help)
    {
        string said = string.Join("\n", Reading.Load(Bench + line).Diagnostics.Where(d => d.IsError).Select(DiagnosticPrinter.Print));
        Assert.Contains(help.Replace("VP is", "on VP and VN"), said);
    }

    // Words of the trade, and of other tools, that begin no statement here.
    public static TheoryData<string> ForeignWords { get; } =
    [
        "mosfet", "npn", "tvs", "triac", "scr", "thyristor", "igbt", "jfet", "crystal", "dac", "snubber", "ntc", "thermistor", "rtd", "pt100", "mov", "gdt",
        "ptc", "opto", "ldo", "buck", "boost", "darlington", "phototransistor", "photodiode", "relay", "inamp", "mux", "bridge-rectifier", "lvdt", "timer",
        "555", "supercap", "solenoid", "pga", "digital-isolator", "pll", "uart", "ferrite", "cmc", "xfmr", "coax", "adc", "cap", "vsource", "hall",
    ];

    [Theory]
    [MemberData(nameof(ForeignWords))]
    public void A_word_of_another_tongue_is_answered_with_a_line_that_can_be_read(string word)
    {
        var wrong = Reading.Load($"{Bench}{word} X1 A B 1k").Diagnostics.Single(d => d.Code == "FES222");
        Assert.StartsWith("such as: ", wrong.Suggestion);
        string line = wrong.Suggestion!["such as: ".Length..].Split("; ")[0];
        // It may name what this bench has not; its form is right.
        Assert.DoesNotContain(Reading.Load(Bench + line).Diagnostics, d => d.Code.StartsWith("FES22", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("cable", "LENGTH metres OHMS")]
    [InlineData("transformer", "saturates at FLUX")]
    public void A_part_whose_numbers_stand_on_its_own_line_is_answered_with_that_line(string kind, string said) =>
        Assert.Contains(said, Reading.Load($"{Bench}part T1 is {kind}").Diagnostics.Single(d => d.Code == "FES356").Suggestion);

    [Theory]
    [InlineData("triac", "not modelled")]
    [InlineData("crystal", "not modelled")]
    [InlineData("buck", "not modelled")]
    public void What_is_not_modelled_is_said_to_be_so_of_a_data_sheet_too(string kind, string said) =>
        Assert.Contains(said, Reading.Load($"{Bench}part T1 is {kind}\n    rated 1 W").Diagnostics.Single(d => d.Code == "FES356").Suggestion
            + Reading.Load($"{Bench}{kind} X1 A B").Diagnostics.First(d => d.Code == "FES222").Suggestion);

    [Theory]
    [InlineData("sensor t drives IN2\n    span 0 V to 1 V\nresistor R2 from IN2 to OUT 1k")]
    [InlineData("event \"e\" at IN\n    step to 24 V surce 1 ohm")]
    public void A_broken_line_is_answered_once(string text)
    {
        var wrong = Assert.Single(Reading.Load(Bench + text).Diagnostics, d => d.IsError);
        Assert.Equal("FES220", wrong.Code);
    }

    [Fact]
    public void No_line_of_a_message_is_longer_than_a_page_is_wide()
    {
        string said = DiagnosticPrinter.Print(Reading.Load(Bench + "event \"e\" at IN\n    stepp to 24 V").Diagnostics);
        Assert.All(said.Split('\n').Where(l => l.StartsWith(' ')), line => Assert.True(line.Length <= 140, line));
    }

    [Fact]
    public void A_form_of_many_settings_is_told_by_its_line_and_their_first_words()
    {
        string advice = Reading.OnlyDiagnostic(Bench + "sensor p 0 V .. 10 V drives IN").Suggestion!;
        Assert.StartsWith("the form sensor NAME [of", advice);
        Assert.Contains("and then or below it: span, gives, potentiometer", advice);
        Assert.InRange(advice.Length, 100, 600);
    }

    [Theory]
    [InlineData("stage guard is pin-guard\n    from OUT to PIN\n    series 1k\n    capacitor 10n", "the form shunt")]
    [InlineData("sensor p drives IN2\n    range 0 V .. 10 V", "the form span")]
    [InlineData("rail V3 3.3 V\n    current 20 mA", "the form load")]
    public void A_setting_by_another_word_of_the_trade_is_told_in_ours(string text, string advice) =>
        Assert.Contains(Reading.Load(Bench + text).Diagnostics, d => d.Suggestion?.StartsWith(advice, StringComparison.Ordinal) is true);

    [Fact]
    public void A_control_character_in_a_text_is_refused() =>
        Assert.Equal("FES202", Reading.Load("circuit \"a\u001b[31mb\"\nresistor R1 from A to GND 1k").Diagnostics.First().Code);

    [Fact]
    public void An_event_either_way_is_two_and_both_are_meant_by_its_name()
    {
        var f = Reading.FrontEnd(Bench + """
            pin adc at OUT rated -0.3 V .. 3.6 V
            event "hand" at IN discharge 4 kV either way
            require adc inside rating in event "hand"
            accept R1 beyond power in "hand" because "pulse-proof"
            """);
        Assert.Equal([4e3, -4e3], f.Events.Select(e => ((Discharge)e.Disturbance).Volts));
        Assert.Equal(f.Events.Select(e => e.Name), f.Requirements.Cast<InsideRating>().Select(r => r.Event));
        Assert.Equal(f.Events.Select(e => e.Name), f.Accepted.Select(a => a.Event));
        Assert.Equal("FES349", Reading.OnlyDiagnostic(Bench + "event \"e\" at IN open either way").Code);
    }

    [Fact]
    public void A_chain_of_values_longer_than_the_stack_is_refused()
    {
        string text = Bench + string.Concat(Enumerable.Range(0, 990).Select(k => $"let a{k} = a{k + 1}\n")) + "let a990 = 1k\nresistor R2 from OUT to GND a0";
        Diagnostic[] said = [];
        var small = new Thread(() => said = [.. Reading.Load(text).Diagnostics], 128 * 1024);
        small.Start();
        small.Join();
        Assert.All(said, d => Assert.Equal("FES320", d.Code));
    }

    [Fact]
    public void Lets_in_a_template_that_is_used_many_times_are_counted()
    {
        string text = Bench + "template t from A to B\n    resistor R from A to B 1k\n" + string.Concat(Enumerable.Range(0, 500).Select(k => $"    let x{k} = 1 V\n"))
            + string.Concat(Enumerable.Range(0, 500).Select(k => $"stage s{k} is t\n    from IN to OUT\n"));
        Assert.Contains(Reading.Load(text).Diagnostics, d => d.Code == "FES305");
    }

    [Fact]
    public void More_rails_than_a_circuit_may_have_are_refused_quickly() =>
        Assert.Contains(Reading.Load(Bench + string.Concat(Enumerable.Range(0, 5000).Select(k => $"rail V{k}X 5 V\n"))).Diagnostics, d => d.Code == "FES305");
}
