using System.Globalization;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.Language.Text;

/// <summary>Values as a circuit file says them: with enough digits that nothing of them is lost in reading them back.</summary>
public static class ValueText
{
    private const int Digits = 12;

    /// <summary>A value with its unit: 4.7 kohm.</summary>
    /// <param name="value">The value, SI.</param>
    /// <param name="unit">Symbol of its unit.</param>
    public static string Of(double value, string unit) => SiText.Typed(value, unit, Digits);

    /// <summary>A voltage.</summary>
    public static string Volts(double volts) => Of(volts, "V");

    /// <summary>A resistance.</summary>
    public static string Ohms(double ohms) => Of(ohms, "ohm");

    /// <summary>A capacitance.</summary>
    public static string Farads(double farads) => Of(farads, "F");

    /// <summary>A time.</summary>
    public static string Seconds(double seconds) => Of(seconds, "s");

    /// <summary>A frequency.</summary>
    public static string Hertz(double hertz) => Of(hertz, "Hz");

    /// <summary>A fraction as a percentage without a blank: 1%.</summary>
    public static string Percent(double fraction) => SiText.Typed(fraction, "%", Digits).Replace(" %", "%", StringComparison.Ordinal);

    /// <summary>A temperature coefficient, 1/K: 100 ppm/K.</summary>
    public static string PerKelvin(double perKelvin) => Number(perKelvin * 1e6) + " ppm/K";

    /// <summary>A value in a sensor's own unit: 20 C, 3000 mm, 5%.</summary>
    /// <param name="value">The value; of a percentage the fraction.</param>
    /// <param name="unit">Symbol of the unit.</param>
    public static string Measured(double value, string unit) => unit switch
    {
        "%" => Percent(value),
        "°C" => Number(value) + " C",
        "" => Number(value),
        _ => $"{Number(value)} {unit}",
    };

    /// <summary>A range of them.</summary>
    public static string Measured(Span span, string unit) => $"{Measured(span.Low, unit)} .. {Measured(span.High, unit)}";

    /// <summary>A number without a unit.</summary>
    public static string Number(double number) => number.ToString("G15", CultureInfo.InvariantCulture);

    /// <summary>A range of voltage.</summary>
    public static string Of(Span volts) => $"{Volts(volts.Low)} .. {Volts(volts.High)}";

    /// <summary>A level, which may follow a rail: VDD + 300 mV.</summary>
    public static string Of(Level level) => level.Rail is null ? Volts(level.Volts)
        : level.Volts == 0 ? level.Rail
        : $"{level.Rail} {(level.Volts < 0 ? "-" : "+")} {Volts(Math.Abs(level.Volts))}";

    /// <summary>A range between levels.</summary>
    public static string Of(LevelSpan span) => $"{Of(span.Low)} .. {Of(span.High)}";

    /// <summary>A text in quotes. The language has no quote inside of a text, so one becomes an apostrophe; a control character a
    /// blank.</summary>
    public static string Quoted(string text) => $"\"{string.Concat(text.Select(c => c == '"' ? '\'' : char.IsControl(c) ? ' ' : c))}\"";

    /// <summary>A value and its tolerance, which is left out at zero: 4.7 kohm 1%.</summary>
    internal static string Of(Toleranced value, string unit) =>
        Of(value.Value, unit) + (value.Tolerance > 0 ? " " + Percent(value.Tolerance) : "");
}
