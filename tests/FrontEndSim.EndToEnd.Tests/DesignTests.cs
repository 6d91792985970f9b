using System.Text.Json.Nodes;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim design, as a user starts it.</summary>
public class DesignTests
{
    private static readonly string[] Wish =
    [
        "design", "--sensor", "-1.2 V .. 1.8 V", "--pin", "0 V .. 3.3 V", "--rails", "9 V 5%, -9 V 5%", "--supply", "3.3 V 2%", "--source", "220 ohm",
        "--series", "E24", "--opamp", "precision-bipolar",
    ];

    [Fact]
    public void A_written_design_passes_check_and_is_not_overwritten_without_force()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes");
        var first = Frontendsim.Run([.. Wish, "--fault", "24 V", "--write", file]);
        Assert.Equal((0, ""), (first.ExitCode, first.Error));
        Assert.Contains("single-stage-shifter", first.Output, StringComparison.Ordinal);
        var check = Frontendsim.Run("check", file);
        Assert.Equal((0, ""), (check.ExitCode, check.Error));

        string before = File.ReadAllText(file);
        var again = Frontendsim.Run([.. Wish, "--write", file]);
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("--force", again.Error, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllText(file));
        Assert.Equal(0, Frontendsim.Run([.. Wish, "--write", file, "--force"]).ExitCode);
        Assert.NotEqual(before, File.ReadAllText(file));
        Assert.Equal(0, Frontendsim.Run("check", file).ExitCode);
    }

    [Fact]
    public void Json_gives_candidates_best_first_and_reasons_for_the_others()
    {
        var run = Frontendsim.Run([.. Wish, "--json"]);
        var answer = JsonNode.Parse(run.Output)!;
        double[] costs = [.. answer["candidates"]!.AsArray().Select(c => (double)c!["cost"]!)];
        Assert.Equal(costs.Order(), costs);
        Assert.Contains(answer["refusals"]!.AsArray(), r => (string)r!["kind"]! == "passive-shifter");
    }

    [Theory]
    [InlineData("1.8 V .. -1.2 V", "0 V .. 3.3 V", "9 V, -9 V", "reversed")]
    [InlineData("1 V .. 1 V", "0 V .. 3.3 V", "9 V, -9 V", "two different ends")]
    [InlineData("-1 V", "0 V .. 3.3 V", "9 V, -9 V", "two ends")]
    [InlineData("0 V .. 1 V", "-0.5 V .. 3.3 V", "9 V, -9 V", "below ground")]
    [InlineData("0 V .. 1 V", "0 V .. 3.3 A", "9 V, -9 V", "'3.3 A'")]
    [InlineData("0 V .. 1 V", "0 V .. 3.3 V", "0 V", "ground")]
    public void An_impossible_wish_gets_a_sentence_that_says_what_to_change_and_exit_code_2(string sensor, string pin, string rails, string expected)
    {
        var run = Frontendsim.Run("design", "--sensor", sensor, "--pin", pin, "--rails", rails);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Output);
    }

    [Fact]
    public void Without_a_negative_rail_the_inverting_stage_is_refused_in_words()
    {
        var run = Frontendsim.Run("design", "--sensor", "0.2 V .. 1.2 V", "--pin", "0.1 V .. 3.2 V", "--rails", "5 V", "--supply", "3.3 V", "--series", "E24");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("there is no negative rail", run.Output.ReplaceLineEndings(" ").Replace("           ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }
}
