using System.Globalization;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Firmware constants as C (C99), ready to paste.</summary>
public static class FirmwareText
{
    /// <summary>The sheet with its constants written as C.</summary>
    public static BuildResult With(BuildResult sheet) => sheet with { Firmware = [.. sheet.Firmware.Select(f => f with { C = C(f) })] };

    /// <summary>Two functions: one in floating point, one in whole numbers.</summary>
    /// <param name="constants">The constants.</param>
    public static string C(FirmwareConstants constants)
    {
        string name = Identifier(constants.Pin), code = constants.Bits <= 16 ? "uint16_t" : "uint32_t";
        var whole = constants.Whole;
        string product = Type(whole.ProductBits), suffix = whole.ProductBits == 32 ? "" : "LL", result = Type(whole.ResultBits);
        string end = whole.ResultBits == 32 ? "" : "LL";
        string sign = whole.Factor < 0 ? "-" : "+";
        return string.Create(CultureInfo.InvariantCulture, $$"""
            #include <stdint.h>

            /* {{constants.Pin}}: code to volts of {{constants.Sensor}}; {{constants.Bits}} bits */
            static const float {{name}}_slope = {{Float(constants.SlopeVolts)}};   /* V per count */
            static const float {{name}}_offset = {{Float(constants.OffsetVolts)}};  /* V at code 0 */
            static float {{name}}_volts({{code}} code)
            {
                return {{name}}_offset + {{name}}_slope * (float)code;
            }

            /* whole numbers only, within {{Figures.Volts(whole.RoundingVolts, 3)}} of that line at every code; nothing overflows */
            static {{result}} {{name}}_{{Unit(whole.ResultVolts)}}({{code}} code)
            {
                return {{whole.Offset}}{{end}} {{sign}} ({{result}})((({{product}})code * {{Math.Abs(whole.Factor)}}{{suffix}} + {{whole.Rounding}}{{suffix}}) >> {{whole.Shift}});
            }
            """).ReplaceLineEndings("\n") + "\n";
    }

    private static string Type(int bits) => $"int{bits}_t";

    private static string Unit(double volts) => Math.Round(Math.Log10(volts)) switch
    {
        -6 => "microvolts",
        -3 => "millivolts",
        0 => "whole_volts", // the function in floating point has the plain name
        3 => "kilovolts",
        6 => "megavolts",
        _ => "gigavolts",
    };

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
