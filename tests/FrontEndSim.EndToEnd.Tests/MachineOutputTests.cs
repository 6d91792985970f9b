using System.Globalization;
using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Holds what docs/output.md promises to scripts, on a circuit that a person can work out in the head.</summary>
public class MachineOutputTests
{
    [Fact]
    public void Bias_json_gives_nodes_in_volts_and_parts_with_voltage_current_and_power()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("bias", scratch.Write("divider.fes", Scratch.Divider), "--json");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var root = JsonDocument.Parse(run.Output).RootElement;
        // Ohm's law at mid-span: 3.3 V over 20,001 ohm. The pin's clamps leak femtoamperes, so the last digits differ.
        double amps = 3.3 / 20_001;
        Assert.Equal(amps * 20_000, root.GetProperty("nodeVolts").GetProperty("IN").GetDouble(), 1e-9);
        Assert.Equal(amps * 10_000, root.GetProperty("nodeVolts").GetProperty("PIN").GetDouble(), 1e-9);
        var r1 = root.GetProperty("parts").GetProperty("R1");
        Assert.Equal(amps * 10_000, r1.GetProperty("volts").GetDouble(), 1e-9);
        Assert.Equal(amps, r1.GetProperty("amps").GetDouble(), 1e-13);
        Assert.Equal(amps * amps * 10_000, r1.GetProperty("watts").GetDouble(), 1e-12);
    }

    [Fact]
    public void Sweep_csv_has_the_swept_sensor_first_then_the_nodes_shown_on_the_grid_asked_for()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("sweep", scratch.Write("divider.fes", Scratch.Divider), "--csv", "--from", "-0.5 V", "--to", "3500 mV",
            "--points", "5", "--show", "PIN,IN");
        var (header, rows) = Table(run.Output);
        Assert.Equal(["probe (V)", "PIN (V)", "IN (V)"], header);
        Assert.Equal([-0.5, 0.5, 1.5, 2.5, 3.5], rows.Select(r => r[0]));
        Assert.All(rows.Where(r => r[0] > 0), r => Assert.Equal(r[0] * 10_000 / 20_001, r[1], 1e-9));
        Assert.All(rows.Where(r => r[0] > 0), r => Assert.Equal(r[0] * 20_000 / 20_001, r[2], 1e-9));
    }

    [Fact]
    public void Sweep_csv_without_show_has_every_node_but_ground()
    {
        using var scratch = new Scratch();
        var (header, rows) = Table(Frontendsim.Run("sweep", scratch.Write("divider.fes", Scratch.Divider), "--csv").Output);
        Assert.Equal("probe (V)", header[0]);
        Assert.Equal(["IN (V)", "PIN (V)", "VDD (V)"], header[1..].Order());
        Assert.Equal((0, 6.6), (rows[0][0], rows[^1][0]));
    }

    // The sensor is torn off when the 12 V come, which is worse than with it: behind 1 ohm they charge the pin towards their half through
    // R1 in parallel with R2. The times end before the pin's own clamp begins to carry current.
    [Fact]
    public void Events_csv_has_time_first_then_nodes_and_follows_the_closed_form_of_an_RC_step()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("events", scratch.Write("divider.fes", Scratch.Divider), "--csv", "--until", "1.03 ms", "--points",
            "104", "--show", "PIN");
        var (header, rows) = Table(run.Output);
        Assert.Equal(["time (s)", "PIN (V)"], header);
        Assert.Equal(104, rows.Length);
        Assert.Equal((0, 1.03e-3), (rows[0][0], rows[^1][0]));
        double rest = 3.3 * 10_000 / 20_001, final = 12.0 * 10_000 / 20_001, tau = 10e-9 * 10_000.0 * 10_001 / 20_001;
        Assert.All(rows.Where(r => r[0] < 1e-3), r => Assert.Equal(rest, r[1], 1e-6));
        Assert.All(rows.Where(r => r[0] >= 1e-3), r => Assert.Equal(final + (rest - final) * Math.Exp(-(r[0] - 1e-3) / tau), r[1],
            1e-3 * final));
    }

    [Fact]
    public void Events_csv_of_several_events_names_the_event_in_a_last_column()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("two.fes", Scratch.Divider
            + "\nevent \"again, twice\" at IN\n    step to 5 V source 1 ohm at 1 ms for 1 ms\n");
        string[] lines = Frontendsim.Run("events", file, "--csv", "--points", "2", "--show", "PIN").Output.TrimEnd().Split('\n');
        Assert.Equal("time (s),PIN (V),event", lines[0]);
        Assert.EndsWith(",12 V on the input", lines[1]);
        Assert.EndsWith(",\"again, twice\"", lines[^1]);
    }

    [Fact]
    public void Events_json_gives_margins_and_the_energy_in_each_part()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("events", scratch.Write("divider.fes",
            Scratch.Divider.Replace("rail VDD 3.3 V", "rail VDD 3.3 V sinks")), "--json", "--points", "11");
        var only = JsonDocument.Parse(run.Output).RootElement.GetProperty("events")[0];
        Assert.Equal("12 V on the input", only.GetProperty("event").GetString());
        var pin = only.GetProperty("pins")[0];
        Assert.False(pin.GetProperty("isInside").GetBoolean());
        Assert.Equal(pin.GetProperty("upperRatingVolts").GetDouble() - pin.GetProperty("highestVolts")
            .GetDouble(), pin.GetProperty("upperMarginVolts").GetDouble(), 1e-9);
        Assert.True(only.GetProperty("parts").EnumerateArray().First(p => p.GetProperty("part").GetString() == "R1").GetProperty("joules")
            .GetDouble() > 0);
        Assert.Equal(11, only.GetProperty("nodeVolts").GetProperty("PIN").GetArrayLength());
    }

    [Fact]
    public void Check_json_and_csv_say_for_each_requirement_whether_it_is_met()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider
            + "\nrequire adc mapping error under 1 counts\nrequire adc inside rating in every event\n");
        var json = Frontendsim.Run("check", file, "--json");
        Assert.Equal(1, json.ExitCode);
        var root = JsonDocument.Parse(json.Output).RootElement;
        Assert.False(root.GetProperty("allMet").GetBoolean());
        Assert.Equal([true, false], root.GetProperty("requirements").EnumerateArray().Select(r => r.GetProperty("met").GetBoolean()));
        string[] lines = Frontendsim.Run("check", file, "--csv").Output.Split('\n');
        Assert.StartsWith("requirement,met,found,limit,margin,reason,remedy", lines[0]);
        Assert.Contains(",yes,", lines[1]);
        Assert.Contains(",no,", lines[2]);
    }

    [Fact]
    public void Numbers_have_every_digit_that_reading_them_back_needs()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider.Replace("10 kohm", "13 kohm"));
        double json = JsonDocument.Parse(Frontendsim.Run("sweep", file, "--json", "--points", "4").Output).RootElement
            .GetProperty("nodeVolts").GetProperty("PIN")[1].GetDouble();
        Assert.Equal(json, Table(Frontendsim.Run("sweep", file, "--csv", "--points", "4", "--show", "PIN").Output).Rows[1][1]);
    }

    private static (string[] Header, double[][] Rows) Table(string csv)
    {
        string[] lines = csv.TrimEnd('\n').Split('\n');
        return (lines[0].Split(','), [.. lines.Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture))
            .ToArray())]);
    }
}
