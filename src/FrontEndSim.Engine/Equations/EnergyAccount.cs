using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Equations;

/// <summary>What a part did with energy over a transient, J.</summary>
/// <param name="Delivered">Given to the circuit by a source.</param>
/// <param name="Dissipated">Turned into heat.</param>
/// <param name="Stored">Kept in a capacitance or inductance, less what was there at the start.</param>
internal readonly record struct EnergyAccount(double Delivered, double Dissipated, double Stored);

/// <summary>What was recorded of a part over a transient.</summary>
/// <param name="Current">Current from From through the part to To, that into its capacitance included, A.</param>
/// <param name="Voltage">Voltage between its terminals, V.</param>
/// <param name="StaticPower">Power that the static currents bring into it, W.</param>
/// <param name="Exchange">Power that charges its capacitances, W; null for none.</param>
/// <param name="Source">A source's own value, V or A; null for other parts.</param>
internal sealed record PartRecord(Trace Current, Trace Voltage, Trace StaticPower, Trace? Exchange, Trace? Source);
