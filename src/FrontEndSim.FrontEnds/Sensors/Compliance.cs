namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>How far a transmitter can drive its current: up to a voltage, or as long as enough is left across itself.</summary>
/// <param name="Volts">The highest voltage at its node against its other terminal, V; with a supply, what has to stay between the two at
/// least.</param>
/// <param name="Supply">Node of the supply that its current comes from; null where it has one of its own.</param>
public sealed record Compliance(double Volts, string? Supply)
{
    /// <summary>
    /// What a transmitter of 4 mA to 20 mA with a supply of its own is taken to drive its current up to, V: 500 ohm at 20 mA (common
    /// practice, no source).
    /// </summary>
    public const double UsualVolts = 10;

    /// <summary>
    /// What a transmitter in a loop of two wires is taken to need across itself at least, V: most are made for 9 V to 12 V (common
    /// practice, no source).
    /// </summary>
    public const double UsualAcrossVolts = 12;

    /// <summary>What is left to it beyond what it needs, V; negative where it cannot drive its current.</summary>
    /// <param name="node">Voltage at its node, V.</param>
    /// <param name="other">Voltage at its other terminal, V.</param>
    /// <param name="supply">Voltage of its supply, V; of no meaning without one.</param>
    public double Left(double node, double other, double supply) => Supply is null ? Volts - (node - other) : supply - node - Volts;
}
