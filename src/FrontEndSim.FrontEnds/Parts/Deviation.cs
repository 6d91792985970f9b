using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>What of a part may be other than planned.</summary>
public enum DeviationKind
{
    /// <summary>A resistance.</summary>
    Resistance,

    /// <summary>A capacitance, which no reading at the operating point shows.</summary>
    Capacitance,

    /// <summary>The offset voltage of an op amp.</summary>
    OffsetVoltage,

    /// <summary>The bias current of an op amp.</summary>
    BiasCurrent,

    /// <summary>The leakage of a diode.</summary>
    Leakage,
}

/// <summary>A number of a part that may be other than planned, as a wrong or damaged part has it.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Number">The engine's number.</param>
/// <param name="Low">Lowest value of the coordinate that is searched.</param>
/// <param name="High">Highest.</param>
/// <param name="Apply">The number, from the planned one and the coordinate.</param>
/// <param name="Fitted">What a person is told of a coordinate: the resistance, voltage or current.</param>
/// <param name="IsAllowed">Whether a sound part may be there.</param>
public sealed record Deviation(DeviationKind Kind, VariedNumber Number, double Low, double High, Func<double, double, double> Apply,
    Func<double, Quantity> Fitted, Func<double, bool> IsAllowed)
{
    // A wrong part is looked for up to a factor of ten either way; open and short, which are faults, beyond.
    private static readonly double WrongValue = Math.Log(10);

    /// <summary>What is planned; null where nothing is.</summary>
    public Quantity? Planned { get; init; }

    /// <summary>How far a sound part may be off either way; null where that is a share of what is planned.</summary>
    public Quantity? Allowed { get; init; }

    /// <summary>A resistance of another value.</summary>
    /// <param name="number">The engine's number.</param>
    /// <param name="ohms">The resistance, ohm.</param>
    public static Deviation Resistance(VariedNumber number, Toleranced ohms) => Value(DeviationKind.Resistance, number, ohms, Unit.Ohm);

    /// <summary>A capacitance of another value.</summary>
    /// <param name="number">The engine's number.</param>
    /// <param name="farads">The capacitance, F.</param>
    public static Deviation Capacitance(VariedNumber number, Toleranced farads) =>
        Value(DeviationKind.Capacitance, number, farads, Unit.Farad);

    private static Deviation Value(DeviationKind kind, VariedNumber number, Toleranced planned, Unit unit) =>
        new(kind, number, -WrongValue, WrongValue, (now, x) => now * Math.Exp(x),
            x => new(planned.Value * Math.Exp(x), unit), x => Math.Abs(Math.Exp(x) - 1) <= planned.Tolerance * (1 + 1e-9))
        {
            Planned = new(planned.Value, unit),
        };

    /// <summary>A number in place of the planned one, either way about zero.</summary>
    /// <param name="kind">What it is.</param>
    /// <param name="number">The engine's number.</param>
    /// <param name="most">How far it is looked for.</param>
    /// <param name="allowed">How far a sound part may be off.</param>
    public static Deviation About(DeviationKind kind, VariedNumber number, double most, Quantity allowed) =>
        new(kind, number, -most, most, (_, x) => x, x => allowed with { Value = x }, x => Math.Abs(x) <= allowed.Value)
        {
            Allowed = allowed,
        };
}
