using System.Globalization;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Firmware constants as C (C99), ready to paste.</summary>
public static class FirmwareText
{
    // Entries of a table in a line of C.
    private const int EntriesInALine = 8;

    /// <summary>The sheet with its constants written as C.</summary>
    public static BuildResult With(BuildResult sheet) => sheet with
    {
        Firmware = [.. sheet.Firmware.Select(f => f with
        {
            C = C(f),
            Polynomial = f.Polynomial is { } p ? p with { C = C(f, p) } : null,
            Formula = f.Formula is { } formula ? formula with { C = C(f, formula) } : null,
        })],
        Alternating = [.. sheet.Alternating.Select(r => r with { C = C(r) })],
        Counted = [.. sheet.Counted.Select(r => r with { C = C(r) })],
        Combined = [.. sheet.Combined.Select(r => r with
        {
            Expression = r.Shares is { } shares ? CombinedText.Of(shares) : "",
            C = CombinedText.C(r),
        })],
    };

    /// <summary>Two functions: one in floating point, one in whole numbers.</summary>
    /// <param name="constants">The constants.</param>
    public static string C(FirmwareConstants constants) =>
        ((constants.Table is { } table ? Table(constants, table) : Line(constants, constants.Line!))
            .Replace("#include <stdint.h>\n", "#include <stdint.h>\n" + Valid(constants.Valid), StringComparison.Ordinal)
            + (constants.Couple is { } couple ? "\n\n" + Couple(constants, couple) : "")).ReplaceLineEndings("\n") + "\n";

    /// <summary>The codes that mean a fault.</summary>
    internal static string Valid(ValidBand? band)
    {
        if (band is not { } valid)
            return "";
        string test = (valid.LowCode > 0, valid.HighCode < valid.LastCode) switch
        {
            (true, true) => $"(code) >= {Figures.Whole(valid.LowCode)}u && (code) <= {Figures.Whole(valid.HighCode)}u",
            (true, false) => $"(code) >= {Figures.Whole(valid.LowCode)}u",
            (false, true) => $"(code) <= {Figures.Whole(valid.HighCode)}u",
            _ => "1",
        };
        string meaning = test == "1" ? "every code is a valid reading, so that none shows a fault"
            : "codes of any board while its sensor measures; another that stands means a fault";
        return $"\n/* {meaning} */\n#define {Identifier(valid.Pin).ToUpperInvariant()}_IS_VALID(code) ({test})\n";
    }

    /// <summary>A polynomial in place of a table, in floating point and in whole numbers.</summary>
    public static string C(FirmwareConstants f, FirmwarePolynomial p)
    {
        string name = Identifier(f.Pin), what = Identifier(f.Quantity), unit = In(f.SensorUnit);
        string whole = Type(Math.Max(p.ProductBits, IndexBits(f))), suffix = Suffix(Math.Max(p.ProductBits, IndexBits(f)));
        string half = $"{(1L << p.FractionBits) / 2}{suffix}", rounded = p.FractionBits == 0 ? "sum"
            : $"(sum + (sum < 0 ? -{half} : {half})) / {1L << p.FractionBits}{suffix}";
        string part = Part(p.ResultUnit),
            within = Plain(Figures.Of(p.Rounding, f.SensorUnit, 3));
        return (string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{f.Pin}}: code to {{f.Quantity}} of {{f.Sensor}} in {{unit}} by a polynomial of degree {{p.Degree}}; {{f.Bits}} bits;
               codes from {{p.FirstCode}} to {{p.LastCode}}, those beyond are read as the nearer of the two;
               the nominal circuit departs from it by up to {{Plain(Figures.Of(p.Residual, f.SensorUnit, 3))}} */
            static float {{name}}_{{what}}_polynomial({{Code(f)}} code)
            {
                static const float c[{{p.Coefficients.Length}}] = {
            {{string.Join("\n", p.Coefficients.Select(c => $"        {Float(c)},"))}}
                };
                {{Index(f)}} n = ({{Index(f)}})code;
                float z, sum = c[{{p.Degree}}];
                int k;
                if (n < {{p.FirstCode}})
                    n = {{p.FirstCode}};
                else if (n > {{p.LastCode}})
                    n = {{p.LastCode}};
                z = (float)(2 * n + 1 - {{p.Middle}}) / {{1L << p.Shift}}.0f;
                for (k = {{p.Degree - 1}}; k >= 0; k--)
                    sum = sum * z + c[k];
                return sum;
            }

            /* whole numbers only, {{PartOf(p.ResultUnit, unit)}}, within {{within}} of that polynomial
               at every code; nothing overflows */
            static {{whole}} {{name}}_{{what}}_polynomial_{{part}}({{Code(f)}} code)
            {
                static const {{whole}} c[{{p.Coefficients.Length}}] = {
            {{Rows(p.WholeCoefficients)}}
                };
                {{whole}} n = ({{whole}})code, sum = c[{{p.Degree}}];
                int k;
                if (n < {{p.FirstCode}})
                    n = {{p.FirstCode}};
                else if (n > {{p.LastCode}})
                    n = {{p.LastCode}};
                n = 2 * n + 1 - {{p.Middle}};
                for (k = {{p.Degree - 1}}; k >= 0; k--)
                    sum = sum * n / {{1L << p.Shift}}{{suffix}} + c[k];
                return {{rounded}};
            }
            """)).ReplaceLineEndings("\n") + "\n";
    }

    /// <summary>The inverse of the sensor's own formula in place of a table.</summary>
    public static string C(FirmwareConstants f, FirmwareFormula formula)
    {
        string name = Identifier(f.Pin), what = Identifier(f.Quantity), constant = Double(formula.Constant), slope = Double(formula.Slope);
        string Of(int k) => Double(formula.Inverse.Constants[k]);
        string[] body = formula.Inverse.Kind switch
        {
            InverseKind.Beta => [$"return 1.0 / (1.0 / {Of(1)} + log(ohms / {Of(0)}) / {Of(2)}) - 273.15;"],
            InverseKind.SteinhartHart =>
                ["double y = log(ohms);", $"return 1.0 / ({Of(0)} + y * ({Of(1)} + {Of(2)} * y * y)) - 273.15;"],
            _ =>
            [
                $"const double a = {Of(1)}, b = {Of(2)}, c = {Of(3)};",
                $"double r = ohms / {Of(0)}, t = (-a + sqrt(a * a - 4.0 * b * (1.0 - r))) / (2.0 * b);",
                "int k;",
                $"for (k = 0; t < 0.0 && k < {InverseFormula.NewtonSteps}; k++) /* below 0 C by Newton's method */",
                "    t -= (1.0 + t * (a + t * (b + c * (t - 100.0) * t)) - r) / (a + t * (2.0 * b + c * t * (4.0 * t - 300.0)));",
                "return t;",
            ],
        };
        return (string.Create(CultureInfo.InvariantCulture, $$"""
            #include <math.h>
            #include <stdint.h>

            static double {{name}}_celsius_of(double ohms)
            {
            {{string.Join("\n", body.Select(l => "    " + l))}}
            }

            /* {{f.Pin}}: code to {{f.Quantity}} of {{f.Sensor}} in {{In(f.SensorUnit)}} by the formula of the sensor; {{f.Bits}} bits;
               codes from {{formula.FirstCode}} to {{formula.LastCode}}, those beyond are read as the nearer of the two;
               the nominal circuit departs from it by up to {{Plain(Figures.Of(formula.Residual, f.SensorUnit, 3))}} */
            static double {{name}}_{{what}}_formula({{Code(f)}} code)
            {
                {{Index(f)}} n = ({{Index(f)}})code;
                double u;
                if (n < {{formula.FirstCode}})
                    n = {{formula.FirstCode}};
                else if (n > {{formula.LastCode}})
                    n = {{formula.LastCode}};
                u = (double)n + 0.5 - {{Double(formula.Middle)}};
                return {{name}}_celsius_of(({{constant}} + {{slope}} * u) / (1.0 + {{Double(formula.Lower)}} * u));
            }
            """)).ReplaceLineEndings("\n") + "\n";
    }

    /// <summary>What is computed from codes over whole periods.</summary>
    public static string C(FirmwareAlternating r)
    {
        string name = Identifier(r.Reading), what = Identifier(r.Quantity), type = r.Bits <= 16 ? "uint16_t" : "uint32_t";
        string count = Figures.Whole(r.Samples), every = Plain(Figures.Of(1e6 * r.EverySeconds, "us", 7));
        string read = $"{r.Reading}: {r.Quantity} of {r.Sensor} in {In(r.Unit)}"
            + (r.Said is { } said ? " " + AmplitudeWords.Of(said) : "");
        string[] body = r.Taken switch
        {
            Amplitude.Peak =>
            [
                "double low = codes[0], high = codes[0];", "int k;",
                $"for (k = 1; k < {count}; k++) {{", "    low = fmin(low, codes[k]);", "    high = fmax(high, codes[k]);", "}",
                .. Back(r, "0.5 * (high - low)"),
            ],
            Amplitude.Average =>
            [
                "double sum = 0.0;", "int k;", $"for (k = 0; k < {count}; k++)", "    sum += codes[k];",
                // A code stands for the middle of its step.
                .. Back(r, $"(sum / {count}.0 + 0.5)"),
            ],
            _ =>
            [
                "double sum = 0.0, total = 0.0;", "int k;",
                $"for (k = 0; k < {count}; k++)", "    sum += codes[k];",
                $"for (k = 0; k < {count}; k++) {{", $"    double off = codes[k] - sum / {count}.0;",
                r.Taken == Amplitude.Rms ? "    total += off * off;" : "    total += fabs(off);", "}",
                .. Back(r, r.Taken == Amplitude.Rms ? $"sqrt(total / {count}.0)" : $"total / {count}.0"),
            ],
        };
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <math.h>
            #include <stdint.h>

            /* {{read}} from {{count}} codes of {{r.Pin}}, one every {{every}};
               the nominal circuit departs from it by up to {{Plain(Figures.Of(r.Residual, r.Unit, 3))}} */
            static double {{name}}_{{what}}(const {{type}} codes[{{count}}])
            {
            {{string.Join("\n", body.Select(l => "    " + l))}}
            }
            """).ReplaceLineEndings("\n") + "\n";
    }

    /// <summary>What is measured, in C, from an expression for the counts.</summary>
    private static string[] Back(FirmwareAlternating r, string counts)
    {
        var c = r.Back.Coefficients;
        if (r.Back.IsLine)
            return [$"return {(c[0] == 0 ? "" : Double(c[0]) + " + ")}{Double(c[1])} * {counts};"];
        string t = $"(({counts} - {Double(r.Back.Middle)}) / {Double(r.Back.Half)})";
        return
        [
            $"double t = {t};",
            $"return {c.Reverse().Select(Double).Aggregate((sum, next) => $"({sum}) * t + {next}")};",
        ];
    }

    /// <summary>What is computed from pulses that were counted.</summary>
    public static string C(FirmwareCounted r) => string.Create(CultureInfo.InvariantCulture, $$"""
        #include <stdint.h>

        /* {{r.Pin}}: {{r.Quantity}} of {{r.Sensor}} in {{In(r.Unit)}} from the pulses of {{Plain(Figures.Of(r.GateSeconds, "s", 7))}};
           one more or less is {{Plain(Figures.Of(Math.Abs(r.Factor), r.Unit, 3))}} */
        static double {{Identifier(r.Pin)}}_{{Identifier(r.Quantity)}}(uint32_t pulses)
        {
            return {{(r.Offset == 0 ? "" : Double(r.Offset) + " + ")}}{{Double(r.Factor)}} * (double)pulses;
        }

        {{Whole(r, r.Whole)}}
        """).ReplaceLineEndings("\n") + "\n";

    private static string Whole(FirmwareCounted r, WholeNumberLine w)
    {
        string result = Type(w.ResultBits), product = Type(w.ProductBits), suffix = Suffix(w.ProductBits);
        return string.Create(CultureInfo.InvariantCulture, $$"""
            /* whole numbers only, {{PartOf(w.ResultUnit, In(r.Unit))}}, within {{Plain(Figures.Of(w.RoundingError, r.Unit, 3))}} of that
               for up to {{r.LastCount}} pulses, as which more are taken; nothing overflows */
            static {{result}} {{Identifier(r.Pin)}}_{{Identifier(r.Quantity)}}_{{Part(w.ResultUnit)}}(uint32_t pulses)
            {
                const {{product}} n = ({{product}})(pulses > {{r.LastCount}}u ? {{r.LastCount}}u : pulses);
                const {{product}} product = n * {{Math.Abs(w.Factor)}}{{suffix}} + {{w.Rounding}}{{suffix}};
                return {{w.Offset}}{{Suffix(w.ResultBits)}} {{(w.Factor < 0 ? "-" : "+")}} ({{result}})(product >> {{w.Shift}});
            }
            """);
    }

    // What holds twice a code with its sign.
    private static int IndexBits(FirmwareConstants f) => f.Bits <= 28 ? 32 : 64;

    private static string Index(FirmwareConstants f) => Type(IndexBits(f));

    // A percentage is computed as its share of one.
    internal static string In(string unit) => unit == "%" ? "parts of one (0.01 is 1 %)" : Plain(unit);

    /// <summary>As many digits as a double needs to be read back the same; in parentheses where it is negative.</summary>
    internal static string Double(double value) => value < 0 ? $"({SiText.Literal(value)})" : SiText.Literal(value);

    private static string Line(FirmwareConstants f, FirmwareLine line)
    {
        string name = Identifier(f.Pin), code = Code(f);
        bool isVolts = f.LineUnit == "V";
        string what = isVolts ? "volts" : Identifier(f.Quantity);
        var whole = line.Whole;
        string product = Type(whole.ProductBits), suffix = Suffix(whole.ProductBits),
            result = Type(whole.ResultBits), end = Suffix(whole.ResultBits);
        string sign = whole.Factor < 0 ? "-" : "+", factor = $"{Math.Abs(whole.Factor)}{suffix}", rounding = $"{whole.Rounding}{suffix}";
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{f.Pin}}: code to {{(isVolts ? "volts" : $"{f.Quantity} in {In(f.LineUnit)}")}} of {{f.Sensor}}; {{f.Bits}} bits */
            static const float {{name}}_slope = {{Float(line.Slope)}};   /* {{In(f.LineUnit)}} per count */
            static const float {{name}}_offset = {{Float(line.Offset)}};  /* {{In(f.LineUnit)}} at code 0 */
            static float {{name}}_{{what}}({{code}} code)
            {
                return {{name}}_offset + {{name}}_slope * (float)code;
            }

            /* whole numbers only, within {{Plain(Figures.Of(whole.RoundingError, f.LineUnit, 3))}} of that line at every code;
               nothing overflows */
            static {{result}} {{name}}_{{(isVolts ? Volts(whole.ResultUnit) : $"{what}_{Part(whole.ResultUnit)}")}}({{code}} code)
            {
                return {{whole.Offset}}{{end}} {{sign}} ({{result}})((({{product}})code * {{factor}} + {{rounding}}) >> {{whole.Shift}});
            }
            """);
    }

    /// <summary>Straight lines between the entries of a table. Quotients of negative numbers go towards zero in C99, as they do
    /// here.</summary>
    private static string Table(FirmwareConstants f, FirmwareTable t)
    {
        string name = Identifier(f.Pin), code = Code(f), what = Identifier(f.Quantity),
            unit = In(f.SensorUnit), whole = Type(t.ProductBits);
        string suffix = Suffix(t.ProductBits), part = Part(t.ResultUnit);
        long width = 2L << t.Shift, perUnit = (long)Math.Round(1 / t.ResultUnit);
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{f.Pin}}: code to {{f.Quantity}} of {{f.Sensor}} in {{unit}}; {{f.Bits}} bits;
               {{t.Entries.Length}} entries from {{t.First}} counts on, {{width / 2}} counts apart, in {{PartOf(t.ResultUnit, unit)}};
               the nominal circuit departs from it by up to {{Plain(Figures.Of(f.Residual, f.SensorUnit, 3))}} */
            static const {{Type(t.WholeEntries.All(e => Math.Abs(e) <= int.MaxValue) ? 32 : 64)}} {{name}}_table[{{t.Entries.Length}}] = {
            {{Rows(t.WholeEntries)}}
            };

            /* whole numbers only, within {{Plain(Figures.Of(t.Rounding, f.SensorUnit, 3))}}
               of straight lines between the entries at every code; nothing overflows */
            static {{whole}} {{name}}_{{what}}_{{part}}({{code}} code)
            {
                {{whole}} at = 2{{suffix}} * (({{whole}})code - {{t.First}}{{suffix}}) + 1; /* halves of a count */
                {{whole}} k = at / {{width}}{{suffix}};
                if (at < 0)
                    k = 0;
                else if (k > {{t.Entries.Length - 2}})
                    k = {{t.Entries.Length - 2}};
                {{whole}} from = {{name}}_table[k], rise = {{name}}_table[k + 1] - from;
                return from + rise * (at - k * {{width}}{{suffix}}) / {{width}}{{suffix}};
            }

            static float {{name}}_{{what}}({{code}} code)
            {
                return (float){{name}}_{{what}}_{{part}}(code) / {{perUnit}}.0f;
            }
            """);
    }

    /// <summary>The temperature of a thermocouple from the code and the temperature of its cold junction.</summary>
    private static string Couple(FirmwareConstants f, FirmwareCouple couple)
    {
        string name = Identifier(f.Pin), what = Identifier(f.Quantity);
        int last = couple.Microvolts.Length - 2;
        long step = 100L * couple.StepCelsius, low = 100L * couple.LowCelsius;
        long perMicrovolt = (long)Math.Round(f.Line!.Whole.ResultUnit / 1e-6);
        string times = perMicrovolt == 1 ? "" : $" * {perMicrovolt}", rise = $"({name}_couple[k + 1] - {name}_couple[k])";
        return string.Create(CultureInfo.InvariantCulture, $$"""
            /* voltage of the type against 0 C in microvolts, from {{couple.LowCelsius}} C on, {{couple.StepCelsius}} C apart;
               straight lines between are within {{Plain(Figures.Of(couple.Residual, f.SensorUnit, 3))}} over the span */
            static const int32_t {{name}}_couple[{{couple.Microvolts.Length}}] = {
            {{Rows(couple.Microvolts)}}
            };

            /* temperature in hundredths of C, from the code and the cold junction's temperature in hundredths of C */
            static int32_t {{name}}_{{what}}_hundredths({{Code(f)}} code, int32_t cold)
            {
                int32_t k = (cold - ({{low}})) / {{step}}, microvolts;
                if (cold < {{low}})
                    k = 0;
                else if (k > {{last}})
                    k = {{last}};
                microvolts = {{name}}_couple[k] + (int32_t)((int64_t){{rise}} * (cold - ({{low}}) - k * {{step}}) / {{step}});
                microvolts += (int32_t)({{name}}_{{Volts(f.Line.Whole.ResultUnit)}}(code){{times}});
                for (k = 0; k < {{last}} && microvolts >= {{name}}_couple[k + 1]; k++)
                    ;
                return {{low}} + k * {{step}} + (int32_t)((int64_t){{step}} * (microvolts - {{name}}_couple[k]) / {{rise}});
            }
            """);
    }

    internal static string Rows(IEnumerable<long> entries) => string.Join("\n", entries.Chunk(EntriesInALine)
        .Select(row => "    " + string.Concat(row.Select(e => e.ToString(CultureInfo.InvariantCulture) + ", ")).TrimEnd()));

    internal static string Type(int bits) => $"int{bits}_t";

    internal static string Suffix(int bits) => bits == 32 ? "" : "LL";

    private static string Code(FirmwareConstants f) => f.Bits <= 16 ? "uint16_t" : "uint32_t";

    private static string Volts(double unit) => Math.Round(Math.Log10(unit)) switch
    {
        -6 => "microvolts",
        -3 => "millivolts",
        0 => "whole_volts", // the function in floating point has the plain name
        3 => "kilovolts",
        6 => "megavolts",
        _ => "gigavolts",
    };

    /// <summary>The unit of whole numbers: "C", "hundredths of C", or "1e-4 of C".</summary>
    internal static string PartOf(double resultUnit, string unit) => Part(resultUnit) switch
    {
        "whole" => unit,
        ['e', ..] => string.Create(CultureInfo.InvariantCulture, $"1e{Math.Round(Math.Log10(resultUnit)):0} of {unit}"),
        var part => $"{part} of {unit}",
    };

    /// <summary>What a whole number is worth: "thousandths".</summary>
    internal static string Part(double unit) => Math.Round(Math.Log10(unit)) switch
    {
        0 => "whole",
        -1 => "tenths",
        -2 => "hundredths",
        -3 => "thousandths",
        -6 => "millionths",
        < 0 and var power => $"e_minus_{-power:0}",
        var power => $"e{power:0}",
    };

    /// <summary>Letters that every compiler reads, also in a comment.</summary>
    internal static string Plain(string text) => text.Replace("°", "", StringComparison.Ordinal)
        .Replace('µ', 'u').Replace("Ω", "ohm", StringComparison.Ordinal).Replace("²", "2", StringComparison.Ordinal)
        .Replace("*/", "* /", StringComparison.Ordinal);

    /// <summary>Nine digits, which a float reads back the same.</summary>
    private static string Float(double value)
    {
        string text = ((float)value).ToString("G9", CultureInfo.InvariantCulture);
        return (text.Contains('.') || text.Contains('E') ? text : text + ".0") + "f";
    }

    internal static string Identifier(string name)
    {
        string word = string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) ? c : '_'));
        return char.IsAsciiDigit(word[0]) ? "_" + word : word;
    }
}
