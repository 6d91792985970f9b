using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The catalogue of parts, as the real program shows it.</summary>
public class PartsTests
{
    [Fact]
    public void The_catalogue_lists_registered_numbers_with_their_sources()
    {
        var run = Frontendsim.Run("parts");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("1N4741A", run.Output);
        Assert.Contains("1N5822", run.Output);
        Assert.Contains("from memory", run.Output);
    }

    [Fact]
    public void A_search_narrows_by_every_word()
    {
        var run = Frontendsim.Run("parts", "schottky");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("1N5817", run.Output);
        Assert.DoesNotContain("1N4148", run.Output);
    }

    [Fact]
    public void A_part_shows_how_far_its_model_misses_each_number_of_its_data_sheet()
    {
        var run = Frontendsim.Run("parts", "5v1");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("zener voltage at 5 mA", run.Output);
        Assert.Contains("residual", run.Output);
        Assert.Contains("at most 550 Ω", run.Output);
    }

    [Theory]
    [InlineData("1N4741", "1N4741A")]
    [InlineData("3V7", "3V6")]
    [InlineData("bipolar-generel", "bipolar-general")]
    public void An_unknown_part_names_the_nearest(string name, string nearest)
    {
        // 1N4733 is found by search, as part of a longer number.
        var run = Frontendsim.Run("parts", name);
        Assert.Contains(nearest, run.Output + run.Error);
    }

    [Fact]
    public void A_part_that_is_not_there_ends_with_2()
    {
        var run = Frontendsim.Run("parts", "frobnicator");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("no part type matches 'frobnicator'", run.Error);
    }

    [Fact]
    public void A_curve_is_drawn_to_a_file()
    {
        using var scratch = new Scratch();
        string file = Path.Combine(scratch.Folder, "curve.svg");
        var run = Frontendsim.Run("parts", "3V6", "--plot", file);
        Assert.Equal(0, run.ExitCode);
        string svg = File.ReadAllText(file);
        Assert.Contains("reverse current", svg);
        Assert.Contains("µA", svg);
    }

    [Fact]
    public void A_curve_of_many_parts_is_refused()
    {
        using var scratch = new Scratch();
        string file = Path.Combine(scratch.Folder, "curve.svg");
        var run = Frontendsim.Run("parts", "zener", "--plot", file);
        Assert.Equal(2, run.ExitCode);
        Assert.False(File.Exists(file));
    }

    [Fact]
    public void Json_gives_each_point_with_the_models_value()
    {
        var run = Frontendsim.Run("parts", "1N5817", "--json");
        using var document = JsonDocument.Parse(run.Output);
        var points = document.RootElement.GetProperty("types")[0].GetProperty("numbers").EnumerateArray()
            .Where(n => n.GetProperty("fitted").ValueKind == JsonValueKind.Number).ToArray();
        // Three forward voltages; the typical leakage, the largest at 25 °C and the largest at 100 °C.
        Assert.Equal(6, points.Length);
        Assert.Equal(0.45, points[1].GetProperty("fitted").GetDouble(), 1e-3);
    }

    [Fact]
    public void Pin_types_are_listed_and_shown_whole_with_ratings_thresholds_and_sources()
    {
        string list = Frontendsim.Run("parts", "pin").Output;
        foreach (string name in new[] { "converter-5v", "converter-3v3", "cmos-hc", "cmos-4000", "lvttl" })
            Assert.Contains(name, list);
        Assert.DoesNotContain("1N4148", list);

        // JESD7A: 1.35 V and 3.15 V at 4.5 V, 20 mA through the clamps, half a volt beyond the rails, 2 V to 6 V (from memory).
        var run = Frontendsim.Run("parts", "CMOS-HC");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        foreach (string shown in new[] { "JESD7A", "1.35 V", "3.15 V", "20 mA", "500 mV", "4.2 V" })
            Assert.Contains(shown, run.Output);

        using var document = JsonDocument.Parse(Frontendsim.Run("parts", "lvttl", "--json").Output);
        var pin = document.RootElement.GetProperty("types")[0];
        double Number(string what) => pin.GetProperty("numbers").EnumerateArray()
            .Single(n => n.GetProperty("what").GetString() == what && n.GetProperty("unit").GetString() == "V").GetProperty("value")
                .GetDouble();
        // JESD8C: low below 0.8 V, high above 2 V.
        Assert.Equal(0.8, Number("reads low below"));
        Assert.Equal(2.0, Number("reads high above"));
        Assert.Contains("JESD8C", pin.GetProperty("source").GetString());
        Assert.Contains("lvttl,pin,reads low below,0.8,V,0,", Frontendsim.Run("parts", "lvttl", "--csv").Output);
        Assert.Equal(2, Frontendsim.Run("parts", "lvttl", "--plot", "curve.svg").ExitCode);
    }

    [Fact]
    public void A_part_of_a_circuit_file_shows_its_fit_at_each_point_and_contradictory_leakages_name_both()
    {
        const string circuit = """
            circuit "a part of one's own"
            rail VDD 3.3 V
            part LEAKY is schottky
                forward 0.45 V at 10 mA
                forward 0.55 V at 100 mA
                leakage 1 uA at 5 V
                leakage 2 uA at 20 V
                stands  40 V
            sensor probe drives IN span 0 V .. 3 V
            resistor R1 from IN to PIN 10k
            schottky D1 from PIN to VDD LEAKY

            """;
        using var scratch = new Scratch();
        string file = scratch.Write("leaky.fes", circuit);
        Assert.Contains("LEAKY", Frontendsim.Run("parts", "--from", file).Output);
        Assert.DoesNotContain("1N4148", Frontendsim.Run("parts", "--from", file).Output);
        using var document = JsonDocument.Parse(Frontendsim.Run("parts", "leaky", "--from", file, "--json").Output);
        // A leakage that doubles while the voltage is four times as high: the square root of a depletion layer (Sze). Both points are met.
        Assert.All(document.RootElement.GetProperty("types")[0].GetProperty("numbers").EnumerateArray()
            .Where(n => n.GetProperty("fitted").ValueKind == JsonValueKind.Number),
            p => Assert.InRange(p.GetProperty("residual").GetDouble(), -1e-6, 1e-6));

        var wrong = Frontendsim.Run("check", scratch.Write("wrong.fes", circuit.Replace("2 uA at 20 V", "0.5 uA at 20 V")));
        Assert.Equal((2, ""), (wrong.ExitCode, wrong.Output));
        Assert.Contains("leakage of 1 µA at 5 V and the leakage of 500 nA at 20 V", wrong.Error);
    }
}
