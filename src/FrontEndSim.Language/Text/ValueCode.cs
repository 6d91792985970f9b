using System.Globalization;

namespace FrontEndSim.Language.Text;

/// <summary>
/// Value codes of IEC 60062: a letter stands for the decimal point and says the multiplier and the unit.
/// R, K, M and G are ohm; p, n, µ (or u), m and F are farad; V, common on zener diodes (common practice, no source), is volt.
/// The standard's K may be written k.
/// </summary>
internal static class ValueCode
{
    private static (Unit Unit, int Exponent)? Letter(char c) => c switch
    {
        'R' => (Unit.Ohm, 0),
        'k' or 'K' => (Unit.Ohm, 3),
        'M' => (Unit.Ohm, 6),
        'G' => (Unit.Ohm, 9),
        'p' => (Unit.Farad, -12),
        'n' => (Unit.Farad, -9),
        'u' or 'µ' or '\u03BC' => (Unit.Farad, -6),
        'm' => (Unit.Farad, -3),
        'F' => (Unit.Farad, 0),
        'V' => (Unit.Volts, 0),
        _ => null,
    };

    /// <summary>The value of a code such as 4k7, 0R47, 10n or 3V6; null if the text is none.</summary>
    public static Quantity? Read(string text)
    {
        int letter = 0;
        while (letter < text.Length && (char.IsAsciiDigit(text[letter]) || text[letter] == '.'))
            letter++;
        if (letter == 0 || letter == text.Length || Letter(text[letter]) is not var (unit, exponent))
            return null;
        string whole = text[..letter], part = text[(letter + 1)..];
        if (!part.All(char.IsAsciiDigit) || (whole.Contains('.') && part.Length > 0))
            return null;
        // Read as one decimal number with its exponent, so that 4k7 is 4700 and not 4.7 times 1000 rounded twice.
        string number = $"{whole}{(part.Length > 0 ? "." : "")}{part}e{exponent}";
        return double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            ? new Quantity(value, unit) : null;
    }
}
