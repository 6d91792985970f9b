namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>A function that values may be made with.</summary>
/// <param name="Name">As it is written.</param>
/// <param name="IsOfSeveral">Whether it takes two values or more; one otherwise.</param>
/// <param name="Needs">What its values have to be, in words.</param>
/// <param name="Of">Its value; null where the units make no sense. Outside of its range the value is not finite.</param>
internal sealed record ValueFunction(string Name, bool IsOfSeveral, string Needs, Func<ImmutableArray<Quantity>, Quantity?> Of)
{
    /// <summary>All functions.</summary>
    public static ImmutableArray<ValueFunction> All { get; } =
    [
        Plain("exp", Math.Exp), Plain("ln", Math.Log), Plain("log10", Math.Log10),
        new("sqrt", false, "a value whose unit is a square, such as a plain number or V*V", v =>
            Root(v[0].Unit) is { } unit ? new Quantity(Math.Sqrt(v[0].Value), unit) : null),
        new("abs", false, "a value", v => new Quantity(Math.Abs(v[0].Value), v[0].Unit)),
        new("min", true, "values of one unit", v => Extreme(v, false)),
        new("max", true, "values of one unit", v => Extreme(v, true)),
    ];

    /// <summary>The function of that name, or null.</summary>
    public static ValueFunction? Find(string name) => All.FirstOrDefault(f => f.Name == name);

    /// <summary>Whether it takes so many values.</summary>
    public bool Takes(int count) => IsOfSeveral ? count >= 2 : count == 1;

    private static ValueFunction Plain(string name, Func<double, double> of) =>
        new(name, false, "a plain number", v => v[0].Unit == Unit.None ? new Quantity(of(v[0].Value), Unit.None) : null);

    private static Quantity? Extreme(ImmutableArray<Quantity> values, bool largest) => values.Any(v => v.Unit != values[0].Unit) ? null
        : new Quantity(largest ? values.Max(v => v.Value) : values.Min(v => v.Value), values[0].Unit);

    /// <summary>The unit whose square a unit is, or null.</summary>
    private static Unit? Root(Unit unit)
    {
        sbyte[] powers = [unit.Volt, unit.Ampere, unit.Second, unit.Kelvin, unit.Counting];
        return powers.Any(p => p % 2 != 0) ? null
            : new Unit((sbyte)(powers[0] / 2), (sbyte)(powers[1] / 2), (sbyte)(powers[2] / 2),
                (sbyte)(powers[3] / 2), (sbyte)(powers[4] / 2));
    }
}
