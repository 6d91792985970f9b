using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A resistor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Ohms">Resistance, ohm, above zero.</param>
public sealed record ResistorPart(string Name, string From, string To, Toleranced Ohms) : Part(Name)
{
    // Sizes that are sold, W, and the share of its power at which one lives long (common practice, no source).
    internal static readonly ImmutableArray<double> SoldWatts = [0.125, 0.25, 0.5, 1, 2, 3, 5, 10];
    internal const double LastingShare = 0.5;

    /// <summary>Rated power, W. A quarter watt is the common leaded size (common practice, no source).</summary>
    public double RatedWatts { get; init; } = 0.25;

    /// <summary>Energy that a pulse may bring, too short for any of it to leave, J; null for the rated power times the usual thermal time.</summary>
    public double? PulseJoules { get; init; }

    /// <inheritdoc/>
    public override string Word => "resistor";

    /// <inheritdoc/>
    public override PartValue? Value => new(Ohms, Unit.Ohm);

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Ohms = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) => [PowerRating(RatedWatts, "given for the part")];

    // Averaged over this time, a pulse of the rated energy stands at the rated power.
    /// <inheritdoc/>
    public override double ThermalSeconds => PulseJoules is { } joules ? joules / RatedWatts : base.ThermalSeconds;

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => ErrorSource.Resistance(Name, Ohms, assumed, Name);

    /// <inheritdoc/>
    public override Purchase? Purchase => new(RatingKind.Power, RatedWatts, LastingShare, SoldWatts);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Resistor(Name, From, To, Ohms.Value)];
}
