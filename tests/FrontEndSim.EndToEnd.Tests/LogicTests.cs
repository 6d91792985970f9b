using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>A logic input, as the real program judges it.</summary>
public class LogicTests
{
    private static string Circuit => File.ReadAllText(Path.Combine(Repository.Root, "circuits", "logic-input.fes"));

    [Fact]
    public void Respond_shows_levels_delay_and_clean_edges_of_a_logic_pin()
    {
        var run = Frontendsim.Run("respond", Path.Combine(Repository.Root, "circuits", "logic-input.fes"), "--json");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var logic = JsonDocument.Parse(run.Output).RootElement.GetProperty("levels");
        // 70 % of 5 V, and a pin that a divider of 47.1 kohm and 10.5 kohm holds near 4.35 V.
        Assert.Equal(3.5, logic.GetProperty("high").GetProperty("limitVolts").GetDouble(), 9);
        Assert.Equal(24 * 10.5 / 57.6, logic.GetProperty("high").GetProperty("pinVolts").GetDouble(), 0.05);
        Assert.True(logic.GetProperty("isClean").GetBoolean());
        Assert.Equal(4, logic.GetProperty("edges").GetArrayLength());
    }

    [Fact]
    public void A_gate_without_hysteresis_behind_a_slow_guard_fails_and_the_remedy_names_one_with_it()
    {
        using var scratch = new Scratch();
        string file = Path.Combine(scratch.Folder, "plain.fes");
        File.WriteAllText(file, Circuit.Replace("cmos-hc-hysteresis", "cmos-hc", StringComparison.Ordinal));
        var run = Frontendsim.Run("check", file);
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("Use a gate with hysteresis, type cmos-hc-hysteresis", run.Output);
    }

    [Theory]
    [InlineData("type cmos-hc-hysteresis on VCC", "rated -0.5 V .. VCC + 0.5 V", "FES344")]
    [InlineData("gate cmos-hc-hysteresis on VCC", "gate cmos-hc-hystersis on VCC", "cmos-hc-hysteresis")]
    [InlineData("edge   20 ms", "", "FES345")]
    [InlineData("indicator-high green", "indicator-high gren", "green")]
    public void What_is_wrong_with_a_logic_input_is_said_at_its_place(string right, string wrong, string expected)
    {
        using var scratch = new Scratch();
        string file = Path.Combine(scratch.Folder, "wrong.fes");
        File.WriteAllText(file, Circuit.Replace(right, wrong, StringComparison.Ordinal));
        var run = Frontendsim.Run("check", file);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Error);
    }

    [Fact]
    public void A_single_fault_of_the_gate_is_looked_at()
    {
        var run = Frontendsim.Run("faults", Path.Combine(Repository.Root, "circuits", "logic-input.fes"));
        Assert.Contains("read.U stuck high", run.Output);
    }
}
