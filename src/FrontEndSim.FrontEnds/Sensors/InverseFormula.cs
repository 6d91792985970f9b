namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>The way back from what a sensor gives to what it measures, in closed form or by a few steps that always arrive.</summary>
/// <param name="Kind">Which formula.</param>
/// <param name="Constants">Its constants, in the order that <see cref="InverseKind"/> gives.</param>
public sealed record InverseFormula(InverseKind Kind, ImmutableArray<double> Constants)
{
    /// <summary>Steps of Newton's method below 0 °C: from the root of the quadratic two are right to a millionth of a kelvin.</summary>
    public const int NewtonSteps = 3;

    /// <summary>Whether two are alike, constant by constant.</summary>
    public bool Equals(InverseFormula? other) => other is not null && Kind == other.Kind && Constants.SequenceEqual(other.Constants);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Kind, Constants.Length, Constants[0]);

    /// <summary>The temperature, °C; not a number where the formula has none.</summary>
    /// <param name="ohms">Resistance, ohm.</param>
    public double Celsius(double ohms)
    {
        var c = Constants;
        switch (Kind)
        {
            case InverseKind.Beta:
                return 1 / (1 / c[1] + Math.Log(ohms / c[0]) / c[2]) - Engine.Constants.ZeroCelsius;
            case InverseKind.SteinhartHart:
                double y = Math.Log(ohms);
                return 1 / (c[0] + y * (c[1] + c[2] * y * y)) - Engine.Constants.ZeroCelsius;
            default:
                double r = ohms / c[0], t = (-c[1] + Math.Sqrt(c[1] * c[1] - 4 * c[2] * (1 - r))) / (2 * c[2]);
                for (int k = 0; t < 0 && k < NewtonSteps; k++)
                    t -= (1 + t * (c[1] + t * (c[2] + c[3] * (t - 100) * t)) - r) / (c[1] + t * (2 * c[2] + c[3] * t * (4 * t - 300)));
                return t;
        }
    }
}

/// <summary>Formulas that lead back from a resistance to a temperature.</summary>
public enum InverseKind
{
    /// <summary>T = 1/(1/T0 + ln(R/R0)/B): R0 in ohm, T0 in kelvin, B in kelvin.</summary>
    Beta,

    /// <summary>1/T = a + b·ln R + c·(ln R)³: a, b, c in 1/K.</summary>
    SteinhartHart,

    /// <summary>
    /// The root of R = R0·(1 + A·t + B·t²), and below 0 °C from there by Newton's method with the term C·(t − 100)·t³: R0 in ohm, A, B, C.
    /// </summary>
    CallendarVanDusen,
}
