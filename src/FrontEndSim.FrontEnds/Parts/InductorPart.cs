using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

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

    /// <summary>Current at which its core begins to give way, A; null where nothing is said.</summary>
    public double? SaturatesAmps { get; init; }

    /// <summary>The current up to which a coil keeps its inductance.</summary>
    public static RatingKind Saturation { get; } = new("saturation current", "A");

    // Cores of coils on ferrite give way at one to two times the current that warms them by what their sheets allow (makers' sheets, from
    // memory). Less inductance than this is as often a wire's, whose field is in air (common practice, no source), H. What is shorter
    // changes no flux that counts, s.
    private const double UsualMultiple = 2, LeastCoreHenries = 10e-6, SaturationSeconds = 1e-6;

    private double? MostAmps => SaturatesAmps ?? (Henries.Value >= LeastCoreHenries ? UsualMultiple * CarriesAmps : null);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        .. CarriesAmps is { } amps ? [new(RatingKind.Current, new EffectiveCurrent(Name, 1), amps, "given for the part")]
            : Array.Empty<Rating>(),
        .. MostAmps is { } most ? [new(Saturation, new EffectiveCurrent(Name, SaturationSeconds), most,
            SaturatesAmps is null ? "makers' sheets, from memory" : "given for the part")] : Array.Empty<Rating>(),
    ];

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
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        SeriesOhms > 0 ? ErrorSource.Copper(Name, null, new VariedNumber(Name, Inductor.WindingResistance)) : [];

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Inductor(Name, From, To, Henries.Value) { SeriesOhms = SeriesOhms }];
}
