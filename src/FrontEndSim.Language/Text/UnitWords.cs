namespace FrontEndSim.Language.Text;

/// <summary>Unit words: an SI prefix and a unit's symbol. m is milli and M is mega, always.</summary>
internal static class UnitWords
{
    private static readonly (string Text, int Exponent)[] Prefixes =
        [("a", -18), ("f", -15), ("p", -12), ("n", -9), ("u", -6), ("µ", -6), ("m", -3), ("", 0), ("k", 3), ("M", 6), ("G", 9), ("T", 12)];

    private static readonly Dictionary<string, (Unit Unit, int Exponent)> Words = Build();

    /// <summary>The unit of a word such as kohm and its power of ten, or null.</summary>
    public static (Unit Unit, int Exponent)? Find(string word) => Words.TryGetValue(Plain(word), out var found) ? found : null;

    /// <summary>Units that may stand after a stroke, as in V/us and ppm/K.</summary>
    public static (Unit Unit, int Exponent)? FindDivisor(string word) =>
        word is "K" or "C" or "°C" ? (Unit.Celsius, 0) : Find(word) is var (unit, exponent) && unit == Unit.Seconds
            ? (unit, exponent) : null;

    /// <summary>The unit that a wrong word probably means, such as kHz for KHZ, or null.</summary>
    public static string? NearestTo(string word)
    {
        string? spelledOut = word.ToLowerInvariant() switch
        {
            "meg" or "megohm" or "mohms" => "Mohm",
            "kiloohm" or "kiloohms" => "kohm",
            "volt" or "volts" => "V",
            "amp" or "amps" or "ampere" or "amperes" => "A",
            "farad" or "farads" => "F",
            "hertz" => "Hz",
            "sec" or "secs" or "second" or "seconds" => "s",
            "watt" or "watts" => "W",
            "henry" => "H",
            "msec" => "ms",
            "usec" => "us",
            "celsius" or "deg" or "degc" => "C",
            _ => null,
        };
        return spelledOut ?? Words.Keys.FirstOrDefault(known => known.Equals(word, StringComparison.OrdinalIgnoreCase))
            ?? (word.Length >= 3 ? Nearest.Of(word, Words.Keys.Where(known => known.Length >= 3)) : null);
    }

    /// <summary>What a value with this unit is, with an example: "a voltage, such as 5 V".</summary>
    public static string Describe(Unit unit) =>
        unit == Unit.Volts ? "a voltage, such as 3.3 V"
        : unit == Unit.Amps ? "a current, such as 2 mA"
        : unit == Unit.Ohm ? "a resistance, such as 4.7 kohm or 4k7"
        : unit == Unit.Farad ? "a capacitance, such as 10 nF or 10n"
        : unit == Unit.Henry ? "an inductance, such as 10 uH"
        : unit == Unit.Watt ? "a power, such as 250 mW"
        : unit == Unit.Joule ? "an energy, such as 5 mJ"
        : unit == Unit.Seconds ? "a time, such as 100 us"
        : unit == Unit.Hertz ? "a frequency, such as 5 kHz"
        : unit == Unit.VoltsPerSecond ? "a slew rate, such as 0.5 V/us"
        : unit == Unit.Celsius ? "a temperature, such as 25 C"
        : unit == Unit.PerKelvin ? "a temperature coefficient, such as 100 ppm/K"
        : unit == Unit.Count ? "a number of counts, such as 4 counts"
        : unit == Unit.None ? "a plain number"
        : $"a value in {unit}";

    /// <summary>What a value with this unit is, in two words: "a voltage".</summary>
    public static string Name(Unit unit) => unit == Unit.None ? "a plain number" : Describe(unit).Split(',')[0];

    /// <summary>The Greek letter mu and the ohm sign as the characters that the table uses.</summary>
    private static string Plain(string word) => word.Replace('\u03BC', 'µ').Replace('\u2126', 'Ω');

    private static Dictionary<string, (Unit, int)> Build()
    {
        var words = new Dictionary<string, (Unit, int)>();
        foreach (var (unit, symbols) in Unit.Known)
        {
            foreach (string symbol in symbols.Where(s => s.All(Lexer.IsLetter)))
            {
                foreach (var (prefix, exponent) in Prefixes)
                {
                    if (prefix.Length == 0 || unit.TakesPrefix)
                        words.TryAdd(prefix + symbol.Replace('\u2126', 'Ω'), (unit, exponent));
                }
            }
        }
        words.Add("ppm", (Unit.None, -6));
        return words;
    }
}
