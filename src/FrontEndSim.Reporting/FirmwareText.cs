using System.Globalization;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Firmware constants as C (C99), ready to paste.</summary>
public static class FirmwareText
{
    // Entries of a table in a line of C.
    private const int EntriesInALine = 8;

    /// <summary>The sheet with its constants written as C.</summary>
    public static BuildResult With(BuildResult sheet) => sheet with { Firmware = [.. sheet.Firmware.Select(f => f with { C = C(f) })] };

    /// <summary>Two functions: one in floating point, one in whole numbers.</summary>
    /// <param name="constants">The constants.</param>
    public static string C(FirmwareConstants constants) =>
        ((constants.Table is { } table ? Table(constants, table) : Line(constants, constants.Line!))
            + (constants.Couple is { } couple ? "\n\n" + Couple(constants, couple) : "")).ReplaceLineEndings("\n") + "\n";

    private static string Line(FirmwareConstants f, FirmwareLine line)
    {
        string name = Identifier(f.Pin), code = Code(f);
        bool isVolts = f.LineUnit == "V";
        string what = isVolts ? "volts" : Identifier(f.Quantity);
        var whole = line.Whole;
        string product = Type(whole.ProductBits), suffix = Suffix(whole.ProductBits),
            result = Type(whole.ResultBits), end = Suffix(whole.ResultBits);
        string sign = whole.Factor < 0 ? "-" : "+";
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{f.Pin}}: code to {{(isVolts ? "volts" : $"{f.Quantity} in {Plain(f.LineUnit)}")}} of {{f.Sensor}}; {{f.Bits}} bits */
            static const float {{name}}_slope = {{Float(line.Slope)}};   /* {{Plain(f.LineUnit)}} per count */
            static const float {{name}}_offset = {{Float(line.Offset)}};  /* {{Plain(f.LineUnit)}} at code 0 */
            static float {{name}}_{{what}}({{code}} code)
            {
                return {{name}}_offset + {{name}}_slope * (float)code;
            }

            /* whole numbers only, within {{Plain(Figures.Of(whole.RoundingError, f.LineUnit, 3))}} of that line at every code;
               nothing overflows */
            static {{result}} {{name}}_{{(isVolts ? Volts(whole.ResultUnit) : $"{what}_{Part(whole.ResultUnit)}")}}({{code}} code)
            {
                return {{whole.Offset}}{{end}} {{sign}} ({{result}})((({{product}})code * {{Math.Abs(whole.Factor)}}{{suffix}} + {{whole.Rounding}}{{suffix}}) >> {{whole.Shift}});
            }
            """);
    }

    /// <summary>Straight lines between the entries of a table. Quotients of negative numbers go towards zero in C99, as they do
    /// here.</summary>
    private static string Table(FirmwareConstants f, FirmwareTable t)
    {
        string name = Identifier(f.Pin), code = Code(f), what = Identifier(f.Quantity),
            unit = Plain(f.SensorUnit), whole = Type(t.ProductBits);
        string suffix = Suffix(t.ProductBits), part = Part(t.ResultUnit);
        long width = 2L << t.Shift, perUnit = (long)Math.Round(1 / t.ResultUnit);
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{f.Pin}}: code to {{f.Quantity}} of {{f.Sensor}} in {{unit}}; {{f.Bits}} bits;
               {{t.Entries.Length}} entries from {{t.First}} counts on, {{width / 2}} counts apart, in {{(part == "whole" ? unit : $"{part} of {unit}")}};
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
                microvolts = {{name}}_couple[k] + (int32_t)((int64_t)({{name}}_couple[k + 1] - {{name}}_couple[k]) * (cold - ({{low}}) - k * {{step}}) / {{step}});
                microvolts += (int32_t)({{name}}_{{Volts(f.Line.Whole.ResultUnit)}}(code){{(perMicrovolt == 1 ? "" : $" * {perMicrovolt}")}});
                for (k = 0; k < {{last}} && microvolts >= {{name}}_couple[k + 1]; k++)
                    ;
                return {{low}} + k * {{step}} + (int32_t)((int64_t){{step}} * (microvolts - {{name}}_couple[k]) / ({{name}}_couple[k + 1] - {{name}}_couple[k]));
            }
            """);
    }

    private static string Rows(IEnumerable<long> entries) => string.Join("\n", entries.Chunk(EntriesInALine)
        .Select(row => "    " + string.Concat(row.Select(e => e.ToString(CultureInfo.InvariantCulture) + ", ")).TrimEnd()));

    private static string Type(int bits) => $"int{bits}_t";

    private static string Suffix(int bits) => bits == 32 ? "" : "LL";

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

    /// <summary>What a whole number is worth: "thousandths".</summary>
    private static string Part(double unit) => Math.Round(Math.Log10(unit)) switch
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
    private static string Plain(string text) => text.Replace("°", "", StringComparison.Ordinal)
        .Replace('µ', 'u').Replace("Ω", "ohm", StringComparison.Ordinal).Replace("²", "2", StringComparison.Ordinal)
        .Replace("*/", "* /", StringComparison.Ordinal);

    /// <summary>Nine digits, which a float reads back the same.</summary>
    private static string Float(double value)
    {
        string text = ((float)value).ToString("G9", CultureInfo.InvariantCulture);
        return (text.Contains('.') || text.Contains('E') ? text : text + ".0") + "f";
    }

    private static string Identifier(string name)
    {
        string word = string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) ? c : '_'));
        return char.IsAsciiDigit(word[0]) ? "_" + word : word;
    }
}
