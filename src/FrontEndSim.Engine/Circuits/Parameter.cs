namespace FrontEndSim.Engine.Circuits;

/// <summary>
/// A number of a kind of part that may vary from trial to trial without changing the topology, in SI units: the resistance of
/// a resistor, for example. One object for each kind of number, so that a wrong name does not compile.
/// </summary>
public abstract class Parameter
{
    private protected Parameter(string name, string unit) => (Name, Unit) = (name, unit);

    /// <summary>What it is: "resistance".</summary>
    public string Name { get; }

    /// <summary>Its SI unit: "ohm"; empty for a ratio.</summary>
    public string Unit { get; }

    /// <summary>Its nominal value in a part, or null where a part of that kind has no such number.</summary>
    public abstract double? NominalOf(Element part);

    /// <inheritdoc/>
    public override string ToString() => Name;
}

/// <summary>A <see cref="Parameter"/> of the parts of one kind.</summary>
/// <typeparam name="TPart">The kind of part.</typeparam>
public sealed class Parameter<TPart> : Parameter where TPart : Element
{
    private readonly Func<TPart, double> _nominal;

    internal Parameter(string name, string unit, Func<TPart, double> nominal) : base(name, unit) => _nominal = nominal;

    /// <inheritdoc/>
    public override double? NominalOf(Element part) => part is TPart one ? _nominal(one) : null;
}
