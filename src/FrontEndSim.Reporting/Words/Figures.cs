using System.Globalization;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>Numbers in the words of a page: the one place where pages format them.</summary>
public static class Figures
{
    // What is less than this is rounding of a solution.
    private static double Rounding(string unit) => unit switch { "V" => 1e-9, "A" or "W" => 1e-15, "C" or "As" or "J" => 1e-18, _ => 0 };

    /// <summary>A value with the prefix that suits it: "4.7 kΩ". Infinities read "∞"; less than a nanovolt, a femtoampere, a
    /// femtowatt, an attocoulomb or an attojoule reads 0.</summary>
    /// <param name="value">The value in units without prefix; for "%" the fraction.</param>
    /// <param name="unit">The unit's symbol; may be empty.</param>
    /// <param name="digits">Significant digits.</param>
    public static string Of(double value, string unit, int digits = 4) =>
        SiText.Format(Math.Abs(value) < Rounding(unit) ? 0 : value, unit, digits);

    /// <summary>A voltage.</summary>
    public static string Volts(double value, int digits = 4) => Of(value, "V", digits);

    /// <summary>A share, as a percentage.</summary>
    public static string Percent(double share, int digits = 4) => Of(share, "%", digits);

    /// <summary>A time that may never come.</summary>
    public static string Time(double seconds, int digits = 3) => double.IsInfinity(seconds) ? "never" : Of(seconds, "s", digits);

    /// <summary>A number without prefix: "3.5 counts".</summary>
    public static string Plain(double value, string unit, int digits = 4) => SiText.Plain(value, unit, digits);

    /// <summary>A whole number.</summary>
    public static string Whole(double value) => value.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A difference with its sign and its unit; less than a thousandth is rounding and reads 0.</summary>
    public static string Signed(double value, string unit = "") => unit == "" ? SiText.Signed(value) : $"{SiText.Signed(value)} {unit}";

    /// <summary>An error in counts, or in the unit of a pin that does not convert: less than a thousandth of it is nothing.</summary>
    public static string Error(double value, string unit, int digits = 3) => Plain(Math.Abs(value) < 1e-3 ? 0 : value, unit, digits);

    /// <summary>"-1.2 V .. 1.8 V".</summary>
    public static string Range(double low, double high, string unit, int digits = 4) =>
        $"{Of(low, unit, digits)} .. {Of(high, unit, digits)}";

    /// <summary>The same of a span.</summary>
    public static string Range(Span span, string unit = "V") => Range(span.Low, span.High, unit);

    /// <summary>An interval of errors: "-3.2 .. +4.1 counts".</summary>
    public static string Interval(double low, double high, string unit) => $"{Signed(low)} .. {Signed(high, unit)}";

    /// <summary>Digits enough to write the number down and get the same in single precision.</summary>
    public static string Exact(double value) => value.ToString("G9", CultureInfo.InvariantCulture);

    /// <summary>Digits that tell two values apart that stand side by side: four, or more where these would read the same.</summary>
    public static int Telling(double one, double other)
    {
        double size = Math.Max(Math.Abs(one), Math.Abs(other)), apart = Math.Abs(one - other);
        // What differs by less than a millionth is the rounding of solutions.
        return apart <= 1e-6 * size ? 4 : Math.Clamp(1 + (int)Math.Ceiling(Math.Log10(size / apart)), 4, 8);
    }

    /// <summary>"1 change", "3 changes".</summary>
    public static string Counted(int count, string one, string many) => count == 1 ? "1 " + one : $"{count} {many}";

    /// <summary>With a capital letter.</summary>
    public static string Sentence(string words) => words == "" ? "" : char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>"A", "A and B", "A, B and C".</summary>
    public static string And(IReadOnlyList<string> words) =>
        words.Count < 2 ? string.Concat(words) : string.Join(", ", words.Take(words.Count - 1)) + " and " + words[^1];

    /// <summary>A cell of a table as a person reads it; empty for one without a number or words.</summary>
    public static string Of(Cell cell, Column column)
    {
        if (cell.Number is not { } number)
            return cell.Words ?? "";
        string unit = cell.Unit ?? column.Unit;
        string text = column.Kind switch
        {
            ColumnKind.Plain => Plain(number, unit == "%" ? "%" : "", column.Digits),
            ColumnKind.Signed => Signed(number),
            _ => Of(number, unit, column.Digits),
        };
        return cell.Words is { Length: > 0 } words ? $"{text} {words}" : text;
    }
}
