namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>A value with its spread.</summary>
/// <param name="Value">Nominal value at 25 °C, SI units.</param>
/// <param name="Tolerance">Largest relative departure either way: 0.01 is 1 %. Zero for none.</param>
/// <param name="TempCo">
/// Largest relative change per kelvin either way, 1/K, as data sheets state it; null where none is given. A simulation takes the nominal
/// value at every temperature, since the sign is not known; the error budget counts it.
/// </param>
public readonly record struct Toleranced(double Value, double Tolerance = 0, double? TempCo = null)
{
    /// <summary>A value without spread.</summary>
    public static implicit operator Toleranced(double value) => new(value);

    /// <summary>The smallest value inside the tolerance.</summary>
    public double Least => Value - Math.Abs(Value) * Tolerance;

    /// <summary>The largest value inside the tolerance.</summary>
    public double Most => Value + Math.Abs(Value) * Tolerance;
}
