using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using static FrontEndSim.FrontEnds.Model.CalculationKind;

namespace FrontEndSim.Reporting.Tests;

public class CombinedTextTests
{
    private static readonly ShareExpression A = new PinShare(0), B = new PinShare(1), C = new PinShare(2);

    private static readonly ShareExpression ThreeWires = Of(Quotient, Of(Difference, A, Of(Product, N(2), B)), Of(Difference, N(1), A));

    private static Calculation Of(CalculationKind kind, params ShareExpression[] operands) => new(kind, [.. operands]);

    private static FixedNumber N(double value) => new(value);

    /// <summary>Bits of three converters, and a formula of what pins read: a rises with the sensor from 0.1 to 0.9, b as 0.2 + a/2, c
    /// rests at 0.9.</summary>
    public static TheoryData<string, int, ShareExpression> Formulas
    {
        get
        {
            (string, ShareExpression)[] all =
            [
                ("ratio", Of(Quotient, A, C)), ("two ways", Of(Quotient, A, Of(Sum, A, B))), ("three wires", ThreeWires),
                ("four wires", Of(Quotient, Of(Difference, A, B), Of(Difference, N(1), A))), ("sum", Of(Sum, A, Of(Negative, B))),
                ("difference", Of(Difference, B, A)), ("a gain that is no binary fraction", Of(Quotient, Of(Product, N(0.98), A), Of(Difference, C, N(0.3)))),
                ("a product of quotients", Of(Product, Of(Quotient, A, B), Of(Quotient, C, N(3)))),
                ("a sum of quotients", Of(Sum, Of(Quotient, A, B), Of(Quotient, A, C))), ("powers", Of(Power, Of(Quotient, A, C), N(3))),
                ("a power below", Of(Power, Of(Sum, B, C), N(-2))), ("a root", Of(SquareRoot, Of(Quotient, A, C))),
                ("a length", Of(SquareRoot, Of(Sum, Of(Product, A, A), Of(Product, C, C)))),
                ("the least of quotients", Of(Least, Of(Quotient, A, Of(Difference, C, B)), Of(Quotient, A, Of(Difference, B, N(1.5))), N(7))),
                ("a magnitude", Of(Magnitude, Of(Quotient, Of(Difference, B, N(2)), Of(Negative, C)))), ("a large number", Of(Product, N(4000), Of(Difference, A, N(0.25)))),
                ("a small number", Of(Quotient, A, N(30000))), ("far from zero", Of(Sum, A, N(1000))), ("the middle of three", Of(Greatest, Of(Least, A, C), Of(Negative, B))),
            ];
            var data = new TheoryData<string, int, ShareExpression>();
            foreach (var (name, formula) in all)
                data.Add(name, name.Length % 3 switch { 0 => 10, 1 => 12, _ => 24 }, formula);
            return data;
        }
    }

    [Theory, MemberData(nameof(Formulas))]
    public void The_C_of_a_reading_in_whole_numbers_is_within_its_stated_bound_of_floating_point_at_any_codes(string name, int bits, ShareExpression formula)
    {
        var made = Made(bits, [formula]).Single();
        Assert.True(made.Whole is not null, name);
        Assert.InRange(made.Whole.Rounding, 0, 0.02);
        Judge([made]);
    }

    [Fact]
    public void Formulas_drawn_at_random_have_whole_numbers_within_their_bound_or_say_what_is_in_the_way()
    {
        var random = new Random(12);
        var formulas = new List<ShareExpression>();
        while (formulas.Count < 60)
        {
            var drawn = Draw(random, 4);
            // What does not rise or fall with the sensor is no reading.
            double[] values = [.. Enumerable.Range(0, 201).Select(k => drawn.Of(Shares(k / 200.0)))];
            double width = values[^1] - values[0];
            if (drawn is Calculation && drawn.HasPins && !formulas.Contains(drawn) && double.IsFinite(width) && Enumerable.Range(1, 200).All(k => (values[k] - values[k - 1]) / width > 2e-4))
                formulas.Add(drawn);
        }
        var made = Made(12, formulas);
        Judge([.. made.Where(m => m.Whole is not null)]);
        // Twelve bits overflow nothing, and only a logarithm or an exponential is left to floating point.
        Assert.All(made.Where(m => m.Whole is null), m => Assert.True(m.InTheWay is Exponential or NaturalLogarithm or DecimalLogarithm or Power, m.Formula));
        Assert.InRange(made.Count(m => m.Whole is not null), 40, 60);
        TestContext.Current.TestOutputHelper?.WriteLine($"{made.Count(m => m.Whole is not null)} of {made.Length} in whole numbers, "
            + $"{made.Count(m => m.Whole is { ProductBits: 32 })} of them in 32 bits, {made.Count(m => m.Whole is { LeastDenominator: > 0 })} with a least denominator");
    }

    private static ShareExpression Draw(Random random, int deep)
    {
        if (deep == 0 || random.Next(5) == 0)
            return random.Next(4) switch { 0 => A, 1 => B, 2 => C, _ => N(Math.Round(Math.Exp(3 * random.NextDouble() - 1), random.Next(5))) };
        var kind = random.Next(14) switch
        {
            < 3 => Quotient,
            < 5 => Sum,
            < 7 => Difference,
            < 9 => Product,
            9 => SquareRoot,
            10 => Magnitude,
            11 => Least,
            12 => Greatest,
            _ => random.Next(3) == 0 ? NaturalLogarithm : Power,
        };
        ShareExpression Next() => Draw(random, deep - 1);
        return kind switch
        {
            SquareRoot or Magnitude or NaturalLogarithm => Of(kind, Next()),
            Power => Of(kind, Next(), N(random.Next(-2, 4))),
            _ => Of(kind, Next(), Next()),
        };
    }

    private static double[] Shares(double place) => [0.1 + 0.8 * place, 0.25 + 0.4 * place, 0.9];

    /// <summary>Three pins that nothing loads.</summary>
    private static ImmutableArray<FirmwareCombined> Made(int bits, IReadOnlyList<ShareExpression> formulas)
    {
        var frontEnd = new FrontEnd
        {
            Rails = [new("C", 0.9) { Sinks = true }, new("VB", 0.4) { Sinks = true }],
            Sensors = [new("tank", "A", new Span(0, 1), 0) { Quantity = "level", UnitText = "m", Law = new StraightLaw(new Span(0, 1), 0.1, 0.9, Unit.Volts) }],
            Parts = [new ResistorPart("R1", "A", "B", 1000), new ResistorPart("R2", "B", "VB", 1000), new ResistorPart("R3", "C", "GND", 1e6)],
            Pins = [.. new[] { "A", "B", "C" }.Select(n => new Pin(n.ToLowerInvariant(), n) { HasClamps = false, Converter = new(bits, new(new(null, 0), new(null, 1))) })],
            Readings = [.. formulas.Select((f, k) => new CombinedReading($"r{k}", "tank", ["a", "b", "c"]) { Formula = CombinedText.Of(f), Expression = f })],
        };
        return FirmwareText.With(BuildStudy.Run(frontEnd)).Combined;
    }

    /// <summary>Compiles all and runs them over a grid of codes, the corners and codes that no converter gives among them.</summary>
    private static void Judge(IReadOnlyList<FirmwareCombined> made)
    {
        int bits = made[0].Bits[0];
        long last = (1L << bits) - 1;
        var random = new Random(7);
        long[][] places = [.. Enumerable.Range(0, 3).Select(p => new[] { 0, 1, 2, last / 2, last - 1, last, last + 1 }
            .Concat(Enumerable.Range(0, 5).Select(_ => random.NextInt64(last))).ToArray())];
        // Over the span, with what boards are off by beside it, and anything.
        long[][] codes =
        [
            .. from a in places[0] from b in places[1] from c in places[2] select new[] { a, b, c },
            .. Enumerable.Range(0, 2000).Select(k => Shares(k / 1999.0).Select(x =>
                Math.Clamp((long)((x + 0.02 * (random.NextDouble() - 0.5)) * (last + 1)), 0, last)).ToArray()),
            .. Enumerable.Range(0, 500).Select(k => Shares(k / 499.0).Select(x => (long)(x * (last + 1))).ToArray()),
        ];
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            var text = new StringBuilder();
            foreach (var m in made)
                text.Append(m.C);
            string[] whole = [.. made.Select(m => Regex.Match(m.C, @$"static int\d+_t ({m.Reading}_level_(?!root)\w+)\(").Groups[1].Value)];
            text.Append("#include <stdio.h>\nstatic const uint32_t codes[][3] = {\n").AppendJoin("\n", codes.Select(c => $"{{{c[0]}u,{c[1]}u,{c[2]}u}},"))
                .Append("\n};\n").AppendJoin("\n", made.Select((m, k) => $$"""
                    static void run{{k}}(void)
                    {
                        unsigned k;
                        for (k = 0; k < {{codes.Length}}u; k++)
                            printf("%lld %.17g\n", (long long){{whole[k]}}(codes[k][0], codes[k][1], codes[k][2]), {{m.Reading}}_level(codes[k][0], codes[k][1], codes[k][2]));
                    }
                    """)).Append("\nint main(void)\n{\n").AppendJoin("\n", made.Select((_, k) => $"run{k}();")).Append("\nreturn 0;\n}\n");
            File.WriteAllText(Path.Combine(folder, "all.c"), text.ToString());
            // The sanitizer ends the program at the first signed overflow.
            var compiled = FirmwareTextTests.Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c", "-lm");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = FirmwareTextTests.Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            string[] lines = output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
            Assert.Equal(made.Count * codes.Length, lines.Length);
            for (int m = 0; m < made.Count; m++)
            {
                var (reading, numbers) = (made[m], made[m].Whole!);
                double worst = 0;
                for (int k = 0; k < codes.Length; k++)
                {
                    string[] read = lines[m * codes.Length + k].Split(' ');
                    long whole64 = long.Parse(read[0], CultureInfo.InvariantCulture);
                    double floating = double.Parse(read[1], CultureInfo.InvariantCulture), here = whole64 * numbers.ResultUnit;
                    long[] held = [.. codes[k].Select(c => Math.Min(c, last))];
                    string at = $"{reading.Formula} at {string.Join(", ", codes[k])}";
                    // The C does what the engine says, and reads nothing beyond the table whatever the codes are.
                    Assert.True(numbers.At(held) == whole64, at);
                    Assert.InRange(whole64, numbers.WholeEntries.Min(), numbers.WholeEntries.Max());
                    if (numbers.Denominator(held) is var under && (under == 0 || under < numbers.LeastDenominator))
                        continue;
                    // Within the span the denominator is never too small.
                    worst = Math.Max(worst, Math.Abs(here - floating));
                    Assert.True(Math.Abs(here - floating) <= numbers.Rounding * (1 + 1e-9) + 1e-9, $"{at}: {here} m and {floating} m, {numbers.Rounding} m");
                    if (k >= codes.Length - 500)
                        Assert.Equal((k - codes.Length + 500) / 499.0, here, numbers.Rounding + reading.Residual + 4 * Step(reading, held));
                }
                Assert.All(codes.TakeLast(500), c => Assert.True(numbers.Denominator([.. c.Select(x => Math.Min(x, last))]) >= Math.Max(1, numbers.LeastDenominator)));
                TestContext.Current.TestOutputHelper?.WriteLine($"{reading.Formula}: {worst:g3} m of {numbers.Rounding:g3} m, {numbers.ProductBits} bits, {numbers.WholeEntries.Length} entries");
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        // What a count of any pin makes there.
        double Step(FirmwareCombined reading, long[] held) => Enumerable.Range(0, 3).Max(p =>
        {
            double Value(long more) => reading.Whole!.At([.. held.Select((c, k) => k == p ? Math.Clamp(c + more, 0, last) : c)]) * reading.Whole.ResultUnit;
            return Math.Abs(Value(1) - Value(-1));
        }) + reading.Whole!.ResultUnit;
    }

    [Fact]
    public void The_C_of_a_cold_junction_that_is_measured_reads_the_temperature_within_its_stated_bound_at_any_codes_of_both_spans()
    {
        var type = ThermocoupleType.All.Single(t => t.Name == "K");
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 3.3)],
            Sensors =
            [
                new("bath", "IN", new Span(0, 500), 1) { Quantity = "temperature", UnitText = "°C", Law = new ThermocoupleLaw(type) { IsJunctionMeasured = true } },
                new("board", "COLD", new Span(-10, 60), 0) { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(10_000, 25, 3977) },
            ],
            Parts = [new ResistorPart("R", "IN", "GND", 1e9), new ResistorPart("RC", "VDD", "COLD", 10_000)],
            Pins =
            [
                new("hot", "IN") { HasClamps = false, Converter = new(16, new(new(null, -0.005), new(null, 0.045))) },
                new("cold", "COLD") { HasClamps = false, Converter = new(12, new(new(null, 0), new("VDD", 0))) },
            ],
            Readings = [new("solder", "bath", ["hot", "cold"])],
        };
        var sheet = FirmwareText.With(BuildStudy.Run(frontEnd));
        var combined = sheet.Combined.Single();
        (long Hot, long Cold)[] codes = [.. from hot in Enumerable.Range(0, 40) from cold in Enumerable.Range(0, 40) select (7300L + 1000 * hot, 800L + 60 * cold),
            .. new long[] { 0, 65535 }.SelectMany(hot => new long[] { 0, 4095 }.Select(cold => (hot, cold)))];
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "all.c"), string.Concat(sheet.Firmware.Select(f => f.C)) + combined.C + "#include <stdio.h>\nint main(void)\n{\n"
                + string.Concat(codes.Select(c => $"printf(\"%ld\\n\", (long)solder_temperature_hundredths({c.Hot}, {c.Cold}));\n")) + "return hot_volts(0) > 1e30f || cold_temperature(0) > 1e30f;\n}\n");
            var compiled = FirmwareTextTests.Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-fsanitize=undefined", "-fno-sanitize-recover", "-o", "all", "all.c");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = FirmwareTextTests.Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            double[] read = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(r => 0.01 * long.Parse(r, CultureInfo.InvariantCulture))];
            double bound = combined.Junction!.Rounding + combined.Residual, coldResidual = sheet.Firmware.Single(f => f.Pin == "cold").Residual;
            int judged = 0;
            for (int k = 0; k < codes.Length; k++)
            {
                // By hand: the divider, the law of the thermistor, the type's own function both ways (IEC 60584-1).
                double x = (codes[k].Cold + 0.5) / 4096, ohms = 10_000 * x / (1 - x);
                double cold = 1 / (1 / 298.15 + Math.Log(ohms / 10_000) / 3977) - 273.15, volts = (codes[k].Hot + 0.5) / 65536 * 0.05 - 0.005 + type.Volts(Math.Clamp(cold, -200, 1300));
                Assert.InRange(read[k], -400, 2000);
                if (cold < -10 || cold > 60 || volts < type.Volts(0) || volts > type.Volts(500))
                    continue;
                judged++;
                double low = 0, high = 500;
                while (high - low > 1e-6)
                    (low, high) = type.Volts((low + high) / 2) < volts ? ((low + high) / 2, high) : (low, (low + high) / 2);
                Assert.Equal(low, read[k], bound + 1.1 * coldResidual * 1.1);
            }
            Assert.InRange(judged, 300, 1600);
            Assert.InRange(combined.Junction.Rounding, 0.01, 0.2);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void The_C_of_a_reading_from_three_wires_compiles_and_reads_the_temperature_whatever_the_leads_are()
    {
        var frontEnd = new FrontEnd
        {
            Rails = [new("VDD", 3.3)],
            Sensors = [new("shell", "S1", new Span(0, 400), 0) { Other = "S2", Quantity = "temperature", UnitText = "°C", Law = new PlatinumLaw(100) }],
            Parts =
            [
                new ResistorPart("Rref", "VDD", "TOP", 2200), new ResistorPart("L1", "TOP", "S1", 0.6), new ResistorPart("L2", "S2", "GND", 0.6),
                new ResistorPart("L3", "S2", "SENSE", 0.6), new ResistorPart("RIN", "SENSE", "GND", 1e9),
            ],
            Pins = [.. new[] { "TOP", "SENSE" }.Select(n => new Pin(n.ToLowerInvariant(), n) { HasClamps = false, Converter = new(24, new(new(null, 0), new("VDD", 0))) })],
            Readings = [new("kiln", "shell", ["top", "sense"]) { Formula = "(top - 2 * sense) / (1 - top)", Expression = ThreeWires }],
        };
        var combined = FirmwareText.With(BuildStudy.Run(frontEnd)).Combined.Single();
        string folder = Directory.CreateTempSubdirectory("firmware").FullName;
        try
        {
            // Leads of 5 ohm, of which the firmware knows nothing: the divider by hand, IEC 60751 for the resistance.
            double[] celsius = [1, 100, 250, 399];
            string whole = combined.C[combined.C.LastIndexOf("kiln_temperature_", StringComparison.Ordinal)..].Split('(')[0];
            string calls = string.Concat(celsius.Select(t =>
            {
                double ohms = new PlatinumLaw(100).At(t), amps = 3.3 / (2200 + 10 + ohms);
                string codes = $"({(long)(amps * (ohms + 10) / 3.3 * (1 << 24))}u, {(long)(amps * 5 / 3.3 * (1 << 24))}u)";
                return $"printf(\"%.17g %lld\\n\", kiln_temperature{codes}, (long long){whole}{codes});\n";
            }));
            File.WriteAllText(Path.Combine(folder, "all.c"), combined.C + "#include <stdio.h>\nint main(void)\n{\n" + calls
                + "return TOP_IS_VALID(1u) ? 1 : 0;\n}\n");
            var compiled = FirmwareTextTests.Run(folder, "cc", "-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic", "-o", "all", "all.c", "-lm");
            Assert.SkipWhen(compiled is null, "No C compiler (cc) on this machine.");
            Assert.Equal((0, ""), compiled);
            var (code, output) = FirmwareTextTests.Run(folder, Path.Combine(folder, "all"))!.Value;
            Assert.Equal(0, code);
            double[][] read = [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(r => r.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray())];
            Assert.All(celsius.Zip(read), c => Assert.Equal(c.First, c.Second[0], 2e-3 + combined.Residual));
            Assert.All(celsius.Zip(read), c => Assert.Equal(c.First, c.Second[1] * combined.Whole!.ResultUnit, 2e-3 + combined.Residual
                + combined.Whole.Rounding));
            Assert.InRange(combined.Residual, 0, 1e-3);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }
}
