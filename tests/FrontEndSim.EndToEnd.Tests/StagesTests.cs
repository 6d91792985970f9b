using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>A battery of 12 V, divided, buffered and clamped, through the verbs that know stages.</summary>
public class StagesTests
{
    private const string Battery = """
        circuit "Battery of 12 V"
        rail VDD 3.3 V load 10 mA
        sensor battery drives BAT
            span   2 V .. 15 V
            source 1 ohm
        stage share is divider
            from BAT to TAP
            ratio     0.2
            impedance 22k
            resistors E24 1%
        stage stiff is buffer
            from TAP to LEVEL
            opamp  rail-to-rail-cmos on VDD and GND
            series 1k
        stage guard is rail-clamp-guard
            from LEVEL to PIN
            series 1k 1%
            diodes 1N5711 to VDD
            shunt  10n
        pin adc at PIN
            rated    -0.3 V .. VDD + 0.3 V
            converts 12 bits over 0 V .. VDD
        event "40 V on the terminal" at BAT
            step to 40 V source 1 ohm at 1 ms for 10 ms
        require adc inside rating in every event
        require adc mapping error under 3 counts

        """;

    [Fact]
    public void A_divider_a_buffer_and_a_guard_check_explain_and_break_one_by_one()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("battery.fes", Battery);
        var check = Frontendsim.Run("check", file);
        Assert.Equal((0, ""), (check.ExitCode, check.Error));
        // 15 V · 0.2 = 3 V: the ratio says where the sensor's span lands.
        Assert.Contains("(wanted 400 mV .. 3 V)", string.Join(" ",
            check.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));

        // Ro = R1 ∥ R2 = 120 kohm ∥ 30 kohm = 24 kohm (E24, 1 ohm of source beside it).
        string explained = Frontendsim.Run("explain", file).Output;
        Assert.Contains("24 kΩ", explained);
        Assert.Contains("rail-clamp-guard", explained);

        using var faults = JsonDocument.Parse(Frontendsim.Run("faults", file, "--json").Output);
        string?[] broken = [.. faults.RootElement.GetProperty("faults").EnumerateArray().Select(f => f.GetProperty("text").GetString())];
        foreach (string fault in new[] { "share.R2 open", "stiff.U1 stuck high", "guard.Dh reversed" })
            Assert.Contains(fault, broken);
    }

    [Fact]
    public void A_divider_that_would_have_to_shift_names_the_line_and_the_span_that_it_can_give()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("check", scratch.Write("battery.fes", Battery.Replace("ratio     0.2", "maps battery onto 0 V .. 3 V")));
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("battery.fes(8,", run.Error);
        Assert.Contains("onto 400 mV .. 3 V", run.Error);
    }
}
