using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A fuse, before it melts: its cold resistance, and what it carries for a while and for ever without melting.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="RatedAmps">Current that it carries for ever, A, above zero.</param>
public sealed record FusePart(string Name, string From, string To, double RatedAmps) : DescribedPart(Name)
{
    // A quick-acting fuse drops about a tenth of a volt cold at its rated current, and melts within 5 ms at ten times it (from memory).
    private const double UsualDropVolts = 0.1, UsualMultiple = 10, UsualSeconds = 5e-3;

    // No heat leaves the wire within this time, which the melting integral is stated for; beyond a second it does (from memory).
    private const double AdiabaticSeconds = 10e-3, LastingSeconds = 1;

    // What it carries for ever falls by so much a kelvin above 25 °C, to nine tenths at 75 °C (makers' guides to quick-acting fuses, from
    // memory).
    private const double FallsPerKelvin = 0.002;

    /// <summary>What melts a fuse, A²s.</summary>
    public static RatingKind Melting { get; } = new("melting integral", "A²s") { Measured = Unit.Amps * Unit.Amps * Unit.Seconds };

    /// <summary>Cold resistance, ohm, above zero.</summary>
    public double Ohms { get; init; } = UsualDropVolts / RatedAmps;

    /// <summary>Square of the current times the time at which it melts, A²s, above zero.</summary>
    public double MeltingIntegral { get; init; } = UsualMultiple * UsualMultiple * RatedAmps * RatedAmps * UsualSeconds;

    // Makers' sheets, from memory.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "fuse";

    /// <inheritdoc/>
    protected override string Bought => SiText.Format(RatedAmps, "A");

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("rated current", RatedAmps, "A") { IsLimit = true }, new("cold resistance", Ohms, "ohm"),
        new("melting integral", MeltingIntegral, "A²s"),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        new(RatingKind.Current, new EffectiveCurrent(Name, LastingSeconds),
            RatedAmps * (1 - FallsPerKelvin * Math.Max(0, ambientCelsius - 25)), "given for the part"),
        new(Melting, new SquaredCurrent(Name, AdiabaticSeconds), MeltingIntegral,
            "given for the part or usual of its rated current"),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => ErrorSource.Wire(Name);

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, RatedAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Resistor(Name, From, To, Ohms)];
}

/// <summary>Square of the current through an element, added up over a time, A²s.</summary>
/// <param name="Element">Its name.</param>
/// <param name="Seconds">The time, s: too short for heat to leave.</param>
public sealed record SquaredCurrent(string Element, double Seconds) : RatedQuantity
{
    // What flows for ever adds up without end, and what melts a fuse slowly is its rated current.
    internal override double At(OperatingPoint point) => 0;

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts) =>
        new(rating, run.SquaredCurrent(Element).Running().Largest(Seconds), rating.Limit);
}
