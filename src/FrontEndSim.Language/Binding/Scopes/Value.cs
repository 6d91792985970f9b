using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>What an expression comes to.</summary>
/// <param name="Quantity">Its value, rails at their nominal voltages.</param>
/// <param name="IsPercent">Whether a percentage went into it.</param>
/// <param name="UsesRail">Whether a rail's voltage went into it.</param>
/// <param name="Level">What it is beside a rail, if it follows exactly one rail volt for volt; null otherwise.</param>
/// <param name="Share">What it is a share of, if it is in proportion to exactly one rail; null otherwise.</param>
internal readonly record struct Value(Quantity Quantity, bool IsPercent = false, bool UsesRail = false, Level? Level = null,
    RailShare? Share = null)
{
    /// <summary>The value as a level that may move with a rail; null if it moves with rails in another way.</summary>
    public Level? AsLevel => UsesRail ? Level : new Level(null, Quantity.Value);

    /// <exception cref="UnitMismatchException">The units of a sum or difference differ.</exception>
    public static Value Combine(char operation, Value a, Value b)
    {
        var quantity = operation switch
        {
            '+' => a.Quantity + b.Quantity,
            '-' => a.Quantity - b.Quantity,
            '*' => a.Quantity * b.Quantity,
            '^' => Power(a.Quantity, b.Quantity),
            _ => a.Quantity / b.Quantity,
        };
        Level? level = operation switch
        {
            '+' when a.Level is { } rail && !b.UsesRail => rail with { Volts = rail.Volts + b.Quantity.Value },
            '+' when b.Level is { } rail && !a.UsesRail => rail with { Volts = rail.Volts + a.Quantity.Value },
            '-' when a.Level is { } rail && !b.UsesRail => rail with { Volts = rail.Volts - b.Quantity.Value },
            _ => null,
        };
        return new Value(quantity, a.IsPercent || b.IsPercent, a.UsesRail || b.UsesRail, level, ShareOf(operation, a, b));
    }

    private static RailShare? ShareOf(char operation, Value a, Value b) => operation switch
    {
        '*' when a.Share is { } share && IsNumber(b) => share with { Of = share.Of * b.Quantity.Value },
        '*' when b.Share is { } share && IsNumber(a) => share with { Of = share.Of * a.Quantity.Value },
        '/' when a.Share is { } share && IsNumber(b) => share with { Of = share.Of / b.Quantity.Value },
        '+' when a.Share is { } one && b.Share is { } other && one.Rail == other.Rail => one with { Of = one.Of + other.Of },
        '-' when a.Share is { } one && b.Share is { } other && one.Rail == other.Rail => one with { Of = one.Of - other.Of },
        _ => null,
    };

    private static bool IsNumber(Value value) => value.Quantity.Unit == Unit.None && !value.UsesRail;

    // A unit may be raised to a whole power; anything else has to be a plain number.
    private const int HighestPower = 8;

    private static Quantity Power(Quantity of, Quantity to)
    {
        if (to.Unit != Unit.None)
            throw new UnitMismatchException("raise", of.Unit, to.Unit);
        if (of.Unit == Unit.None)
            return new(Math.Pow(of.Value, to.Value), Unit.None);
        if (to.Value != Math.Floor(to.Value) || Math.Abs(to.Value) > HighestPower)
            throw new UnitMismatchException("raise", of.Unit, to.Unit);
        var unit = Unit.None;
        for (int k = 0; k < Math.Abs(to.Value); k++)
            unit = to.Value > 0 ? unit * of.Unit : unit / of.Unit;
        return new(Math.Pow(of.Value, to.Value), unit);
    }

    public static Value operator -(Value a) => new(-a.Quantity, a.IsPercent, a.UsesRail,
        Share: a.Share is { } share ? share with { Of = -share.Of } : null);
}

/// <summary>A share of a rail's voltage.</summary>
/// <param name="Rail">The rail.</param>
/// <param name="Of">The share of it: 1 for all of it.</param>
internal sealed record RailShare(string Rail, double Of);
