using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of shunt reference, which is used as a zener is.</summary>
/// <param name="Name">Its name: "shunt-2V5".</param>
/// <param name="Volts">Its voltage, V, with tolerance and temperature coefficient.</param>
/// <param name="LeastAmps">Current above which it regulates, A.</param>
/// <param name="MostAmps">Largest current, A.</param>
/// <param name="Ohms">Dynamic resistance, ohm.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record ReferenceType(string Name, Toleranced Volts, double LeastAmps, double MostAmps, double Ohms, string Source)
    : PartType(Name, Source)
{
    // From its least current down, the voltage falls by so much for e times less (typical of the class, from memory).
    private const double KneeVolts = 20e-3;

    /// <summary>Rated power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 0.3;

    /// <inheritdoc/>
    public override string Kind => "reference";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("voltage", Volts.Value, "V") { Fitted = Volts.Value }, .. TypeFigure.Stated("its tolerance", Volts.Tolerance, "%"),
            .. TypeFigure.Stated("temperature coefficient", Volts.TempCo, "1/K"),
        new("least current", LeastAmps, "A") { IsLimit = true }, new("rated current", MostAmps, "A") { IsLimit = true },
            new("dynamic resistance", Ohms, "ohm"),
        .. TypeFigure.Stated("rated power", RatedWatts, "W"),
    ];

    /// <summary>The junction that stands in for it: a steep knee at its least current, a resistance above, a diode the other way
    /// round.</summary>
    /// <param name="volts">Its voltage, V.</param>
    internal DiodeModel Junction(double volts) => ChipDiode.Model with
    {
        SeriesOhms = Ohms,
        // A tenth of a per mille of its voltage below the knee makes up the rest of the regulation: steep above, soft below.
        BreakdownVolts = volts - Ohms * LeastAmps,
        BreakdownAmps = LeastAmps,
        BreakdownSlopeVolts = 0.5e-3,
        SoftBreakdownAmps = 0.2 * LeastAmps,
        SoftBreakdownSlopeVolts = KneeVolts * 5,
    };

    /// <inheritdoc/>
    public override ReferenceType Checked()
    {
        DataSheetException.HoldAboveZero(Name, ("voltage", Volts.Value), ("least current", LeastAmps),
            ("largest current", MostAmps), ("resistance", Ohms), ("rated power", RatedWatts));
        return LeastAmps < MostAmps ? this
            : throw new DataSheetException(
                $"{Name} regulates from {SiText.Format(LeastAmps, "A")} on, but carries {SiText.Format(MostAmps, "A")} at most.");
    }
}

/// <summary>A shunt reference.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Anode.</param>
/// <param name="To">Cathode.</param>
/// <param name="Type">Its type.</param>
public sealed record ReferencePart(string Name, string From, string To, ReferenceType Type) : Part(Name)
{
    private double Factor { get; init; } = 1;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override bool HasNoiseUncounted => true;

    /// <inheritdoc/>
    public override string Word => "reference";

    /// <inheritdoc/>
    public override string Symbol => "zener";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("anode", From), new("cathode", To)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        new(RatingKind.Current, new CurrentThrough([Name]), Type.MostAmps, Type.Source),
        JunctionPower(Type.RatedWatts, ambientCelsius, 125, Type.Source),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        VariedNumber volts = new(Name, Diode.BreakdownVoltage);
        return
        [
            .. ErrorSource.Scale(Name + " voltage", ErrorKind.Rail, Type.Volts.Tolerance, volts),
            .. Type.Volts.TempCo is { } drift and > 0
                ? [new ErrorSource(Name + " drift", ErrorSource.Limits(drift), ErrorKind.Rail, [volts], (now, x, kelvins) =>
                    now * (1 + x * kelvins))] : Array.Empty<ErrorSource>(),
        ];
    }

    /// <inheritdoc/>
    public override string LimitWord => "voltage";

    /// <summary>A piece of the lowest or the highest voltage.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        double volts = high ? Type.Volts.Most : Type.Volts.Least;
        return (this with { Factor = volts / Type.Volts.Value }, new(volts, Unit.Volts));
    }

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? Regulates =>
        (To, From, new(Type.Volts.Least, Type.Volts.Most));

    /// <inheritdoc/>
    public override double? RegulatesFromAmps => Type.LeastAmps;

    /// <inheritdoc/>
    public override double RegulatingAmps(OperatingPoint point) => -point.Parts[Name].Amps;

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short, FaultMode.Reversed];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
        mode == FaultMode.Reversed ? (this with { From = To, To = From }).ToElements() : base.Broken(mode);

    /// <inheritdoc/>
    public override string Mounting => $"cathode to {To}";

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, Type.MostAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Diode(Name, From, To, Type.Junction(Type.Volts.Value * Factor))];
}
