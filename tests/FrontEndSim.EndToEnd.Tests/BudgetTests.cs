using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

public class BudgetTests
{
    private static readonly string Tolerant = Scratch.Divider.Replace("10 kohm", "10 kohm 1%")
        .Replace("VDD 3.3 V", "VDD 3.3 V tolerance 0%");

    [Fact]
    public void Budget_json_gives_each_sources_contribution_the_largest_first()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("budget", scratch.Write("divider.fes", Tolerant), "--json", "--temperatures", "25", "--trials", "1000");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var root = JsonDocument.Parse(run.Output).RootElement;
        var full = root.GetProperty("points").EnumerateArray()
            .Single(p => p.GetProperty("place").GetString() == "full" && !p.GetProperty("isCalibrated").GetBoolean());
        var first = full.GetProperty("ranked")[0];
        // A divider by two: half of the tolerance over √3 (JCGM 100:2008, 4.3.7), in counts of 4096.
        double expected = 4096 * 0.5 * 0.01 / Math.Sqrt(3);
        Assert.Matches("^R[12] tolerance$", first.GetProperty("source").GetString());
        Assert.Equal(expected, Math.Abs(first.GetProperty("effect").GetDouble()), 2e-3 * expected);
        Assert.Equal(1, full.GetProperty("ranked").EnumerateArray().Sum(c => c.GetProperty("share").GetDouble()), 1e-3);
    }

    [Fact]
    public void Budget_draws_bars_and_says_what_it_takes_for_granted()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Tolerant);
        var run = Frontendsim.Run("budget", file, "--temperatures", "25", "--trials", "1000");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("after a calibration at 10 % and 90 %", run.Output);
        Assert.Matches(@"R[12] tolerance +[+-]11\.8 +\d+ % +#{24}", run.Output);
        Assert.Contains("Not counted", run.Output);
        Assert.Equal(run.Output, Frontendsim.Run("budget", file, "--temperatures", "25", "--trials", "1000").Output);
    }

    [Fact]
    public void Budget_counts_the_drift_and_converter_errors_of_the_file()
    {
        using var scratch = new Scratch();
        string text = Tolerant.Replace("10 kohm 1%", "10 kohm 1% drift 25 ppm/K")
            .Replace("over 0 V .. VDD", "over 0 V .. VDD\n    offset-error 3 counts\n    linearity 0.05%");
        var run = Frontendsim.Run("budget", scratch.Write("divider.fes", text), "--json", "--temperatures", "85", "--trials", "1000");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var root = JsonDocument.Parse(run.Output).RootElement;
        var full = root.GetProperty("points").EnumerateArray().Single(p => p.GetProperty("place").GetString() == "full"
            && p.GetProperty("celsius").GetDouble() == 85 && !p.GetProperty("isCalibrated").GetBoolean());
        double Effect(string source) => Math.Abs(full.GetProperty("ranked").EnumerateArray()
            .Single(c => c.GetProperty("source").GetString() == source).GetProperty("effect").GetDouble());
        // Half of 25 ppm/K over 60 K of 4096 counts, over √3; three counts over √3; 0.05 % of 4096 counts over √3.
        Assert.Equal(4096 * 0.5 * 0.0015 / Math.Sqrt(3), Effect("R1 tempco"), 0.02);
        Assert.Equal(3 / Math.Sqrt(3), Effect("adc offset error"), 1e-6);
        Assert.Equal(2.048 / Math.Sqrt(3), Effect("adc linearity"), 1e-6);
        Assert.Equal(["Gain"], root.GetProperty("assumptions").GetProperty("notGiven").EnumerateArray().Select(e => e.GetString()));
    }

    [Theory]
    [InlineData("--temperatures", "-300", "°C")]
    [InlineData("--temperatures", "warm", "°C")]
    [InlineData("--calibration", "0.9 .. 0.1", "10 % .. 90 %")]
    [InlineData("--calibration", "-10 % .. 90 %", "10 % .. 90 %")]
    [InlineData("--trials", "3", "1000")]
    [InlineData("--pin", "dac", "no pin named dac")]
    public void A_budget_that_cannot_be_made_says_what_to_write(string option, string value, string said)
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("budget", scratch.Write("divider.fes", Tolerant), option, value);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(said, run.Error);
    }
}
