using System.Text.Json;

namespace FrontEndSim.EndToEnd.Tests;

public class RespondTests
{
    // Scratch.Divider: 10 nF behind 10,001 ohm in parallel with 10 kohm.
    private const double TimeConstant = 10e-9 * 10_000.0 * 10_001 / 20_001;

    [Fact]
    public void Respond_json_gives_the_corner_and_the_attenuation_of_one_pole()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("respond", scratch.Write("divider.fes", Scratch.Divider), "--json", "--rate", "20 kHz");
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        var root = JsonDocument.Parse(run.Output).RootElement;
        double corner = 1 / (2 * Math.PI * TimeConstant);
        // The pin's own clamps add a few picofarads to 10 nF.
        Assert.Equal(corner, root.GetProperty("frequency").GetProperty("cornerHertz").GetDouble(), 1e-3 * corner);
        double ratio = 10e3 / corner;
        Assert.Equal(10 * Math.Log10(1 + ratio * ratio), root.GetProperty("frequency").GetProperty("halfRateAttenuation")
            .GetDouble(), 0.01);
        // √(kT/C) of 10 nF and the pin's 5 pF, whatever the resistances (Johnson and Nyquist).
        double noise = Math.Sqrt(1.380649e-23 * 298.15 / 10.005e-9);
        Assert.Equal(noise, root.GetProperty("noise").GetProperty("rmsVolts").GetDouble(), 0.01 * noise);
        double settling = TimeConstant * Math.Log(3.3 / (3.3 / 8192));
        Assert.Equal(settling, root.GetProperty("settlingSeconds").GetDouble(), 0.01 * settling);
    }

    [Fact]
    public void Respond_draws_steps_and_frequency_and_warns_of_a_sample_that_does_not_settle()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider.Replace("converts", "samples 14 pF through 1k5 for 1 us\n    converts"));
        string picture = scratch.Path("respond.svg");
        var run = Frontendsim.Run("respond", file, "--rate", "1 kHz", "--plot", picture);
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        // 14 pF at 3.3 V against 10 nF: 3.3·14e-12/10e-9 V, 5.7 counts.
        Assert.Contains("does not settle: 5.6", run.Output.ReplaceLineEndings(" "));
        Assert.Contains("Response to small signals", File.ReadAllText(picture));
        // A millisecond is twenty time constants: the second sample finds the pin recovered and the capacitor nearly at its voltage.
        Assert.Contains("drop the first after another channel", run.Output.ReplaceLineEndings(" ").Replace("           ", " ")
            .Replace("  ", " "));
        Assert.Contains("Samples in a row at 1 kHz", File.ReadAllText(picture));
        var row = JsonDocument.Parse(Frontendsim.Run("respond", file, "--rate", "1 kHz", "--json").Output)
            .RootElement.GetProperty("rows")[0];
        Assert.True(row.GetProperty("keepsCharge").GetBoolean());
        Assert.Equal(8, row.GetProperty("heldVolts").GetArrayLength());
        var fast = Frontendsim.Run("respond", file, "--rate", "2 MHz");
        Assert.Equal((2, ""), (fast.ExitCode, fast.Output));
        Assert.Contains("below 1 MHz", fast.Error);
    }

    [Fact]
    public void A_rate_of_zero_is_refused()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("respond", scratch.Write("divider.fes", Scratch.Divider), "--rate", "0 Hz");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("above 0 Hz", run.Error);
    }
}
