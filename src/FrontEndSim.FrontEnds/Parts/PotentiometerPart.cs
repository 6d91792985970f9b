using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A potentiometer: a resistance track and a wiper upon it.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node of the track's start.</param>
/// <param name="To">Node of the track's end.</param>
/// <param name="Wiper">Node of the wiper.</param>
/// <param name="Ohms">Resistance of the whole track, ohm, above zero.</param>
/// <param name="Position">Where the wiper stands: 0 at <paramref name="From"/>, 1 at <paramref name="To"/>, both included.</param>
public sealed record PotentiometerPart(string Name, string From, string To, string Wiper, Toleranced Ohms, double Position) : Part(Name)
{
    /// <summary>Rated power of the whole track, W.</summary>
    public double RatedWatts { get; init; } = 0.25;

    /// <summary>Whether nothing is said of where it stands, so that it may be turned to either end.</summary>
    public bool IsAnywhere { get; init; }

    /// <summary>Resistance left between the wiper and the end of the track that it stands at, ohm (typical, from memory).</summary>
    public double EndOhms { get; init; } = 1;

    /// <summary>Resistance of the wiper's contact, ohm; zero for none.</summary>
    public double WiperOhms { get; init; }

    // A cermet track (typical, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "potentiometer";

    /// <inheritdoc/>
    public override PartValue? Value => new(Ohms, Unit.Ohm);

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Ohms = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("track", From), new("track", To), new("wiper", Wiper)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        PowerRating(RatedWatts, "given for the part"), Section(Name, Position), Section(Name + ".upper", 1 - Position),
    ];

    // The rated power is that of the whole track: a part of it dissipates its share, which bounds the wiper's current to √(P/R) (common
    // practice, no source).
    private Rating Section(string element, double share) =>
        new(RatingKind.Power, new PowerIn([element]), RatedWatts * Math.Max(share, EndOhms / Ohms.Value), "its share of the whole track's");

    /// <inheritdoc/>
    public override Assumption Assumes => Ohms.TempCo is null ? Assumption.ResistorTempCo : Assumption.None;

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        ErrorSource.Resistance(Name, Ohms, assumed, Name, Name + ".upper");

    /// <inheritdoc/>
    public override bool IsTrimmed => true;

    /// <inheritdoc/>
    public override SlidingContact? Contact => new(Wiper, Position, Ohms.Value, IsAnywhere);

    /// <inheritdoc/>
    public override Part SlidTo(double position) => this with { Position = position };

    /// <inheritdoc/>
    public override UsualSpread? UsualTolerance => UsualSpread.Potentiometer;

    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtTolerance(bool high) => ValueAtTolerance(high);

    /// <inheritdoc/>
    public override Purchase? Purchase => new(RatingKind.Power, RatedWatts, ResistorPart.LastingShare, ResistorPart.SoldWatts);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        string tap = WiperOhms > 0 ? Name + ".tap" : Wiper;
        yield return new Resistor(Name, From, tap, Math.Max(EndOhms, Ohms.Value * Position));
        yield return new Resistor(Name + ".upper", tap, To, Math.Max(EndOhms, Ohms.Value * (1 - Position)));
        if (WiperOhms > 0)
            yield return new Resistor(Name + ".contact", tap, Wiper, WiperOhms);
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode)
    {
        // Open, the wiper lifts: the track stays, and the wiper's node is left alone.
        bool isOpen = mode == FaultMode.Open;
        return
        [
            new Resistor(Name, From, To, isOpen ? Ohms.Value : ShortOhms),
            new Resistor(Name + ".wiper", Wiper, From, isOpen ? OpenOhms : ShortOhms),
        ];
    }
}
