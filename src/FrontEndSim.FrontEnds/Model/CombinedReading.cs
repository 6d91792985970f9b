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
    /// <summary>The formula as it is written; null for a cold junction.</summary>
    public string? Formula { get; init; }

    /// <summary>The formula, in which each pin stands for its share of the range of its converter, 0 to 1; null for a cold
    /// junction.</summary>
    public ShareExpression? Expression { get; init; }

    /// <summary>Whether two are alike, pin by pin.</summary>
    public bool Equals(CombinedReading? other) => other is not null && Name == other.Name && Sensor == other.Sensor
        && Pins.SequenceEqual(other.Pins) && Formula == other.Formula && Equals(Expression, other.Expression);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Sensor, Formula);
}
