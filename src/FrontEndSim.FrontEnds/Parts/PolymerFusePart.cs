using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// A polymer fuse, before it trips: its resistance, and what it carries without tripping. Hot it carries less: its current falls in a
/// straight
/// line from 23 °C to nothing at the temperature at which its polymer melts.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One end.</param>
/// <param name="To">The other.</param>
/// <param name="HoldAmps">Current that it carries for ever at 23 °C without tripping, A, above zero.</param>
public sealed record PolymerFusePart(string Name, string From, string To, double HoldAmps) : DescribedPart(Name)
{
    // Usual of surface-mount parts (from memory): trips at twice the current, 0.1 V cold at the current that it holds, 6 V to 60 V and 40
    // A;
    // at 85 °C it holds somewhat under half of its current, which falls to nothing at about 125 °C.
    private const double UsualDropVolts = 0.1, UsualVolts = 30, UsualFaultAmps = 40, ColdCelsius = 23, MeltCelsius = 125, TripSeconds = 1;

    /// <summary>Resistance before it has tripped, ohm, above zero.</summary>
    public double Ohms { get; init; } = UsualDropVolts / HoldAmps;

    /// <summary>Voltage that it stands once it has tripped, V.</summary>
    public double RatedVolts { get; init; } = UsualVolts;

    /// <summary>Largest current that it may be tripped by, A.</summary>
    public double FaultAmps { get; init; } = UsualFaultAmps;

    // Makers' sheets, from memory.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 85;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "polymer fuse";

    /// <inheritdoc/>
    protected override string Bought => SiText.Format(HoldAmps, "A");

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("current held at 23 °C", HoldAmps, "A") { IsLimit = true }, new("resistance before it trips", Ohms, "ohm"),
        new("largest voltage once tripped", RatedVolts, "V") { IsLimit = true },
        new("largest current that trips it", FaultAmps, "A") { IsLimit = true },
    ];

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        new(RatingKind.Current, new EffectiveCurrent(Name, TripSeconds),
            HoldAmps * Math.Clamp((MeltCelsius - ambientCelsius) / (MeltCelsius - ColdCelsius), 1e-3, 1.5), "given for the part"),
        new(RatingKind.PeakCurrent, new CurrentThrough([Name]), FaultAmps, "given for the part or usual of its kind"),
        new(RatingKind.Voltage, new VoltageAcross(From, To), RatedVolts, "given for the part or usual of its kind"),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        [ErrorSource.Factor(Name + " resistance", ErrorKind.ResistorTolerance, UsualSpread.PolymerFuse.Amount,
            new VariedNumber(Name, Resistor.Resistance))];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, HoldAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Resistor(Name, From, To, Ohms)];
}
