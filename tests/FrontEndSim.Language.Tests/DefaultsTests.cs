using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Tests;

/// <summary>What docs/language.md says is taken for what is left out is what the program takes.</summary>
public class DefaultsTests
{
    private const string Bench = "circuit \"bench\"\nrail VDD 5 V\nsensor s drives IN span 0 V .. 1 V\nresistor R1 from IN to OUT 1k\n";

    private static readonly Dictionary<string, string> Taken = File.ReadLines(Path.Combine(Reading.Repository, "docs", "language.md"))
        .SkipWhile(l => l != "| left out | taken |").Skip(2).TakeWhile(l => l.StartsWith('|'))
        .Select(l => l.Trim('|', ' ').Split(" | ")).ToDictionary(cells => cells[0], cells => cells[1]);

    [Theory]
    [InlineData("`at` of a fault, step, mains pick-up or vehicle pulse", "at IN step to 5 V source 1 ohm", "at")]
    [InlineData("`at` of a fault, step, mains pick-up or vehicle pulse", "at IN open", "at")]
    [InlineData("`at` of a fault, step, mains pick-up or vehicle pulse", "at IN mains-pickup 230 V frequency 50 Hz through 100 pF", "at")]
    [InlineData("`at` of a fault, step, mains pick-up or vehicle pulse", "at VDD vehicle-pulse 2a system 12 V peak 37 V supply 9 V", "at")]
    [InlineData("`at` of a surge", "at IN surge 1.2/50 peak 500 V source 42 ohm", "at")]
    [InlineData("`at` of a discharge, burst or radio pick-up", "at IN discharge level 2", "at")]
    [InlineData("`at` of a discharge, burst or radio pick-up", "at IN burst peak 500 V repeating 5 kHz", "at")]
    [InlineData("`at` of a discharge, burst or radio pick-up", "at IN radio-pickup 3 V frequency 10 MHz", "at")]
    [InlineData("`at` of a load dump", "at VDD load-dump peak 87 V supply 9 V source 1 ohm for 200 ms", "at")]
    [InlineData("`through` of a short", "at OUT short to VDD", "through")]
    [InlineData("`rising` of a late supply", "at VDD late by 5 ms", "rising in")]
    public void An_event_is_the_same_with_what_was_left_out_written(string row, string happens, string word)
    {
        var events = Reading.FrontEnd($"{Bench}event \"a\" {happens}\nevent \"b\" {happens} {word} {Taken[row]}\n").Events;
        Assert.Equal(events[0].Disturbance, events[1].Disturbance);
    }

    [Fact]
    public void Ratings_and_capacitances_are_those_of_the_table()
    {
        var frontEnd = Reading.FrontEnd(Bench + $"resistor R2 from OUT to GND 1k rated {Taken["`rated` of a resistor or potentiometer"]}\n");
        Assert.Equal(frontEnd.Parts.OfType<ResistorPart>().Single(r => r.Name == "R1").RatedWatts,
            frontEnd.Parts.OfType<ResistorPart>().Single(r => r.Name == "R2").RatedWatts);
        Assert.StartsWith($"{CapacitorPart.UsualVolts:0} V", Taken["`rated` of a capacitor"]);
        Assert.Equal($"{Pin.UsualFarads * 1e12:0} pF", Taken["`capacitance` of a pin"]);
    }
}
