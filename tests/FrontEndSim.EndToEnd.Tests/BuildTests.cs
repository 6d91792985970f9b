using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim build, as a user starts it.</summary>
public class BuildTests
{
    [Fact]
    public void The_sheet_of_a_shipped_circuit_names_parts_points_and_constants()
    {
        var run = Frontendsim.Run("build", Frontendsim.Circuit("rain-tank.fes"));
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        foreach (string expected in new[] { "shift.R1", "Bench", "adc_microvolts", "Calibration", "Caution" })
            Assert.Contains(expected, run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_meter_that_cannot_be_is_refused()
    {
        var run = Frontendsim.Run("build", Frontendsim.Circuit("rain-tank.fes"), "--meter", "90%");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("--meter", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_C_snippet_compiles_and_gives_the_sensor_s_voltage_for_the_codes_of_both_ends()
    {
        var firmware = JsonNode.Parse(Frontendsim.Run("build", Frontendsim.Circuit("rain-tank.fes"), "--json").Output)!["firmware"]![0]!;
        using var scratch = new Scratch();
        string source = scratch.Write("snippet.c", (string)firmware["c"]! + """
            #include <stdio.h>
            #include <stdlib.h>
            int main(int argc, char **argv)
            {
                for (int k = 1; k < argc; k++)
                    printf("%.9g %ld\n", (double)adc_volts((uint16_t)atoi(argv[k])), (long)adc_microvolts((uint16_t)atoi(argv[k])));
                return argc < 2;
            }
            """);
        Outcome compiled;
        try
        {
            compiled = Run("cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-o", scratch.Path("snippet"), source);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Assert.Skip("No C compiler (cc) on this machine.");
            return;
        }
        Assert.Equal((0, ""), (compiled.ExitCode, compiled.Error));
        double low = (double)firmware["lowCode"]!, high = (double)firmware["highCode"]!, slope = (double)firmware["line"]!["slope"]!;
        string[] lines = Run(scratch.Path("snippet"), low.ToString(CultureInfo.InvariantCulture),
            high.ToString(CultureInfo.InvariantCulture)).Output.Split('\n');
        foreach (var (line, volts) in lines.Zip([-1.2, 1.8]))
        {
            double[] numbers = [.. line.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture))];
            // A code stands for its step: half a step either way, the curvature and the rounding.
            Assert.Equal(volts, numbers[0], 0.51 * slope);
            Assert.Equal(volts, numbers[1] * 1e-6, 0.51 * slope + (double)firmware["line"]!["whole"]!["roundingError"]!);
        }
    }

    private static Outcome Run(string program, params string[] args)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string arg in args)
            start.ArgumentList.Add(arg);
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return new Outcome(process.ExitCode, output.Result, error.Result);
    }
}
