namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// What firmware computes from the codes of several pins: a thermocouple with a cold junction that is measured, a platinum resistor with
/// three or four wires, a ratio. Without a formula the second pin reads the cold junction of a thermocouple at the first.
/// </summary>
/// <param name="Name">Its name.</param>
/// <param name="Sensor">Name of the sensor that it is of: that of the first pin.</param>
/// <param name="Pins">Names of the pins, two or three.</param>
public sealed record CombinedReading(string Name, string Sensor, ImmutableArray<string> Pins)
{
    /// <summary>The formula, in which each pin stands for its share of the range of its converter, 0 to 1; null for a cold
    /// junction.</summary>
    public string? Formula { get; init; }

    private Func<double[], double> Value { get; init; } = shares => shares[0];

    /// <summary>What the formula gives.</summary>
    /// <param name="shares">The share of each converter's range, in the order of the pins.</param>
    public double Of(double[] shares) => Value(shares);

    /// <summary>The formula as C computes it, in x0, x1 and x2; empty without one.</summary>
    public string C { get; init; } = "";

    /// <summary>One with a formula.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="pins">Names of the pins.</param>
    /// <param name="formula">The formula as it is written.</param>
    /// <param name="value">Its value for the shares.</param>
    /// <param name="c">The same in C, of x0, x1 and x2.</param>
    public static CombinedReading Of(string name, string sensor, ImmutableArray<string> pins, string formula, Func<double[], double> value,
        string c) => new(name, sensor, pins) { Formula = formula, Value = value, C = c };

    /// <summary>Whether two are alike, pin by pin.</summary>
    public bool Equals(CombinedReading? other) => other is not null && Name == other.Name && Sensor == other.Sensor
        && Pins.SequenceEqual(other.Pins) && Formula == other.Formula;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Sensor, Formula);
}
