using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What an event does to pins and parts.</summary>
/// <param name="Event">The event.</param>
/// <param name="Pins">What reaches each pin.</param>
/// <param name="Parts">What each part stands, the most stressed first.</param>
/// <param name="Transient">The run itself.</param>
public sealed record EventResult(FaultEvent Event, ImmutableArray<PinExposure> Pins,
    ImmutableArray<PartStress> Parts, TransientResult Transient)
{
    /// <summary>The circumstance that it was run from; null where only the event is said.</summary>
    public Occasion? Where { get; init; }

    /// <summary>How far each rail was moved.</summary>
    public ImmutableArray<RailExposure> Rails { get; init; } = [];

    /// <summary>The audit of the run.</summary>
    public Audit Audit => Transient.Audit;

    /// <summary>Times of the traces shown, s; empty where none are.</summary>
    public ImmutableArray<double> Seconds { get; init; } = [];

    /// <summary>The voltage of each node shown at each of them, V.</summary>
    public IReadOnlyDictionary<string, ImmutableArray<double>> NodeVolts { get; init; } = ImmutableDictionary<string,
        ImmutableArray<double>>.Empty;

    /// <summary>The same with the traces of nodes.</summary>
    /// <param name="seconds">Times to show, s.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    public EventResult Showing(IReadOnlyList<double> seconds, IEnumerable<string> nodes) => this with
    {
        Seconds = [.. seconds],
        NodeVolts = new OrderedDictionary<string, ImmutableArray<double>>(
            nodes.Distinct().Select(n => KeyValuePair.Create(n, Transient.Voltage(n).Sample(seconds).ToImmutableArray()))),
    };
}

/// <summary>How far a rail is moved in an event: a clamp may lift it, since many supplies cannot take current.</summary>
/// <param name="Rail">The rail.</param>
/// <param name="AtRest">Its voltage before the event, V.</param>
/// <param name="HighestVolts">Highest voltage, V.</param>
/// <param name="LowestVolts">Lowest voltage, V.</param>
public sealed record RailExposure(Rail Rail, double AtRest, double HighestVolts, double LowestVolts)
{
    /// <summary>The largest of its voltages, V, as a magnitude.</summary>
    public double FurthestVolts => Math.Max(Math.Abs(HighestVolts), Math.Abs(LowestVolts));

    /// <summary>The largest mean of its voltage over a microsecond, V, as a magnitude: the capacitors beside the devices that it feeds
    /// take what is shorter.</summary>
    public double LastingVolts { get; init; }

    /// <summary>How much of the room between its own tolerance and what its devices stand it is lifted by: 1 is all of it.</summary>
    internal double LiftShare
    {
        get
        {
            double most = Math.Abs(Rail.Volts.Value) * (1 + Rail.Volts.Tolerance);
            return most == 0 ? 0 : (LastingVolts - most) / Math.Max(Rail.HighestVolts - most, LeastRoom * most);
        }
    }

    // A rail whose tolerance reaches what its devices stand has a hundredth of its voltage of it.
    private const double LeastRoom = 0.01;
}

/// <summary>What reaches a pin in an event.</summary>
public sealed record PinExposure
{
    /// <summary>The pin.</summary>
    public required Pin Pin { get; init; }

    /// <summary>Highest voltage, V.</summary>
    public required double HighestVolts { get; init; }

    /// <summary>When, s.</summary>
    public required double HighestAt { get; init; }

    /// <summary>Lowest voltage, V.</summary>
    public required double LowestVolts { get; init; }

    /// <summary>When, s.</summary>
    public required double LowestAt { get; init; }

    /// <summary>Smallest distance below the upper rating, V, negative beyond it; null without such a rating. The rating moves with its
    /// rail.</summary>
    public double? UpperMarginVolts { get; init; }

    /// <summary>Upper rating in volts at that moment.</summary>
    public double? UpperRatingVolts { get; init; }

    /// <summary>Smallest distance above the lower rating, V, negative beyond it; null without such a rating.</summary>
    public double? LowerMarginVolts { get; init; }

    /// <summary>Lower rating in volts at that moment.</summary>
    public double? LowerRatingVolts { get; init; }

    /// <summary>Highest voltage of the rail that supplies the pin or is its reference, whichever is lifted further, V: a clamp may lift
    /// it; null where none is known.</summary>
    public double? SupplyHighestVolts { get; init; }

    /// <summary>What that rail may reach less what it does, V, negative beyond it (<see cref="Rail.HighestVolts"/>); null where none is
    /// known.</summary>
    public double? SupplyMarginVolts { get; init; }

    /// <summary>Time beyond either voltage rating, s.</summary>
    public double SecondsOutside { get; init; }

    /// <summary>Largest current into the pin that its own clamps carry away for ten nanoseconds or more, A, at least 0: up to its rail, or
    /// down through a clamp in breakdown.</summary>
    public double UpperInjectionAmps { get; init; }

    /// <summary>Largest current out of the pin that its own clamps bring, A, at least 0.</summary>
    public double LowerInjectionAmps { get; init; }

    /// <summary>The larger of the two, A.</summary>
    public double InjectionAmps => Math.Max(UpperInjectionAmps, LowerInjectionAmps);

    /// <summary>Charge through both clamps, C.</summary>
    public double InjectionCoulombs { get; init; }

    /// <summary>Rated injection current less the largest, A, negative beyond it; null without such a rating.</summary>
    public double? InjectionMarginAmps { get; init; }

    /// <summary>
    /// The smallest margin over what is rated, so that volts and amperes can be set side by side: 0 at a limit, negative beyond
    /// it. Negative infinity without any rating.
    /// </summary>
    public double Tightness => Ratings.Select(r => r.Tightness).DefaultIfEmpty(double.NegativeInfinity).Min();

    /// <summary>What stands against each rating given.</summary>
    public IEnumerable<RatingUse> Ratings
    {
        get
        {
            // A data sheet that permits a current through the clamps means it to be the limit where they conduct: the voltage is then
            // theirs.
            bool isByCurrent = InjectionMarginAmps is not null && Pin.HasClamps;
            if (UpperMarginVolts is { } upper && !(isByCurrent && Pin.RatedHigh?.Rail is not null && Pin.RatedHigh.Rail == Pin.ClampRail))
                yield return new(UpperRatingVolts!.Value - upper, UpperRatingVolts.Value, upper, Unit.Volts);
            if (LowerMarginVolts is { } lower && !(isByCurrent && Pin.RatedLow is { Rail: null, Volts: <= 0 }))
                yield return new(LowerRatingVolts!.Value + lower, LowerRatingVolts.Value, lower, Unit.Volts);
            // A supply is a finding when it is lifted too far; otherwise its distance says nothing of the pin.
            if (SupplyMarginVolts is < 0 and { } supply)
                yield return new(SupplyHighestVolts!.Value, SupplyHighestVolts.Value + supply, supply, Unit.Volts);
            if (InjectionMarginAmps is { } injection)
                yield return new(InjectionAmps, Pin.InjectionAmps!.Value, injection, Unit.Amps);
            if (IsInjectedTooMuch)
                yield return new(InjectionAmps, Pin.MostInjectionAmps, Pin.MostInjectionAmps - InjectionAmps, Unit.Amps);
        }
    }

    /// <summary>Whether its clamps carry more than any pin stands, where nothing is stated.</summary>
    public bool IsInjectedTooMuch => InjectionMarginAmps is null && Pin.HasClamps && InjectionAmps > Pin.MostInjectionAmps;

    /// <summary>Whether a rating of the pin is given.</summary>
    public bool IsRated => UpperMarginVolts is not null || LowerMarginVolts is not null || InjectionMarginAmps is not null;

    /// <summary>Whether all ratings given are kept. A pin without ratings is not survived: there is nothing to show it by.</summary>
    public bool IsInside => IsRated && Ratings.All(r => r.Margin.Value >= 0);

    /// <summary>The rating that decides: the one broken most, or come nearest to; null without any.</summary>
    public RatingUse? Decisive => Ratings.Select(r => (RatingUse?)r).MinBy(r => r!.Value.Tightness);

    /// <summary>What might mend it, untried; empty if nothing needs mending.</summary>
    internal ImmutableArray<Mend> Candidates { get; init; } = [];
}

/// <summary>What a part stands in an event.</summary>
/// <param name="Part">The part.</param>
/// <param name="PeakWatts">Highest power, W.</param>
/// <param name="Joules">Energy taken in over the run, J; of a capacitor, what it keeps.</param>
/// <param name="WarmWatts">Highest power averaged over the part's thermal time, W; the power at the end if the event lasts.</param>
/// <param name="PeakVolts">Highest voltage across it, V, as a magnitude.</param>
/// <param name="PeakAmps">Highest current, A, as a magnitude.</param>
/// <param name="Tightest">The rating that it comes nearest to, or null if none is known.</param>
/// <param name="Share">What it stands over that rating: 1 is all of it; null if none is known.</param>
public sealed record PartStress(Part Part, double PeakWatts, double Joules, double WarmWatts, double PeakVolts, double PeakAmps,
    Rating? Tightest, double? Share)
{
    /// <summary>Power averaged over the whole run, W: its energy over the run's length.</summary>
    public double MeanWatts { get; init; }

    /// <summary>
    /// How much warmer than its surroundings its junction gets for what it dissipates for ever, K, where it then gives way at a higher
    /// voltage; 0 for any other part and where nothing lasts. The run shows it as it was at the beginning.
    /// </summary>
    public double LastingKelvin { get; init; }

    /// <summary>What it stands against each of its ratings, in their order.</summary>
    public ImmutableArray<RatingStress> Stresses { get; init; } = [];

    /// <summary>What it bears of the rating that it comes nearest to; null if none is known.</summary>
    public PartLoad? Load => Stresses.MaxBy(s => s.Share) is { } worst ? PartLoad.Of(Part, worst) : null;
}

/// <summary>What stands against a rating of a pin.</summary>
/// <param name="Found">What was found.</param>
/// <param name="Limit">The rating.</param>
/// <param name="Margin">The distance between, negative beyond the rating.</param>
public readonly record struct RatingUse(Quantity Found, Quantity Limit, Quantity Margin)
{
    internal RatingUse(double found, double limit, double margin, Unit unit) : this(new(found, unit), new(limit, unit), new(margin, unit))
    {
    }

    // A rating of 0 V is no measure of its own margin: a tenth of a volt is.
    /// <summary>The margin over the rating.</summary>
    public double Tightness => Margin.Value / (Limit.Unit == Unit.Volts ? Math.Max(Math.Abs(Limit.Value), 0.1) : Limit.Value);
}
