using System.Globalization;

namespace FrontEndSim.Language.Syntax;

/// <summary>Makes quantities of their words: a number, a unit, or a code.</summary>
internal static class QuantityWords
{
    /// <summary>A number with its unit, if any: 4.7 kohm, 5 %, 0.5 V/us, 100 ppm/K, 1/K.</summary>
    public static Expression Read(Token number, Token? percent, Token? unit, Token? divisor)
    {
        var span = number.Span.To((divisor ?? unit ?? percent ?? number).Span);
        if (percent is not null && unit is not null)
            return new UnreadableExpression(number.Text + "% " + unit.Text, "A percentage has no unit.", null, span);
        var (above, power) = unit is null ? (Unit.None, 0) : UnitWords.Find(unit.Text)!.Value;
        var (below, less) = divisor is null ? (Unit.None, 0) : UnitWords.FindDivisor(divisor.Text)!.Value;
        return Literal(number.Text, power - less - (percent is null ? 0 : 2), above / below, percent is not null, span);
    }

    /// <summary>Digits and letters: a value code (4k7) or a number with its unit (10nF, 85°C).</summary>
    public static Expression Read(Token code)
    {
        if (ValueCode.Read(code.Text) is { } quantity)
            return new LiteralExpression(quantity, false, code.Span);
        int digits = Lexer.EndOfNumber(code.Text, 0);
        string number = code.Text[..digits], word = code.Text[digits..];
        if (UnitWords.Find(word) is var (unit, power))
            return Literal(number, power, unit, false, code.Span);
        string? near = UnitWords.NearestTo(word);
        return new UnreadableExpression(code.Text, $"'{code.Text}' is neither a quantity nor a value code.",
            near is null ? "a number with a unit, such as 4.7 kohm, or a code such as 4k7" : $"{number} {near}", code.Span);
    }

    /// <summary>A number in a sensor's unit, its symbol as results show it.</summary>
    public static MeasuredExpression Measured(string number, string unit, SourceSpan span)
    {
        bool isPercent = unit == "%";
        double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value);
        return new MeasuredExpression(isPercent ? value / 100 : value, unit switch
        {
            "C" => "°C",
            "Ohm" or "ohms" or "Ω" => "ohm",
            _ when unit.Length > 1 && unit[0] == 'u' && UnitWords.Find(unit) is not null => "µ" + unit[1..],
            _ => unit,
        }, span);
    }

    private static Expression Literal(string number, int power, Unit unit, bool isPercent, SourceSpan span)
    {
        // One decimal number with its exponent, so that 4.7 kohm is 4700 and not 4.7 times 1000 rounded twice.
        int e = number.IndexOfAny(['e', 'E']);
        string mantissa = e < 0 ? number : number[..e];
        long exponent = power + (e < 0 ? 0 : long.TryParse(number.AsSpan(e + 1), NumberStyles.AllowLeadingSign,
            CultureInfo.InvariantCulture, out long given) ? given : 9999);
        if (double.TryParse($"{mantissa}e{exponent}", NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            && double.IsFinite(value))
            return new LiteralExpression(new Quantity(value, unit), isPercent, span);
        return new UnreadableExpression(number, $"The number {number} is too large.", null, span);
    }
}
