namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>A network of resistors of which one may lead to a reference, whose own resistance adds to it.</summary>
/// <param name="Reference">The reference, or null.</param>
internal abstract record ReferencedNetwork(ShiftReference? Reference)
{
    /// <summary>The resistor to the reference: its name in formulas, and its resistance, ohm, null where there is none.</summary>
    protected abstract (string Name, double? Ohms) ToReference { get; }

    /// <summary>Voltage of the reference without load, V; 0 V without one.</summary>
    public double ReferenceVolts => Reference?.Volts ?? 0;

    /// <summary>The reference resistor with the reference's own, ohm; null where there is none.</summary>
    public double? ReferenceLeg => ShiftReference.OhmsOf(ToReference.Ohms, Reference);

    /// <summary>That resistance as hand calculations call it.</summary>
    public string ReferenceName => ShiftReference.NameOf(ToReference.Name, Reference);
}
