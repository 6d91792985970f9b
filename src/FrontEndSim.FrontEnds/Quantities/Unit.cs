namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>
/// A unit of measurement as the exponents of volt, ampere, second, kelvin and count. Two units with the same exponents
/// are equal, so V·A is the watt. A percentage has no dimension: 5 % is the number 0.05.
/// </summary>
/// <param name="Volt">Exponent of the volt.</param>
/// <param name="Ampere">Exponent of the ampere.</param>
/// <param name="Second">Exponent of the second.</param>
/// <param name="Kelvin">Exponent of the kelvin.</param>
/// <param name="Counting">Exponent of the converter count.</param>
public readonly record struct Unit(sbyte Volt, sbyte Ampere, sbyte Second = 0, sbyte Kelvin = 0, sbyte Counting = 0)
{
    /// <summary>A plain number.</summary>
    public static readonly Unit None = new(0, 0);

    /// <summary>A plain number that a person writes as a percentage; the value is the fraction.</summary>
    public static readonly Unit Percent = None;

    /// <summary>Volt.</summary>
    public static readonly Unit Volts = new(1, 0);

    /// <summary>Ampere.</summary>
    public static readonly Unit Amps = new(0, 1);

    /// <summary>Ohm, V/A.</summary>
    public static readonly Unit Ohm = new(1, -1);

    /// <summary>Siemens, A/V.</summary>
    public static readonly Unit Siemens = new(-1, 1);

    /// <summary>Farad, A·s/V.</summary>
    public static readonly Unit Farad = new(-1, 1, 1);

    /// <summary>Henry, V·s/A.</summary>
    public static readonly Unit Henry = new(1, -1, 1);

    /// <summary>Watt, V·A.</summary>
    public static readonly Unit Watt = new(1, 1);

    /// <summary>Joule, V·A·s.</summary>
    public static readonly Unit Joule = new(1, 1, 1);

    /// <summary>Weber, V·s.</summary>
    public static readonly Unit Weber = new(1, 0, 1);

    /// <summary>Coulomb, A·s.</summary>
    public static readonly Unit Coulomb = new(0, 1, 1);

    /// <summary>Second.</summary>
    public static readonly Unit Seconds = new(0, 0, 1);

    /// <summary>Hertz, 1/s.</summary>
    public static readonly Unit Hertz = new(0, 0, -1);

    /// <summary>Volt per second.</summary>
    public static readonly Unit VoltsPerSecond = new(1, 0, -1);

    /// <summary>A temperature in degrees Celsius; also a temperature difference.</summary>
    public static readonly Unit Celsius = new(0, 0, 0, 1);

    /// <summary>A temperature coefficient, 1/K.</summary>
    public static readonly Unit PerKelvin = new(0, 0, 0, -1);

    /// <summary>A count of a converter.</summary>
    public static readonly Unit Count = new(0, 0, 0, 0, 1);

    /// <summary>
    /// The units that have a symbol, with the symbol printed first and then those also read.
    /// SI prefixes go before these symbols where <see cref="TakesPrefix"/> says so.
    /// </summary>
    public static readonly ImmutableArray<(Unit Unit, ImmutableArray<string> Symbols)> Known =
    [
        (Volts, ["V"]), (Amps, ["A"]), (Ohm, ["ohm", "Ω", "Ohm", "ohms"]), (Siemens, ["S"]), (Farad, ["F"]), (Henry, ["H"]),
        (Watt, ["W"]), (Joule, ["J"]), (Coulomb, ["As"]), (Weber, ["Vs"]), (Seconds, ["s"]), (Hertz, ["Hz"]), (VoltsPerSecond, ["V/s"]),
        (Celsius, ["°C", "C"]), (PerKelvin, ["1/K", "/K"]), (Count, ["counts", "count"]),
    ];

    /// <summary>Whether an SI prefix may stand before the symbol: not before °C, counts, 1/K or a plain number.</summary>
    public bool TakesPrefix => Kelvin == 0 && Counting == 0 && this != None;

    /// <summary>The symbol: "V", "ohm"; a product of powers such as "V^2 A" where the trade has none; empty for a plain number.</summary>
    public string Symbol
    {
        get
        {
            foreach (var (unit, symbols) in Known)
            {
                if (unit == this)
                    return symbols[0];
            }
            (string, sbyte)[] powers = [("V", Volt), ("A", Ampere), ("s", Second), ("K", Kelvin), ("counts", Counting)];
            return string.Join(" ", powers.Where(p => p.Item2 != 0).Select(p => p.Item2 == 1 ? p.Item1 : $"{p.Item1}^{p.Item2}"));
        }
    }

    /// <summary>The unit of a product.</summary>
    public static Unit operator *(Unit a, Unit b) => new((sbyte)(a.Volt + b.Volt), (sbyte)(a.Ampere + b.Ampere),
        (sbyte)(a.Second + b.Second), (sbyte)(a.Kelvin + b.Kelvin), (sbyte)(a.Counting + b.Counting));

    /// <summary>The unit of a quotient.</summary>
    public static Unit operator /(Unit a, Unit b) => new((sbyte)(a.Volt - b.Volt), (sbyte)(a.Ampere - b.Ampere),
        (sbyte)(a.Second - b.Second), (sbyte)(a.Kelvin - b.Kelvin), (sbyte)(a.Counting - b.Counting));

    /// <summary>The symbol, or "a plain number".</summary>
    public override string ToString() => this == None ? "a plain number" : Symbol;
}
