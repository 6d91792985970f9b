using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim faults on a divider whose faults are worked out in the head.</summary>
public class FaultsTests
{
    private const string Divider = """
        circuit "divider"
        rail VDD 3.3 V
        sensor probe drives IN
            span 0 V .. 3 V
            source 1 kohm
        resistor R1 from IN to PIN 10k
        resistor R2 from PIN to GND 10k
        pin adc at PIN
            rated -0.3 V .. VDD + 0.3 V
            injection 1 mA
        event "12 V on the terminal" at IN
            step to 12 V source 1 ohm at 1 ms for 1 ms

        """;

    [Fact]
    public void The_table_says_what_reaches_the_pin_and_the_exit_code_whether_it_survives()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Divider);
        var run = Frontendsim.Run("faults", file, "--json");
        Assert.Equal((1, ""), (run.ExitCode, run.Error));
        var rows = JsonDocument.Parse(run.Output).RootElement.GetProperty("faults").EnumerateArray()
            .ToDictionary(f => f.GetProperty("text").GetString()!);
        Assert.Equal(["R1 open", "R1 short", "R2 open", "R2 short", "rail VDD lost", "rail VDD open", "sensor probe open",
            "sensor probe shorted to GND", "sensor probe shorted to VDD"],
            rows.Keys);
        // The whole sensor span at the pin, and nothing of it.
        Assert.Equal(3 * 10_000 / 11_000.0, rows["R1 short"].GetProperty("atHighEnd").GetProperty("highestVolts").GetDouble(), 0.001);
        Assert.Equal(0, rows["R2 short"].GetProperty("atHighEnd").GetProperty("highestVolts").GetDouble(), 0.001);
        Assert.True(rows["R2 short"].GetProperty("survives").GetBoolean());
        Assert.False(rows["R1 short"].GetProperty("survives").GetBoolean());
        Assert.Equal("12 V on the terminal", rows["R1 short"].GetProperty("worstEvent").GetString());
        Assert.Contains("R1 short", Frontendsim.Run("faults", file).Output);
        Assert.StartsWith("fault,pin,survives,at lower end (V),", Frontendsim.Run("faults", file, "--csv").Output);
    }

    [Fact]
    public void An_event_that_an_ideal_source_swallows_is_warned_of()
    {
        using var scratch = new Scratch();
        string output = Frontendsim.Run("check", scratch.Write("divider.fes", Divider.Replace("    source 1 kohm\n", ""))).Output;
        Assert.Contains("holds node IN without any resistance",
            string.Join(" ", output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
    }

    [Fact]
    public void A_requirement_on_single_faults_fails_the_check_and_names_the_worst()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("check", scratch.Write("divider.fes",
            Divider + "require adc inside rating with any single fault\nrequire R1 power under 50 %\n"), "--details");
        Assert.Equal((1, ""), (run.ExitCode, run.Error));
        Assert.Contains("of 9 faults break it", run.Output);
        Assert.Contains("of its rated 250 mW", string.Join(" ", run.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
    }
}
