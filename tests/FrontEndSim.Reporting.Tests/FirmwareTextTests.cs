using System.Diagnostics;
using System.Globalization;
using System.Text;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.Reporting.Tests;

public class FirmwareTextTests
{
    /// <summary>Bits, sensor voltage for one count (V) and at code 0 (V): millivolts to kilovolts, both signs, wide converters.</summary>
    public static TheoryData<int, double, double> Lines => new()
    {
        { 12, 0.983323, -1.2 }, { 12, 4067.0 / 4095, 0 }, { 16, 4e3 / 65536, 0 }, { 16, -4e3 / 65536, 4e3 }, { 10, 3.3 / 1024, -1.65 },
        { 12, 1e-6, -2e-3 }, { 12, -1e-9, 1e-6 }, { 8, 1e7, -1e9 }, { 16, 1e9, 0 }, { 20, 1e-7, -0.05 }, { 1, 1, 2147.5 }, { 12, 5e14, -1e18 },
    };

    [Theory, MemberData(nameof(Lines))]
    public void The_C_gives_the_line_within_its_stated_rounding_at_every_code_and_nothing_overflows(int bits, double slope, double offset)
    {
        var line = WholeNumberLine.For(slope, offset, bits);
        string c = FirmwareText.C(new FirmwareConstants("adc", "probe", bits, 0, 0, 0) { Line = new(slope, offset, line) });
        string function = c[(c.LastIndexOf("adc_", StringComparison.Ordinal))..].Split('(')[0];
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "all.c"), c + $$"""
                #include <stdio.h>
                int main(void)
                {
                    for (uint32_t code = 0; code < {{1u << bits}}u; code++)
                        printf("%lld\n", (long long){{function}}(code));
                    return adc_volts(0) > 1e30f;
                }
                """);
            // The sanitizer ends the program at the first signed overflow.
            string[] flags = ["-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c"];
            var compiled = Run(folder, "cc", flags);
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            long[] results = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => long.Parse(r, CultureInfo.InvariantCulture))];
            Assert.Equal(1 << bits, results.Length);
            double worst = results.Select((r, k) => Math.Abs(r * line.ResultUnit - (offset + slope * k))).Max();
            Assert.InRange(worst, 0, line.RoundingError * (1 + 1e-9));
            // Nothing is lost that matters: half a count at most, or half of the last place that is shown.
            Assert.True(line.RoundingError <= Math.Max(2 * line.ResultUnit, 0.05 * Math.Abs(slope)), $"{line.RoundingError} V");
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void The_C_of_a_table_gives_what_the_table_says_at_every_code_and_nothing_overflows()
    {
        // A thermistor of 10 kohm below 3.3 kohm on the converter's own rail, from 5 °C to 95 °C.
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 3.3)],
            Sensors = [new("bath", "IN", new Span(5, 95), 0) { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(10_000, 25, 3977) }],
            Parts = [new ResistorPart("R", "VDD", "IN", 3300)],
            Pins = [new("adc", "IN") { Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
        };
        var constants = BuildStudy.Run(frontEnd).Firmware.Single();
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "all.c"), FirmwareText.C(constants) + """
                #include <stdio.h>
                int main(void)
                {
                    for (uint32_t code = 0; code < 4096u; code++)
                        printf("%lld\n", (long long)adc_temperature_thousandths((uint16_t)code));
                    return adc_temperature(0) > 1e30f;
                }
                """);
            var compiled = Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            long[] results = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => long.Parse(r, CultureInfo.InvariantCulture))];
            Assert.Equal(results, Enumerable.Range(0, 4096).Select(k => constants.Table!.At(k)));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    /// <summary>A sensor with the resistor beside it to 3.3 V, its span, and the bits of its converter.</summary>
    public static TheoryData<SensorLaw, double, double, double, int> Curved => new()
    {
        { new ThermistorLaw(10_000, 25, 3977), 3300, 5, 95, 12 },
        { new ThermistorLaw(10_000, 25, 3977), 10_000, -30, 110, 12 },
        { new SteinhartHartLaw(1.129e-3, 2.341e-4, 0.8775e-7), 4700, -20, 100, 16 },
        { new PlatinumLaw(1000), 4700, -180, 600, 16 },
        { new TableLaw([new(0, 100), new(10, 240), new(20, 300), new(60, 900)], Unit.Ohm), 470, 0, 60, 10 },
    };

    [Theory, MemberData(nameof(Curved))]
    public void The_C_of_a_polynomial_and_of_the_inverse_formula_reads_what_is_measured_within_its_stated_residual_at_every_code(
        SensorLaw law, double ohms, double low, double high, int bits)
    {
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 3.3)],
            Sensors = [new("bath", "IN", new Span(low, high), 0) { Quantity = "temperature", UnitText = "°C", Law = law }],
            Parts = [new ResistorPart("R", "VDD", "IN", ohms)],
            Pins = [new("adc", "IN") { HasClamps = false, Converter = new(bits, new(new(null, 0), new("VDD", 0))) }],
        };
        var constants = FirmwareText.With(BuildStudy.Run(frontEnd)).Firmware.Single();
        var (polynomial, formula) = (constants.Polynomial!, constants.Formula);
        // A table of a data sheet has no formula; thermistors and platinum have.
        Assert.Equal(law is TableLaw, formula is null);
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            string whole = polynomial.C[polynomial.C.LastIndexOf("adc_temperature_polynomial_", StringComparison.Ordinal)..].Split('(')[0];
            File.WriteAllText(Path.Combine(folder, "all.c"), polynomial.C + formula?.C + $$"""
                #include <stdio.h>
                int main(void)
                {
                    for (uint32_t code = 0; code < {{1u << bits}}u; code++)
                        printf("%.9g %lld %.17g\n", (double)adc_temperature_polynomial((uint16_t)code), (long long){{whole}}((uint16_t)code), {{(formula is null ? "0.0" : "adc_temperature_formula((uint16_t)code)")}});
                    return 0;
                }
                """);
            // The sanitizer ends the program at the first signed overflow.
            var compiled = Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c", "-lm");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            double[][] read = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => r.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray())];
            Assert.Equal(1 << bits, read.Length);
            double codes = Math.Pow(2, bits);
            for (int k = 0; k < read.Length; k++)
            {
                // The C does what the engine says, to the last bit of a float.
                Assert.Equal(polynomial.At(k), read[k][1]);
                Assert.Equal(polynomial.Value(k), read[k][0], 1e-6 * (Math.Abs(low) + Math.Abs(high)) * polynomial.Coefficients.Length);
                Assert.InRange(Math.Abs(polynomial.At(k) * polynomial.ResultUnit - polynomial.Value(k)), 0, polynomial.Rounding * (1 + 1e-9));
                if (k <= polynomial.FirstCode || k >= polynomial.LastCode)
                    continue;
                // The divider by hand at the middle of the code, R = Rref·x/(1 − x), and the law turned round by bisection.
                double x = (k + 0.5) / codes, celsius = law.Inverse(ohms * x / (1 - x), new Span(low, high));
                Assert.Equal(celsius, polynomial.Value(k), polynomial.Residual * 1.1 + 1e-9);
                if (formula is not null)
                {
                    Assert.Equal(formula.Value(k), read[k][2], 1e-9);
                    Assert.Equal(celsius, read[k][2], formula.Residual + 1e-6);
                }
            }
            // Nothing but the divider is between the sensor and the code, so that its own formula leaves next to nothing.
            Assert.True(formula is null or { Residual: < 1e-4 });
            Assert.InRange(polynomial.Residual, 0, law is TableLaw ? 2 : 1);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    /// <summary>Seconds, what a pulse and none stand for, and the most pulses.</summary>
    [Theory]
    [InlineData(1.0, 1 / 7.0, 0, 210)]
    [InlineData(3600.0, 0.2794, 0, 504)]
    [InlineData(0.1, -0.037, 60, 15000)]
    [InlineData(1.0, 1e-4, -40, 2e6)]
    public void The_C_of_pulses_in_whole_numbers_is_within_its_stated_rounding_at_every_count(double seconds, double factor, double offset, double most)
    {
        var made = new FirmwareCounted("flow-in", "pipe", "flow", "l/min", seconds, factor, offset, most);
        string c = FirmwareText.C(made), whole = c[c.LastIndexOf("flow_in_flow_", StringComparison.Ordinal)..].Split('(')[0];
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            long stride = Math.Max(1, made.LastCount / 5000);
            File.WriteAllText(Path.Combine(folder, "all.c"), c + $$"""
                #include <stdio.h>
                int main(void)
                {
                    for (uint32_t n = 0; n <= {{made.LastCount}}u; n += {{stride}}u)
                        printf("%lld %.17g\n", (long long){{whole}}(n), flow_in_flow(n));
                    return {{whole}}(4294967295u) != {{whole}}({{made.LastCount}}u);
                }
                """);
            var compiled = Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            double[][] read = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => r.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray())];
            Assert.True(made.LastCount >= 2 * most && read.Length > 400);
            for (int k = 0; k < read.Length; k++)
            {
                Assert.Equal(offset + factor * k * stride, read[k][1], 1e-9);
                Assert.Equal(read[k][1], read[k][0] * made.Whole.ResultUnit, made.Whole.RoundingError * (1 + 1e-6) + 1e-9);
            }
            Assert.InRange(made.Whole.RoundingError, 0, Math.Max(2e-6, 0.05 * Math.Abs(factor)));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Theory]
    [InlineData(Amplitude.Rms)]
    [InlineData(Amplitude.Mean)]
    [InlineData(Amplitude.Peak)]
    public void The_C_of_a_reading_over_periods_compiles_and_reads_the_rms_of_a_sine(Amplitude taken)
    {
        var span = new Span(-10 * Math.Sqrt(2), 10 * Math.Sqrt(2));
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 5), new("VMID", 2.5) { Sinks = true }],
            Sensors =
            [
                new("mains", "PIN", span, 0)
                {
                    Other = "VMID", Quantity = "current", UnitText = "A", Law = new StraightLaw(span, span.Low / 10, span.High / 10, Unit.Volts),
                    Alternation = new(50, 0, Amplitude.Rms, new Span(0, 10)),
                },
            ],
            Parts = [new ResistorPart("R1", "PIN", "VMID", 1e6)],
            Pins = [new Pin("adc", "PIN") { HasClamps = false, Converter = new(16, new(new(null, 0), new("VDD", 0))) }],
            AlternatingReadings = [new("amps", "mains", "adc", taken, 100, 2)],
        };
        var made = FirmwareText.With(BuildStudy.Run(frontEnd)).Alternating.Single();
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            // 3 A rms make 0.3 V rms about 2.5 V of 5 V on 65536 codes.
            string codes = string.Join(",", Enumerable.Range(0, 200).Select(k =>
                (int)((2.5 + 0.3 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * (k + 0.5) / 100)) / 5 * 65536)));
            File.WriteAllText(Path.Combine(folder, "all.c"), made.C + "#include <stdio.h>\nint main(void)\n{\nstatic const uint16_t codes[] = {" + codes
                + "};\nprintf(\"%.17g\\n\", amps_current(codes));\nreturn 0;\n}\n");
            var compiled = Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-o", "all", "all.c", "-lm");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            Assert.Equal(3, double.Parse(Run(folder, Path.Combine(folder, "all"))!.Value.Said, CultureInfo.InvariantCulture), 2e-3);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void The_C_of_a_thermocouple_reads_its_temperature_at_any_temperature_of_the_cold_junction()
    {
        // An ideal amplifier stands before the converter: it has a range of 50 mV itself.
        var type = ThermocoupleType.All.Single(t => t.Name == "K");
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 3.3)],
            Sensors = [new("bath", "IN", new Span(0, 500), 1) { Quantity = "temperature", UnitText = "°C", Law = new ThermocoupleLaw(type) }],
            Parts = [new ResistorPart("R", "IN", "GND", 1e9)],
            Pins = [new("adc", "IN") { HasClamps = false, Converter = new(16, new(new(null, -0.005), new(null, 0.045))) }],
        };
        var constants = BuildStudy.Run(frontEnd).Firmware.Single();
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "all.c"), FirmwareText.C(constants) + """
                #include <stdio.h>
                #include <stdlib.h>
                int main(int argc, char **argv)
                {
                    for (int k = 1; k + 1 < argc; k += 2)
                        printf("%ld\n", (long)adc_temperature_hundredths((uint16_t)atoi(argv[k]), atoi(argv[k + 1])));
                    return adc_volts(0) > 1e30f;
                }
                """);
            var compiled = Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            (double Celsius, double Cold)[] cases = [(0, 25), (25, 25), (100, -20), (250, 0), (400, 50), (500, 60)];
            // The code of the couple's voltage less that of its cold junction, by its own function (IEC 60584-1).
            string[] args = [.. cases.SelectMany(c => new[] { Math.Floor((type.Volts(c.Celsius) - type.Volts(c.Cold) + 0.005) / 0.05 * 65536), 100 * c.Cold }).Select(v => v.ToString(CultureInfo.InvariantCulture))];
            var (code, output) = Run(folder, Path.Combine(folder, "all"), args)!.Value;
            Assert.Equal(0, code);
            double[] read = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => 0.01 * long.Parse(r, CultureInfo.InvariantCulture))];
            // A count is 0.02 °C and a microvolt 0.025 °C; the table twice, forwards and backwards.
            Assert.All(cases.Zip(read), c => Assert.Equal(c.First.Celsius, c.Second, 0.06 + 2 * constants.Couple!.Residual));
            Assert.InRange(constants.Couple!.Residual, 0, 0.1);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    /// <summary>Exit code with what was said, or null where there is no such program.</summary>
    internal static (int Code, string Said)? Run(string folder, string program, params string[] args)
    {
        var start = new ProcessStartInfo(program, args) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
        try
        {
            using var process = Process.Start(start)!;
            var error = process.StandardError.ReadToEndAsync();
            var said = new StringBuilder(process.StandardOutput.ReadToEnd()).Append(error.Result);
            process.WaitForExit();
            return (process.ExitCode, said.ToString());
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
