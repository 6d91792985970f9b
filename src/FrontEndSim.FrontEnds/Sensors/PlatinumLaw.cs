namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>
/// A platinum resistor by IEC 60751:2008: R0·(1 + A·t + B·t² + C·(t − 100)·t³), the last term below 0 °C only (coefficients from memory;
/// its tables are matched to their last digit).
/// </summary>
/// <param name="Ohms">Resistance R0 at 0 °C, ohm: 100 or 1000, or another.</param>
public sealed record PlatinumLaw(double Ohms) : SensorLaw
{
    private const double A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12;

    /// <summary>The classes of IEC 60751: the error at 0 °C, K, and what each kelvin from there adds.</summary>
    public static ImmutableArray<(string Name, double Offset, double Share)> Classes { get; } =
        [("AA", 0.1, 0.0017), ("A", 0.15, 0.002), ("B", 0.3, 0.005), ("C", 0.6, 0.01)];

    /// <summary>Its class; null where none is given.</summary>
    public string? Class { get; init; }

    /// <summary>One of a class.</summary>
    /// <param name="ohms">Resistance at 0 °C, ohm.</param>
    /// <param name="name">Name of the class; null for none.</param>
    public static PlatinumLaw OfClass(double ohms, string? name) => Classes.FirstOrDefault(c => c.Name == name) is { Name: { } known } found
        ? new(ohms) { Class = known, OffsetError = found.Offset, ProportionalError = found.Share } : new(ohms);

    /// <inheritdoc/>
    public override Unit Output => Unit.Ohm;

    /// <inheritdoc/>
    public override bool IsOfTemperature => true;

    /// <inheritdoc/>
    public override Span? Validity => new(-200, 850);

    /// <inheritdoc/>
    public override InverseFormula WayBack => new(InverseKind.CallendarVanDusen, [Ohms, A, B, C]);

    /// <inheritdoc/>
    public override string Text => $"platinum of {SiText.Format(Ohms, "ohm")}{(Class is null ? "" : $", class {Class}")}";

    private protected override double Value(double t, double celsius, double first, double second) =>
        Ohms * (1 + t * (A + t * (B + (t < 0 ? C * (t - 100) * t : 0))));
}
