using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A capacitor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters; the plus terminal of a polarised one.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Farads">Capacitance, F, above zero.</param>
public sealed record CapacitorPart(string Name, string From, string To, Toleranced Farads) : Part(Name)
{
    // Sizes that are sold, V, and the share of its voltage at which one lives long (common practice, no source).
    private static readonly ImmutableArray<double> SoldVolts = [6.3, 10, 16, 25, 50, 63, 100, 200, 250, 400, 630, 1000];
    private const double LastingShare = 2.0 / 3;

    /// <summary>Rated voltage, V; null where none is given, which is then <see cref="UsualVolts"/>.</summary>
    public double? RatedVolts { get; init; }

    /// <summary>Rated voltage where none is given, V: common for small ceramic and film capacitors (common practice, no source).</summary>
    public const double UsualVolts = 50;

    /// <summary>What lies between its plates; null where nothing is said, and it is then an ideal one that stands either
    /// polarity.</summary>
    public CapacitorDielectric? Dielectric { get; init; }

    /// <summary>Its body, which settles what a ceramic one loses by the voltage across it; null for what is usual of its rated
    /// voltage.</summary>
    public CapacitorSize? Size { get; init; }

    /// <summary>Whether it is said to be polarised, whatever its dielectric is.</summary>
    public bool IsStatedPolarised { get; init; }

    /// <summary>What it stands in reverse by its sheet, V; null for what is usual of its dielectric.</summary>
    public double? ReverseVolts { get; init; }

    /// <summary>Whether its plus terminal must not stand below the other.</summary>
    public bool IsPolarised => IsStatedPolarised || ReverseVolts is not null || Dielectric is { IsPolarised: true };

    // Of its rated voltage, where no size is known: three quarters of the capacitance are gone at all of it (makers' curves, from memory).
    private const double HalfShare = 0.5;

    /// <summary>Voltage at which about half of its capacitance is left, V; infinity where it does not lose by it.</summary>
    private double HalfVolts => Dielectric is not { LosesByBias: true } ? double.PositiveInfinity
        : Size?.HalfVolts(Farads.Value) ?? HalfShare * (RatedVolts ?? UsualVolts);

    /// <summary>Leakage (insulation) resistance, ohm; infinity for none.</summary>
    public double LeakageOhms { get; init; } = double.PositiveInfinity;

    /// <summary>Equivalent series resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>Largest effective current for ever (ripple), A; null for one that is not limited.</summary>
    public double? CarriesAmps { get; init; }

    /// <inheritdoc/>
    public override string? Unlimited => CarriesAmps is null && IsPolarised ? Name : null;

    // Ripple of small electrolytes (makers' sheets, from memory).
    /// <inheritdoc/>
    public override double UsualAmps => 0.1;

    /// <inheritdoc/>
    public override bool BlocksLasting => true;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius =>
        (Dielectric?.Name ?? (IsPolarised ? "electrolytic" : "")) == "electrolytic" ? IndustrialCelsius : MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "capacitor";

    /// <inheritdoc/>
    public override PartValue? Value => new(Farads, Unit.Farad);

    /// <inheritdoc/>
    public override Part WithValue(Toleranced value) => this with { Farads = value };

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    // An electrolyte thickens: at -25 °C its impedance is twice to four times, at -40 °C up to twelve times that at 20 °C (makers' sheets,
    // from memory).
    private const double ThickensCelsius = -10;

    /// <inheritdoc/>
    public override double? KnownDownToCelsius => Dielectric?.Name == "electrolytic" ? ThickensCelsius : null;

    // X7R and C0G by IEC 60384 (from memory); films end at 105 °C.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => Dielectric?.MostAmbientCelsius ?? 125;

    /// <inheritdoc/>
    public override string Mounting => IsPolarised ? $"plus to {From}" : "";

    // Makers charge each piece from its rated voltage through an ohm in all, its own included, and ask for no more (from memory); what is
    // shorter than this heats no flaw (common practice, no source), s.
    private const double SurgeOhms = 1, SurgeSeconds = 10e-6;

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        double volts = (RatedVolts ?? UsualVolts) * (Dielectric?.RatedShare(ambientCelsius) ?? 1);
        var rated = new Rating(RatingKind.Voltage, new VoltageAcross(From, To), volts, RatedVolts is null
            ? "common practice, no source" : "given for the part");
        ImmutableArray<Rating> lasting =
        [
            rated, .. CarriesAmps is not { } amps ? []
                : new[] { new Rating(RatingKind.Current, new EffectiveCurrent(Name, 1), amps, "given for the part") },
            .. Dielectric?.Name != "tantalum" ? []
                : new[]
                {
                    new Rating(RatingKind.PeakCurrent, new EffectiveCurrent(Name, SurgeSeconds), volts / SurgeOhms, Dielectric.Source),
                },
        ];
        return !IsPolarised ? lasting
            : [.. lasting, new(RatingKind.ReverseVoltage, new VoltageAcross(To, From, EitherWay: false),
                ReverseVolts ?? CapacitorDielectric.ReverseVolts(Dielectric, RatedVolts ?? UsualVolts, ambientCelsius),
                ReverseVolts is not null ? "given for the part" : Dielectric?.Source ?? "common practice, no source")];
    }

    /// <inheritdoc/>
    public override Purchase? Purchase => new(RatingKind.Voltage, RatedVolts ?? 0, LastingShare, SoldVolts);

    /// <inheritdoc/>
    public override IEnumerable<Deviation> Deviations => [Deviation.Capacitance(new(Name, Capacitor.Capacitance), Farads)];

    /// <summary>How far its capacitance may be off by its tolerance, and by what its dielectric strays beside it: a fraction.</summary>
    internal static double Looseness(Part part) =>
        (part.Value?.Amount.Tolerance ?? 0) + ((part as CapacitorPart)?.Dielectric?.Strays ?? 0);

    /// <summary>The least capacitance that a sound piece has left, F, after its tolerance, what its dielectric strays by temperature and
    /// ageing, and what the voltage across it takes.</summary>
    /// <param name="volts">The voltage across it, V.</param>
    internal double LeastFarads(double volts) => Farads.Value * Math.Max(0, 1 - Looseness(this))
        * new Capacitor(Name, From, To, Farads.Value) { HalfVolts = HalfVolts }.ShareLeftAt(volts);

    // What stands between the plates where nothing is said: a ceramic of class 2 up to where electrolytes are the usual kind (common
    // practice, no source).
    private const double MostCeramicFarads = 10e-6;

    /// <summary>What its leakage is taken to be that of: its dielectric, or what is usual of its capacitance.</summary>
    private CapacitorDielectric LeaksAs => Dielectric
        ?? CapacitorDielectric.Find(IsPolarised || Farads.Value > MostCeramicFarads ? "electrolytic" : "x7r")!;

    /// <summary>The least resistance that pieces leak by at 25 °C, ohm.</summary>
    private double LeastOhms => LeaksAs.LeastOhms(Farads.Value, RatedVolts ?? UsualVolts);

    // That it is the piece that leaks most, as warm as it is.
    private bool LeaksMost { get; init; }

    /// <inheritdoc/>
    public override Part At(double celsius) => !LeaksMost ? this
        : this with { LeakageOhms = LeastOhms / CapacitorDielectric.LeakageFactor(celsius), LeaksMost = false };

    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtMostLeakage() => !double.IsPositiveInfinity(LeakageOhms) ? null
        : (this with { LeaksMost = true }, new((RatedVolts ?? UsualVolts) / LeastOhms, Unit.Amps));

    /// <inheritdoc/>
    public override bool LeaksLargely => IsPolarised && double.IsPositiveInfinity(LeakageOhms);

    /// <summary>What it may leak, from nothing to the most that pieces do; none where its insulation is written.</summary>
    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        if (!double.IsPositiveInfinity(LeakageOhms))
            yield break;
        double siemens = 1 / LeastOhms;
        yield return new(Name + " leakage", new RectangularInput(0, 1), ErrorKind.Leakage,
            [new(Name, Capacitor.LeakageResistance)], (now, x, warmer) =>
                1 / (1 / now + x * siemens * CapacitorDielectric.LeakageFactor(25 + warmer)));
    }

    /// <inheritdoc/>
    public override UsualSpread? UsualTolerance => UsualSpread.Capacitor;

    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtTolerance(bool high)
    {
        if (Dielectric is not { Strays: > 0 and var strays })
            return ValueAtTolerance(high);
        double most = Farads.Tolerance + strays, end = Farads.Value * (high ? 1 + most : 1 - most);
        return end > 0 ? (WithValue(Farads with { Value = end }), new(end, Unit.Farad)) : null;
    }

    /// <inheritdoc/>
    public override IEnumerable<(Part Part, (Quantity Now, Quantity Then)? Rating)> Larger(double needed)
    {
        double now = RatedVolts ?? UsualVolts;
        return SoldVolts.Where(v => v > now).Select(v => ((Part)(this with { RatedVolts = v }),
            ((Quantity, Quantity)?)(new(now, Unit.Volts), new(v, Unit.Volts))));
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
        [new Capacitor(Name, From, To, Farads.Value) { LeakageOhms = LeakageOhms, SeriesOhms = SeriesOhms, HalfVolts = HalfVolts }];
}
