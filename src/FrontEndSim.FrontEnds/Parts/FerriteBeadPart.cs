using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// A ferrite bead: its wire's resistance, and a resistance with an inductance beside it, whose impedance at 100 MHz is what it is sold by.
/// Below
/// the frequency at which it turns resistive it is an inductor, above a resistor.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One end.</param>
/// <param name="To">The other.</param>
/// <param name="Impedance">Magnitude of its impedance at 100 MHz, ohm, above zero, with its tolerance.</param>
public sealed record FerriteBeadPart(string Name, string From, string To, Toleranced Impedance) : DescribedPart(Name)
{
    private const double StatedHertz = 100e6;

    /// <summary>Resistance for direct current, ohm, above zero (0.3 ohm is usual of 600 ohm, from memory).</summary>
    public double WireOhms { get; init; } = Impedance.Value / 2000;

    /// <summary>Lasting current, A, above zero; half an ampere is usual of small ones (from memory).</summary>
    public double RatedAmps { get; init; } = 0.5;

    /// <summary>Frequency above which it is more of a resistor than of an inductor, Hz; 30 MHz is usual (from memory).</summary>
    public double ResistiveHertz { get; init; } = 30e6;

    /// <summary>Resistance at high frequency, ohm: R·x/√(1 + x²) is the stated impedance at x = 100 MHz over
    /// <see cref="ResistiveHertz"/>.</summary>
    public double HighOhms => Impedance.Value * Math.Sqrt(1 + Math.Pow(ResistiveHertz / StatedHertz, 2));

    // Makers' sheets, from memory.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "bead";

    /// <inheritdoc/>
    public override PartValue? Value => new(Impedance, Unit.Ohm);

    /// <inheritdoc/>
    protected override string Bought => SiText.Format(Impedance.Value, "ohm") + " at 100 MHz";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("impedance at 100 MHz", Impedance.Value, "ohm"), .. TypeFigure.Stated("its tolerance", Impedance.Tolerance, "%"),
        new("resistance of its wire", WireOhms, "ohm"), new("lasting current", RatedAmps, "A") { IsLimit = true },
        new("resistive above", ResistiveHertz, "Hz"),
    ];

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Impedance = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        // Nothing at 125 °C (common practice, no source).
        [new(RatingKind.Current, new EffectiveCurrent(Name, 1),
            RatedAmps * Math.Sqrt(Math.Clamp((125 - ambientCelsius) / (125 - 85), 1e-3, 1)), "given for the part or usual of its kind")];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => ErrorSource.Wire(Name);

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, RatedAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new Resistor(Name, From, Name + ".core", WireOhms), new Resistor(Name + ".loss", Name + ".core", To, HighOhms),
        new Inductor(Name + ".inductance", Name + ".core", To, HighOhms / (2 * Math.PI * ResistiveHertz)),
    ];
}
