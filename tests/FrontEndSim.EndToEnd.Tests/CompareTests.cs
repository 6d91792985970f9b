namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim compare, as a user starts it.</summary>
public class CompareTests
{
    [Fact]
    public void A_sweep_s_own_csv_compares_as_inside_and_a_resistor_changed_on_the_board_is_named()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider.Replace("10 kohm", "10 kohm 1%", StringComparison.Ordinal));
        string board = scratch.Write("board.fes", Scratch.Divider.Replace("R2 from PIN to GND 10 kohm", "R2 from PIN to GND 9.1 kohm",
            StringComparison.Ordinal));

        string own = scratch.Write("own.csv", Frontendsim.Run("sweep", file, "--points", "5", "--show", "PIN", "--csv").Output);
        var same = Frontendsim.Run("compare", file, own);
        Assert.Equal((0, ""), (same.ExitCode, same.Error));
        Assert.Contains("nothing to explain", same.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);

        string readings = scratch.Write("board.csv", Frontendsim.Run("sweep", board, "--points", "5", "--show", "PIN", "--csv").Output);
        var other = Frontendsim.Run("compare", file, readings, "--meter-input", "1 Gohm"); // a sweep is not loaded by a meter
        Assert.Equal((1, ""), (other.ExitCode, other.Error));
        Assert.Contains("R2 9 % low", other.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void The_readings_that_come_with_the_program_are_of_a_board_with_the_next_value_of_a_series()
    {
        var run = Frontendsim.Run("compare", Frontendsim.Circuit("rain-tank.fes"), Frontendsim.Circuit("rain-tank-readings.csv"));
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("(Rf2) 2.9 % high: 105 kΩ instead of 102 kΩ", string.Join(' ', run.Output.Split((char[])[' ', '\n'],
            StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Fact]
    public void Bench_points_filled_in_are_read_as_build_writes_them()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        string[] lines = Frontendsim.Run("build", file, "--csv").Output.TrimEnd('\n').Split('\n');
        // Only the pin's readings are taken; each as expected (column 5 is "expected (V)").
        string filled = scratch.Write("bench.csv", string.Join('\n',
            lines.Select((l, k) => k > 0 && l.Contains(",PIN,", StringComparison.Ordinal)
            ? l + l.Split(',')[l[0] == '"' ? 5 : 4] : l)));
        var run = Frontendsim.Run("compare", file, filled);
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("All 3 readings", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "nothing in it")]
    [InlineData("probe (V),PIN (V)\n", "no readings below")]
    [InlineData("prob (V),PIN (V)\n1,2\n", "must be a sensor")]
    [InlineData("probe (V),PINN (V)\n1,2\n", "did you mean PIN")]
    [InlineData("probe (V),PIN (mV)\n1,2\n", "'mV'")]
    [InlineData("probe (V),PIN (V)\n1,two\n", ":2: column 2: 'two' is no number")]
    [InlineData("probe (V),PIN (V)\n1,2,3\n", ":2: 3 cells")]
    [InlineData("probe (V),PIN (V)\n1,\n", "no reading is filled in")]
    public void A_wrong_readings_file_gets_its_line_and_what_was_expected(string text, string expected)
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("compare", scratch.Write("divider.fes", Scratch.Divider), scratch.Write("readings.csv", text));
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }
}
