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

    [Fact]
    public void A_thermocouple_s_codes_are_compared_at_the_temperature_that_their_board_had()
    {
        using var scratch = new Scratch();
        string file = Frontendsim.Circuit("thermocouple.fes");
        var (hot, cold) = (Codes(scratch, "40 C", "PIN"), Codes(scratch, "40 C", "COLD"));
        // The thermistor by hand: 10 kohm·exp(3977·(1/313.15 − 1/298.15)) of a divider with 10 kohm, 12 bits.
        double ohms = 1e4 * Math.Exp(3977 * (1 / 313.15 - 1 / 298.15));
        Assert.Equal(Math.Floor(4096 * ohms / (ohms + 1e4)), cold[0].Code, 1.0);

        // Both pins together, and the hot one alone with the temperature beside it.
        Assert.Contains("All 10 readings are inside their limits.", Said(scratch, file, 0, ["bath (°C),terminal (°C),hot (counts),cold (counts)", .. hot.Zip(cold, (h, c) => $"{h.Set},40,{h.Code},{c.Code}")]),
            StringComparison.Ordinal);
        Assert.Contains("All 5 readings are inside their limits.", Said(scratch, file, 0, ["bath (°C),temperature (°C),hot (counts)",
            .. hot.Select(h => $"{h.Set},40,{h.Code}")]), StringComparison.Ordinal);

        // Without it the cold junction is taken to be at 25 °C, which is said.
        string without = Said(scratch, file, 1, ["bath (°C),hot (counts),cold (counts)", .. hot.Zip(cold, (h, c) => $"{h.Set},{h.Code},{c.Code}")]);
        Assert.Contains("The cold junction is taken to be at 25 °C, as the circuit is, where no column \"terminal (°C)\" says how warm it was", without,
            StringComparison.Ordinal);
        // A degree of the couple is a degree of its junction there, and the thermistor stands at its board's 40 °C: all of it is explained.
        string hotAlone = Said(scratch, file, 1, ["bath (°C),hot (counts)", .. hot.Select(h => $"{h.Set},{h.Code}")]);
        Assert.Matches(@"the cold junction of bath 1[45](\.\d+)? °C warmer than the circuit", hotAlone);
    }

    [Fact]
    public void A_cold_junction_that_is_not_where_its_thermistor_is_is_named()
    {
        using var scratch = new Scratch();
        string file = Frontendsim.Circuit("thermocouple.fes");
        // The board is at 30 °C, and the thermistor beside a warm regulator at 42 °C.
        var (hot, cold) = (Codes(scratch, "30 C", "PIN"), Codes(scratch, "42 C", "COLD"));
        string named = Said(scratch, file, 1, ["bath (°C),terminal (°C),hot (counts),cold (counts)", .. hot.Zip(cold, (h, c) => $"{h.Set},30,{h.Code},{c.Code}")]);
        Assert.Matches(@"terminal 1[12](\.\d+)? °C warmer than the cold junction that it measures", named);
        Assert.DoesNotContain("explains it;", named, StringComparison.Ordinal);
        // The firmware's own reading alone shows the sum of both: 12 °C too much.
        string computed = Said(scratch, file, 1, ["bath (°C),terminal (°C),solder (°C)", .. hot.Select(h => $"{h.Set},30,{h.Set + 12}")]);
        Assert.Contains("warmer than the cold junction that it measures", computed, StringComparison.Ordinal);
        Assert.Contains("colder than the circuit", computed, StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_of_two_sensors_in_one_file_find_what_neither_shows_alone()
    {
        using var scratch = new Scratch();
        string file = Frontendsim.Circuit("thermocouple.fes");
        string board = scratch.Write("board.fes", File.ReadAllText(file)
            .Replace("resistor Rcold from VDD to COLD 10 kohm", "resistor Rcold from VDD to COLD 9.1 kohm", StringComparison.Ordinal));
        // Bench points of both sensors, at both pins, as the board reads them: "expected (V)" stands behind what the node is.
        string[] lines = Frontendsim.Run("build", board, "--csv").Output.TrimEnd('\n').Split('\n');
        string[] filled = [.. lines.Select((l, k) => k > 0 && (l.Contains(",PIN,", StringComparison.Ordinal) || l.Contains(",COLD,", StringComparison.Ordinal))
            ? l + l.Split('"')[^1].Split(',')[l.Contains('"') ? 1 : 4] : l)];
        Assert.Contains(filled, l => l.StartsWith("bath at ", StringComparison.Ordinal) && !l.EndsWith(','));
        Assert.Contains(filled, l => l.StartsWith("terminal at ", StringComparison.Ordinal) && !l.EndsWith(','));
        string said = Said(scratch, file, 1, filled);
        Assert.Contains("Rcold 9 % low: 9.1 kΩ instead of 10 kΩ", said, StringComparison.Ordinal);
        Assert.Contains("terminal 30 °C", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bath (°C),terminal (V),hot (counts)\n100,1,985\n", ":1: column 2 is in 'V'; how warm the circuit was is in °C")]
    [InlineData("bath (°C),terminal (°C),temperature (°C),hot (counts)\n100,25,25,985\n", ":1: column 3: column 2 says already how warm the circuit was")]
    [InlineData("bath (°C),terminal (°C),hot (counts)\n100,2500,985\n", ":2: column 2: 2500 °C is no temperature of a circuit")]
    [InlineData("bath (°C),terminal (°C),hot (counts)\n100,,985\n", ":2: column 2: '' is no number")]
    [InlineData("terminal (°C),bath (°C),hot (counts)\n25,100,985\n", ":1: column 2: bath is a sensor as terminal is, and one is set at a time")]
    public void A_column_that_says_wrongly_how_warm_the_circuit_was_gets_its_line(string text, string expected)
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("compare", Frontendsim.Circuit("thermocouple.fes"), scratch.Write("readings.csv", text));
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }

    /// <summary>What a board at a temperature reads at a node over the span of its bath, as codes of 12 bits over 3.3 V.</summary>
    private static (double Set, double Code)[] Codes(Scratch scratch, string temperature, string node)
    {
        string board = scratch.Write("warm.fes", File.ReadAllText(Frontendsim.Circuit("thermocouple.fes"))
            .Replace("temperature 10 C .. 50 C", "temperature " + temperature, StringComparison.Ordinal));
        return [.. Frontendsim.Run("sweep", board, "--points", "5", "--show", node, "--csv").Output.TrimEnd('\n').Split('\n').Skip(1)
            .Select(l => l.Split(',').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray())
            .Select(n => (n[0], Math.Floor(n[1] / 3.3 * 4096)))];
    }

    private static string Said(Scratch scratch, string file, int exitCode, string[] readings)
    {
        var run = Frontendsim.Run("compare", file, scratch.Write("readings.csv", string.Join('\n', readings) + "\n"));
        Assert.Equal((exitCode, ""), (run.ExitCode, run.Error));
        return string.Join(' ', run.Output.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
    }
}
