using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

public class ExplainTests
{
    private const string Guarded = """
        circuit "A probe through a guard"
        rail VDD 3.3 V
        sensor probe drives IN
            span 0 V .. 3.3 V
        stage guard is pin-guard
            from IN to PIN
            series 10 kohm 1%
            pulldown 90 kohm 1%
        pin adc at PIN
            converts 12 bits over 0 V .. VDD
        """;

    // A bridge moves both of its ends; the stage answers to their difference, as its closed form does.
    [Fact]
    public void A_stage_that_subtracts_is_held_against_the_difference_of_its_inputs()
    {
        var run = Frontendsim.Run("explain", Frontendsim.Circuit("load-cell.fes"), "--json");
        using var document = JsonDocument.Parse(run.Output);
        var stage = document.RootElement.GetProperty("stages").EnumerateArray().First();
        Assert.All(stage.GetProperty("lines").EnumerateArray(), l =>
            Assert.Equal(l.GetProperty("idealVolts").GetDouble(), l.GetProperty("simulatedVolts").GetDouble(), 0.02));
    }

    [Fact]
    public void Explain_writes_formula_numbers_and_result_beside_the_simulated_value()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("explain", scratch.Write("guard.fes", Guarded));
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("a = Rp / (R + Rp)", run.Output);
        // 90/(10 + 90), by hand and simulated.
        Assert.Matches(@"a = Rp / \(R \+ Rp\) +0\.9 +0\.9", run.Output);
        Assert.Matches(@"= 90 kΩ / \(10 kΩ \+ 90 kΩ\)", run.Output);
        Assert.Contains("Sensor probe onto pin adc, ideal and real", run.Output);
    }

    [Fact]
    public void What_the_resistance_ahead_of_a_stage_makes_is_not_blamed_on_a_part_of_it()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("explain", scratch.Write("ahead.fes", """
            circuit "A shift behind 10 kohm"
            rail VP 9 V
            rail VN -9 V
            rail VDD 3.3 V
            sensor probe drives IN span 0 V .. 1 V
            resistor R1 from IN to AHEAD 10k
            stage amp is single-stage-shifter
                from AHEAD to OUT
                maps probe onto 0.1 V .. 3 V
                offset from VDD
                opamp jfet-input on VP and VN
            pin adc at OUT converts 12 bits over 0 V .. VDD
            """), "--stage", "amp");
        // By hand the plus input sees R1 ‖ R2 of the stage, in the circuit 10 kohm more in R1's branch.
        Assert.Matches(@"parallel of the resistors at the plus input: \+9\.\d kΩ\s+from\s+what\s+stands\s+ahead\s+of\s+node\s+AHEAD",
            run.Output);
        Assert.DoesNotContain("from leakage of", run.Output);
    }

    [Fact]
    public void Explain_json_has_lines_of_input_ideal_and_simulated_output()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("explain", scratch.Write("guard.fes", Guarded), "--json", "--stage", "guard");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var lines = JsonDocument.Parse(run.Output).RootElement.GetProperty("stages")[0].GetProperty("lines").EnumerateArray().ToArray();
        Assert.Equal([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.3], lines.Select(l => l.GetProperty("inputVolts").GetDouble()));
        Assert.All(lines, l => Assert.Equal(0.9 * l.GetProperty("inputVolts").GetDouble(), l.GetProperty("idealVolts").GetDouble(), 1e-12));
        Assert.All(lines, l => Assert.Equal(l.GetProperty("idealVolts").GetDouble(), l.GetProperty("simulatedVolts").GetDouble(), 1e-6));
    }

    [Fact]
    public void A_check_that_passes_and_explain_both_name_the_part_of_the_guard_that_costs_most()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("guard.fes", Guarded);
        var check = Frontendsim.Run("check", file);
        Assert.Equal((0, ""), (check.ExitCode, check.Error));
        // 90/(10 + 90) instead of 1: a tenth of 4096 counts.
        Assert.Matches(@"Cost +The pull-down of guard \(Rp\) costs most of the protection: -410 counts at 3.3 V", check.Output);
        var explain = Frontendsim.Run("explain", file);
        Assert.Matches(@"the pull-down of guard \(Rp\), 90 kΩ 1 % +\+?0 +-410", explain.Output);
        var json = JsonDocument.Parse(Frontendsim.Run("check", file, "--json").Output).RootElement.GetProperty("costs")[0];
        Assert.Equal(-409.6, json.GetProperty("parts").EnumerateArray().Single(p => p.GetProperty("part").GetString() == "guard.Rp")
            .GetProperty("highCounts").GetDouble(), 0.1);
    }

    [Fact]
    public void A_circuit_without_stages_tells_its_mapping_and_one_without_either_is_refused_as_is_a_stage_that_is_not_there()
    {
        using var scratch = new Scratch();
        var drawn = Frontendsim.Run("explain", scratch.Write("divider.fes", Scratch.Divider));
        Assert.Equal((0, ""), (drawn.ExitCode, drawn.Error));
        Assert.Contains("No hand calculation", drawn.Output);
        Assert.Contains("Sensor probe onto pin adc, ideal and real", drawn.Output);
        var none = Frontendsim.Run("explain", scratch.Write("lone.fes",
            "circuit \"A resistor\"\nsource V1 from A to GND 1 V\nresistor R1 from A to GND 1k"));
        Assert.Equal((2, ""), (none.ExitCode, none.Output));
        Assert.Contains("no stage", none.Error);
        var other = Frontendsim.Run("explain", scratch.Write("guard.fes", Guarded), "--stage", "gard");
        Assert.Equal((2, ""), (other.ExitCode, other.Output));
        Assert.Contains("guard", other.Error);
    }
}
