using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>An inductor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Henries">Inductance, H, above zero.</param>
public sealed record InductorPart(string Name, string From, string To, Toleranced Henries) : Part(Name)
{
    /// <summary>Winding resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>The most that it carries for ever, A; null where nothing is said.</summary>
    public double? CarriesAmps { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) => CarriesAmps is not { } amps ? []
        : [new(RatingKind.Current, new EffectiveCurrent(Name, 1), amps, "given for the part")];

    /// <inheritdoc/>
    public override string? Unlimited => CarriesAmps is null ? Name : null;

    // Enamel and ferrite of signal coils (typical, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "inductor";

    /// <inheritdoc/>
    public override bool IsCoil => true;

    /// <inheritdoc/>
    public override PartValue? Value => new(Henries, Unit.Henry);

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Henries = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Inductor(Name, From, To, Henries.Value) { SeriesOhms = SeriesOhms }];
}
