using System.Globalization;

namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>Numbers as a person reads them. The one place where they are formatted; always in the invariant culture.</summary>
public static class SiText
{
    // From atto (10^-18) to tera (10^12); "µ" is the micro sign U+00B5.
    private static readonly string[] Prefixes = ["a", "f", "p", "n", "µ", "m", "", "k", "M", "G", "T"];

    /// <summary>
    /// A value with an SI prefix: <c>Format(4700, "ohm")</c> is "4.7 kΩ". "%" is multiplied by 100 and takes no prefix;
    /// "counts", "°C", "dB" and an empty unit take none either. Trailing zeros are left out.
    /// </summary>
    /// <param name="value">The value in units without prefix; for "%" the fraction.</param>
    /// <param name="unit">The unit's symbol.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    public static string Format(double value, string unit, int digits = 4) => Of(value, unit == "ohm" ? "Ω" : unit, digits);

    /// <summary>A value as a person types it into a circuit file, "ohm" in letters, with enough digits that nothing is lost.</summary>
    /// <param name="value">The value in units without prefix; for "%" the fraction.</param>
    /// <param name="unit">The unit's symbol.</param>
    /// <param name="digits">Significant digits.</param>
    public static string Typed(double value, string unit, int digits = 12) => Of(value, unit, digits);

    private static string Of(double value, string unit, int digits)
    {
        if (unit == "%")
            return Plain(value * 100, "%", digits);
        if (unit == "1/K")
            return Plain(value * 1e6, "ppm/K", digits);
        if (!TakesPrefix(unit) || !double.IsFinite(value) || value == 0)
            return Plain(value, unit, digits);
        double rounded = Round(value, digits);
        int thousands = Math.Clamp((int)Math.Floor(Math.Log10(Math.Abs(rounded)) / 3 + 1e-12), -6, 4);
        return $"{Digits(rounded / Math.Pow(1000, thousands), digits)} {Prefixes[thousands + 6]}{unit}";
    }

    /// <summary>Whether a prefix may stand before a unit: before V, A/W or V/√Hz, but not before mm, lx or °C.</summary>
    /// <param name="unit">The unit's symbol.</param>
    public static bool TakesPrefix(string unit)
    {
        int end = 0;
        while (end < unit.Length && char.IsLetter(unit[end]))
            end++;
        return unit[..end] is "V" or "A" or "ohm" or "Ω" or "W" or "J" or "F" or "H" or "S" or "s" or "Hz" or "As" or "C";
    }

    /// <summary>A value without SI prefix: <c>Plain(3.5, "counts")</c> is "3.5 counts".</summary>
    /// <param name="value">The value as printed.</param>
    /// <param name="unit">The unit's symbol; may be empty.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    public static string Plain(double value, string unit, int digits = 4)
    {
        string number = double.IsNaN(value) ? "not a number"
            : double.IsPositiveInfinity(value) ? "∞"
            : double.IsNegativeInfinity(value) ? "-∞"
            : Digits(Round(value, digits), digits);
        return unit is "" or "°" ? number + unit : $"{number} {unit}"; // an angle's sign stands close (ISO 80000-1)
    }

    /// <summary>An error or a difference: a number with its sign, to three digits; less than a thousandth is rounding and reads
    /// 0.</summary>
    /// <param name="value">The value as printed.</param>
    public static string Signed(double value) => Math.Abs(value) < 1e-3 ? "0" : (value > 0 ? "+" : "") + Plain(value, "", 3);

    /// <summary>A number as C and its kin read it back the same, with a point or an exponent.</summary>
    public static string Literal(double value)
    {
        string text = value.ToString("R", CultureInfo.InvariantCulture);
        return text.Contains('.') || text.Contains('E') ? text : text + ".0";
    }

    private static double Round(double value, int digits) =>
        double.Parse(value.ToString("E" + (digits - 1), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static string Digits(double value, int digits)
    {
        double size = Math.Abs(value);
        if (size == 0)
            return "0";
        if (size is < 1e-4 or >= 1e9)
            return value.ToString("0." + new string('#', digits - 1) + "e0", CultureInfo.InvariantCulture);
        int decimals = Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(size)), 0, 15);
        return value.ToString("0." + new string('#', decimals), CultureInfo.InvariantCulture);
    }
}
