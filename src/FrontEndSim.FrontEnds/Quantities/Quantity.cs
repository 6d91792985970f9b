namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>A number with its unit, in SI units (°C for temperatures, the fraction for percentages).</summary>
/// <param name="Value">The number of units.</param>
/// <param name="Unit">The unit.</param>
public readonly record struct Quantity(double Value, Unit Unit)
{
    /// <summary>Whether it is a share that a person reads as a percentage; the value is the fraction. Arithmetic drops it.</summary>
    public bool IsShare { get; init; }

    /// <summary>Symbol of a unit that only a sensor knows, "mm" or "lx"; null for the unit itself. Arithmetic drops it.</summary>
    public string? UnitText { get; init; }

    /// <summary>A number in a sensor's own unit.</summary>
    public static Quantity InText(double value, string unit) => new(value, Unit.None) { UnitText = unit };

    /// <summary>A share: 0.5 is 50 %.</summary>
    public static Quantity Share(double fraction) => new(fraction, Unit.None) { IsShare = true };

    /// <summary>A number of things, events for example, which have no unit.</summary>
    public static Quantity Number(double count) => new(count, Unit.None);

    /// <summary>The unit's symbol, "%" for a share, empty for a plain number.</summary>
    public string Symbol => UnitText ?? (IsShare ? "%" : Unit.Symbol);

    /// <summary>The sum.</summary>
    /// <exception cref="UnitMismatchException">The units differ.</exception>
    public static Quantity operator +(Quantity a, Quantity b) => new(a.Value + b.Value, Same("add", a.Unit, b.Unit));

    /// <summary>The difference.</summary>
    /// <exception cref="UnitMismatchException">The units differ.</exception>
    public static Quantity operator -(Quantity a, Quantity b) => new(a.Value - b.Value, Same("subtract", a.Unit, b.Unit));

    /// <summary>The opposite.</summary>
    public static Quantity operator -(Quantity a) => a with { Value = -a.Value };

    /// <summary>The product; its unit is the product of the units.</summary>
    public static Quantity operator *(Quantity a, Quantity b) => new(a.Value * b.Value, a.Unit * b.Unit);

    /// <summary>The quotient; its unit is the quotient of the units. Division by zero gives an infinite value.</summary>
    public static Quantity operator /(Quantity a, Quantity b) => new(a.Value / b.Value, a.Unit / b.Unit);

    /// <summary>The value, if the unit is the one expected.</summary>
    /// <exception cref="UnitMismatchException">The unit is another.</exception>
    public double In(Unit expected) => Unit == expected ? Value : throw new UnitMismatchException("use", Unit, expected);

    /// <summary>Text with an SI prefix and four significant digits: "4.7 kohm"; a share as a percentage.</summary>
    public override string ToString() => IsShare || UnitText is not null ? SiText.Format(Value, Symbol)
        : Unit.TakesPrefix ? SiText.Format(Value, Unit.Symbol) : SiText.Plain(Value, Unit.Symbol);

    private static Unit Same(string verb, Unit a, Unit b) => a == b ? a : throw new UnitMismatchException(verb, a, b);
}

/// <summary>Two quantities whose units do not go together.</summary>
/// <param name="verb">What was attempted: "add", "subtract", "use".</param>
/// <param name="first">The unit of the first quantity.</param>
/// <param name="second">The unit of the second, or the unit expected.</param>
public sealed class UnitMismatchException(string verb, Unit first, Unit second) : Exception(
    verb == "use" ? $"{second} expected, but the value is in {first}." : $"Cannot {verb} {first} and {second}: the units differ.")
{
    /// <summary>The unit of the first quantity.</summary>
    public Unit First { get; } = first;

    /// <summary>The unit of the second quantity, or the one expected.</summary>
    public Unit Second { get; } = second;
}
