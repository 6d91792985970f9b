using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

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

    // Full power up to this ambient temperature, nothing at the other: of film resistors and chips alike (from memory).
    private const double FullPowerCelsius = 70, NoPowerCelsius = 155;

    private readonly double? _ratedWatts;

    /// <summary>Rated power that was given for it, W; null where its size says it.</summary>
    public double? GivenWatts => _ratedWatts;

    /// <summary>Style and size; null for what is usual of the rated power.</summary>
    public ResistorSize? Size { get; init; }

    /// <summary>Rated power at 70 °C, W: that of its size unless given. A quarter watt is the common leaded size (common practice, no
    /// source).</summary>
    public double RatedWatts { get => _ratedWatts ?? Size?.Watts ?? 0.25; init => _ratedWatts = value; }

    /// <summary>Energy that a pulse may bring, too short for any of it to leave, J; null for the rated power times the usual thermal
    /// time.</summary>
    public double? PulseJoules { get; init; }

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "resistor";

    /// <inheritdoc/>
    public override bool IsResistor => true;

    /// <inheritdoc/>
    public override PartValue? Value => new(Ohms, Unit.Ohm);

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Ohms = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        double left = Math.Clamp((NoPowerCelsius - ambientCelsius) / (NoPowerCelsius - FullPowerCelsius), 1e-3, 1), watts = RatedWatts;
        if (!double.IsFinite(watts))
            return [];
        var body = Size ?? ResistorSize.Usual(watts);
        ImmutableArray<PulseLimit> pulses = PulseJoules is { } joules
            ? [new(ShortestSeconds, joules / ShortestSeconds), new(Math.Max(joules / watts, 2 * ShortestSeconds), watts)]
            : [.. body.Pulses.Select(p => p with { Limit = p.Limit * watts / body.Watts })];
        return
        [
            PowerRating(watts * left, _ratedWatts is null ? body.Source
                : "given for the part") with { Pulses = [.. pulses.Select(p => p with { Limit = p.Limit * left })] },
            new(RatingKind.Voltage, new VoltageAcross(From, To), body.WorkingVolts, body.Source)
            {
                Pulses = [new(BodySeconds, VoltsOfABody * body.WorkingVolts), new(ShortestSeconds, VoltsBriefly * body.WorkingVolts),
                    new(2 * ShortestSeconds, body.OverloadVolts), new(5, body.OverloadVolts)],
            },
        ];
    }

    // Below about a microsecond a film is limited by voltage alone: two to four times its working voltage (from memory).
    private const double ShortestSeconds = 1e-6, VoltsBriefly = 3;

    // A discharge of the human body model decays in 150 ns, and films are classed by it (AEC-Q200-002): chips 0402 to 1206 from 0.5 kV to
    // 3 kV, at least ten times their working voltage (from memory).
    private const double BodySeconds = 150e-9, VoltsOfABody = 10;

    // Averaged over this time, a pulse of the rated energy stands at the rated power.
    /// <inheritdoc/>
    public override double ThermalSeconds => PulseJoules is { } joules ? joules / RatedWatts : base.ThermalSeconds;

    /// <inheritdoc/>
    public override Assumption Assumes => Ohms.TempCo is null ? Assumption.ResistorTempCo : Assumption.None;

    /// <inheritdoc/>
    public override IEnumerable<Deviation> Deviations => [Deviation.Resistance(new(Name, Resistor.Resistance), Ohms)];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => ErrorSource.Resistance(Name, Ohms, assumed, Name);

    /// <inheritdoc/>
    public override UsualSpread? UsualTolerance => UsualSpread.Resistor;

    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtTolerance(bool high) => ValueAtTolerance(high);

    /// <inheritdoc/>
    public override Purchase? Purchase => new(RatingKind.Power, RatedWatts, LastingShare, SoldWatts);

    /// <inheritdoc/>
    public override IEnumerable<(Part Part, (Quantity Now, Quantity Then)? Rating)> Larger(double needed) =>
        SoldWatts.Where(w => w > RatedWatts && w >= needed * (1 - 1e-9)).Select(w => ((Part)(this with { RatedWatts = w, Size = null }),
            ((Quantity, Quantity)?)(new(RatedWatts, Unit.Watt), new(w, Unit.Watt))));

    /// <inheritdoc/>
    public override (Part First, Part Second)? InTwo(string second, string between, double share)
    {
        var each = this with { Ohms = Ohms with { Value = Ohms.Value * share } };
        return (each with { To = between }, each with { Name = second, From = between, Role = null });
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Resistor(Name, From, To, Ohms.Value)];
}
