using System.Text.Json.Nodes;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim design, as a user starts it.</summary>
public class DesignTests
{
    private static readonly string[] Target =
    [
        "design", "--sensor", "-1.2 V .. 1.8 V", "--pin", "0 V .. 3.3 V", "--rails", "9 V 5%, -9 V 5%", "--supply", "3.3 V 2%", "--source",
            "220 ohm",
        "--series", "E24", "--opamp", "precision-bipolar",
    ];

    [Fact]
    public void A_written_design_passes_check_and_is_not_overwritten_without_force()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes");
        var first = Frontendsim.Run([.. Target, "--fault", "24 V", "--write", file]);
        Assert.Equal((0, ""), (first.ExitCode, first.Error));
        Assert.Contains("single-stage-shifter", first.Output, StringComparison.Ordinal);
        var check = Frontendsim.Run("check", file);
        Assert.Equal((0, ""), (check.ExitCode, check.Error));

        string before = File.ReadAllText(file);
        var again = Frontendsim.Run([.. Target, "--write", file]);
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("--force", again.Error, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllText(file));
        Assert.Equal(0, Frontendsim.Run([.. Target, "--write", file, "--force"]).ExitCode);
        Assert.NotEqual(before, File.ReadAllText(file));
        Assert.Equal(0, Frontendsim.Run("check", file).ExitCode);
    }

    [Fact]
    public void Json_gives_candidates_best_first_and_reasons_for_the_others()
    {
        var run = Frontendsim.Run([.. Target, "--json"]);
        var answer = JsonNode.Parse(run.Output)!;
        double[] costs = [.. answer["candidates"]!.AsArray().Select(c => (double)c!["cost"]!)];
        Assert.Equal(costs.Order(), costs);
        Assert.Contains(answer["refusals"]!.AsArray(), r => (string)r!["stage"]! == "passive-shifter");
    }

    [Theory]
    [InlineData("1.8 V .. -1.2 V", "0 V .. 3.3 V", "9 V, -9 V", "reversed")]
    [InlineData("1 V .. 1 V", "0 V .. 3.3 V", "9 V, -9 V", "two different ends")]
    [InlineData("-1 V", "0 V .. 3.3 V", "9 V, -9 V", "two ends")]
    [InlineData("0 V .. 1 V", "-0.5 V .. 3.3 V", "9 V, -9 V", "below ground")]
    [InlineData("0 V .. 1 V", "0 V .. 3.3 A", "9 V, -9 V", "'3.3 A'")]
    [InlineData("0 V .. 1 V", "0 V .. 3.3 V", "0 V", "ground")]
    public void An_impossible_target_gets_a_sentence_that_says_what_to_change_and_exit_code_2(string sensor, string pin, string rails,
        string expected)
    {
        var run = Frontendsim.Run("design", "--sensor", sensor, "--pin", pin, "--rails", rails);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Output);
    }

    [Theory]
    [InlineData("0 V .. 1 V", "rail", "needs no shift")]
    [InlineData("-1 V .. 1 V", "wiper", "potentiometer")]
    public void A_reference_that_cannot_be_chosen_is_refused_in_words(string sensor, string reference, string expected)
    {
        var run = Frontendsim.Run("design", "--sensor", sensor, "--pin", "0 V .. 3 V", "--rails", "9 V, -9 V", "--series", "E24",
            "--reference", reference);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_negative_rail_the_inverting_stage_is_refused_in_words()
    {
        var run = Frontendsim.Run("design", "--sensor", "0.2 V .. 1.2 V", "--pin", "0.1 V .. 3.2 V", "--rails", "5 V", "--supply", "3.3 V",
            "--series", "E24");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("there is no negative rail", run.Output.ReplaceLineEndings(" ")
            .Replace("           ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    private const string LeftOut = """
        # A level probe whose stage is still to be designed.
        circuit "Level probe"
        rail VP   9 V tolerance 5%
        rail VN  -9 V tolerance 5%
        rail VDD  3.3 V tolerance 2%
        sensor probe drives IN
            span   -1.2 V .. 1.8 V
            source 220 ohm
        # As the data sheet says.
        pin adc at PIN
            rated     -0.3 V .. VDD + 0.3 V
            injection 2 mA
            converts  12 bits over 0 V .. VDD
            leakage   100 nA
        event "24 V on the terminal" at IN
            step to 24 V source 1 ohm at 1 ms for 50 ms
        require adc inside rating in every event

        """;

    [Fact]
    public void A_circuit_file_without_its_stage_is_completed_with_stage_and_guard_into_a_file_that_check_passes()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes"), done = scratch.Path("done.fes");
        // of the stage left out, and so its name
        File.WriteAllText(file, LeftOut + "require level headroom over 1 V\nrequire level.R1 power under 50%\n");
        var run = Frontendsim.Run("design", file, "--series", "E24", "--opamp", "precision-bipolar", "--write", done);
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("Taken", run.Output, StringComparison.Ordinal);
        Assert.Contains("Chosen", run.Output, StringComparison.Ordinal);
        Assert.StartsWith(LeftOut, File.ReadAllText(file), StringComparison.Ordinal);
        string text = File.ReadAllText(done);
        Assert.Contains("stage level is single-stage-shifter", text, StringComparison.Ordinal);
        Assert.Contains("# As the data sheet says.\npin adc at PIN", text, StringComparison.Ordinal);
        Assert.Contains("stage guard is pin-guard", text, StringComparison.Ordinal);
        var check = Frontendsim.Run("check", done);
        Assert.Equal((0, ""), (check.ExitCode, check.Error));
        // What is finished leaves nothing to design.
        var again = Frontendsim.Run("design", done);
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("Nothing is unfinished", again.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_requirement_that_no_candidate_meets_is_named_and_nothing_is_written()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes"), done = scratch.Path("done.fes");
        File.WriteAllText(file, LeftOut + "require adc mapping error under 0.01 counts\n");
        var run = Frontendsim.Run("design", file, "--series", "E24", "--opamp", "precision-bipolar", "--write", done);
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("would not pass check", run.Output, StringComparison.Ordinal);
        Assert.False(File.Exists(done));
    }

    [Theory]
    [InlineData("--write", "probe.fes", "is the circuit file itself")]
    [InlineData("--sensor", "0 V .. 1 V", "cannot stand beside a circuit file")]
    [InlineData("--surge", "500 V source 42 ohm", "cannot stand beside a circuit file")]
    public void What_the_circuit_file_says_cannot_be_said_again_and_the_file_is_never_replaced(string option, string value, string expected)
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes");
        File.WriteAllText(file, LeftOut);
        var run = Frontendsim.Run("design", file, option, option == "--write" ? file : value, "--force");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
        Assert.Equal(LeftOut, File.ReadAllText(file));
    }

    [Fact]
    public void A_surge_and_a_discharge_are_held_from_the_pin_with_the_supplies_on_and_off_and_the_price_is_said()
    {
        var run = Frontendsim.Run("design", "--sensor", "0 V .. 30 V", "--pin", "0 V .. 3 V", "--rails", "5 V", "--supply", "3.3 V",
            "--source", "100 ohm", "--series", "E24",
            "--surge", "500 V source 42 ohm", "--discharge", "4 kV", "--json");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var guard = JsonNode.Parse(run.Output)!["picked"]!["guard"]!;
        Assert.True((double)guard["levels"]!["highOff"]! > 10);
        Assert.True((double)guard["injectionAmps"]! <= 2e-3);
        Assert.True((double)guard["seriesPeakWatts"]! >= (double)guard["seriesWatts"]!);
        Assert.True((double)guard["costCounts"]! > 0);
    }

    [Theory]
    [InlineData("potentiometer", "potentiometer 10 kohm")]
    [InlineData("buffered", "buffered\n    divider-upper")]
    public void Another_reference_may_be_asked_for_and_every_one_is_told_with_its_reason(string reference, string expected)
    {
        using var scratch = new Scratch();
        string file = scratch.Path("probe.fes");
        var run = Frontendsim.Run([.. Target, "--reference", reference, "--write", file, "--json"]);
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var references = JsonNode.Parse(run.Output)!["picked"]!["references"]!.AsArray();
        Assert.Equal(3, references.Count);
        Assert.Equal(reference, (string)JsonNode.Parse(run.Output)!["picked"]!["reference"]!["kind"]!, ignoreCase: true);
        Assert.All(references, r => Assert.True((double?)r!["worstErrorCounts"] > 0 || (string?)r["problem"] is { Length: > 0 }));
        Assert.Contains(expected, File.ReadAllText(file), StringComparison.Ordinal);
        Assert.Equal(0, Frontendsim.Run("check", file).ExitCode);
    }

    [Theory]
    [InlineData("linearity", "least bend")]
    [InlineData(null, "least error of a reading")]
    public void A_resistive_sensor_that_nothing_feeds_gets_its_resistor_and_the_file_passes_check(string? aim, string ranked)
    {
        using var scratch = new Scratch();
        string file = scratch.Path("bath.fes"), done = scratch.Path("done.fes");
        File.WriteAllText(file, """
            circuit "A bath without its resistor"
            rail VDD 3.3 V tolerance 1% load 5 mA
            sensor bath of temperature 5 C .. 95 C from SENSE to GND
                thermistor 10 kohm 1% at 25 C beta 3977 K 0.75%
            resistor Rf from SENSE to PIN 1 kohm 1%
            capacitor Cf from PIN to GND 100 nF 10%
            pin wet at PIN converts 12 bits over 0 V .. VDD
            """);
        var run = Frontendsim.Run(["design", file, .. aim is null ? Array.Empty<string>() : ["--aim", aim], "--write", done]);
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains(ranked, run.Output, StringComparison.Ordinal);
        Assert.Contains("best " + (aim ?? "resolution"), File.ReadAllText(done), StringComparison.Ordinal);
        Assert.Equal(0, Frontendsim.Run("check", done).ExitCode);
        // With it nothing is unfinished any more.
        Assert.Equal(2, Frontendsim.Run("design", done).ExitCode);
    }
}
