using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Something that a part must not exceed. A rating is a limit, not an operating value.</summary>
/// <param name="Kind">What is limited.</param>
/// <param name="Quantity">The quantity of the circuit that is held against it.</param>
/// <param name="Limit">The limit for any time, in the kind's unit, above zero.</param>
/// <param name="Source">Where the number comes from.</param>
public sealed record Rating(RatingKind Kind, RatedQuantity Quantity, double Limit, string Source)
{
    /// <summary>A rating that a sheet states; none where its limit is infinite.</summary>
    public static IEnumerable<Rating> Stated(Rating rating)
    {
        if (double.IsFinite(rating.Limit))
            yield return rating;
    }

    /// <summary>What of a semiconductor's rated power is left at an ambient temperature: it falls in a straight line to nothing at its
    /// highest one.</summary>
    /// <param name="ambientCelsius">Temperature around it, °C.</param>
    /// <param name="mostJunctionCelsius">Highest temperature of its junction, °C.</param>
    internal static double JunctionShare(double ambientCelsius, double mostJunctionCelsius) =>
        Math.Clamp((mostJunctionCelsius - ambientCelsius) / (mostJunctionCelsius - 25), 1e-3, 1);

    /// <summary>
    /// What single pulses may reach, by their duration, ascending in duration and descending in limit; empty where only
    /// <see cref="Limit"/> is known.
    /// </summary>
    public ImmutableArray<PulseLimit> Pulses { get; init; } = [];

    /// <summary>
    /// The limit of a single pulse, in the kind's unit: between two durations along a straight line of logarithms, below the shortest
    /// that of the shortest, beyond the longest <see cref="Limit"/>.
    /// </summary>
    /// <param name="seconds">Duration, s, above zero.</param>
    public double LimitFor(double seconds)
    {
        if (Pulses.IsEmpty || seconds > Pulses[^1].Seconds)
            return Limit;
        if (seconds <= Pulses[0].Seconds)
            return Pulses[0].Limit;
        int k = 1;
        while (seconds > Pulses[k].Seconds)
            k++;
        var (below, above) = (Pulses[k - 1], Pulses[k]);
        double share = Math.Log(seconds / below.Seconds) / Math.Log(above.Seconds / below.Seconds);
        return below.Limit * Math.Pow(above.Limit / below.Limit, share);
    }
}

/// <summary>What a single square pulse may reach.</summary>
/// <param name="Seconds">Its duration, s, above zero.</param>
/// <param name="Limit">The limit, in the unit of the rating.</param>
public sealed record PulseLimit(double Seconds, double Limit)
{
    private const double HalfCycle = 8.3e-3, HalfCycleShare = 4.55;

    /// <summary>
    /// Power of single square pulses into a junction, W, where none is stated: with the square root of the time from a microsecond on, and
    /// 4.55 times the rated power over a half cycle of 60 Hz, as the 1 W series of zeners is registered.
    /// </summary>
    internal static ImmutableArray<PulseLimit> OfJunction(double watts) =>
        [new(1e-6, watts * HalfCycleShare * Math.Sqrt(HalfCycle / 1e-6)), new(HalfCycle * HalfCycleShare * HalfCycleShare, watts)];
}

/// <summary>What a <see cref="Rating"/> limits: its word and its unit, here and nowhere else.</summary>
/// <param name="Word">What a person calls it: "power".</param>
/// <param name="Unit">Symbol of its unit.</param>
public sealed record RatingKind(string Word, string Unit)
{
    /// <summary>Power, W: compared with the power averaged as the part's heat averages it.</summary>
    public static RatingKind Power { get; } = new("power", "W");

    /// <summary>Voltage across the part, V.</summary>
    public static RatingKind Voltage { get; } = new("voltage", "V");

    /// <summary>Reverse voltage of a diode, V.</summary>
    public static RatingKind ReverseVoltage { get; } = new("reverse voltage", "V");

    /// <summary>Peak current, A.</summary>
    public static RatingKind PeakCurrent { get; } = new("peak current", "A");

    /// <summary>Lasting current, A.</summary>
    public static RatingKind Current { get; } = new("current", "A");

    /// <summary>Energy of a pulse, J.</summary>
    public static RatingKind Energy { get; } = new("energy", "J");

    /// <summary>Voltage between supply pins, V.</summary>
    public static RatingKind SupplyVoltage { get; } = new("supply voltage", "V");

    /// <summary>Voltage between two inputs, V.</summary>
    public static RatingKind DifferentialInput { get; } = new("differential input voltage", "V");

    /// <summary>Voltage between supply pins the wrong way round, V.</summary>
    public static RatingKind ReversedSupply { get; } = new("reversed supply voltage", "V");

    /// <summary>Voltage of an input above the negative supply pin, V.</summary>
    public static RatingKind InputVoltage { get; } = new("input voltage", "V");

    /// <summary>Voltage of an input beyond its supply pins, V.</summary>
    public static RatingKind InputBeyondSupply { get; } = new("input voltage beyond the supply", "V");

    /// <summary>Current into an input, A.</summary>
    public static RatingKind InputCurrent { get; } = new("input current", "A");

    /// <summary>Current that is forced into an output from beyond its supply pins, A.</summary>
    public static RatingKind OutputCurrent { get; } = new("forced output current", "A");

    /// <summary>Temperature of the surroundings, °C.</summary>
    public static RatingKind Temperature { get; } = new("temperature of the surroundings", "°C");

    /// <summary>Voltage that may stand for ever at a part that gives way to more, V.</summary>
    public static RatingKind StandOffVoltage { get; } = new("stand-off voltage in service", "V");

    /// <summary>Voltage from gate to source, V.</summary>
    public static RatingKind GateVoltage { get; } = new("gate voltage", "V");

    /// <summary>An amount of it.</summary>
    /// <param name="amount">The number, in <see cref="Unit"/>.</param>
    public Quantity Of(double amount) => new(amount, Measured ?? Quantities.Unit.Known.First(u => u.Symbols[0] == Unit).Unit);

    /// <summary>Its unit where that is made of others; null for one of the known ones.</summary>
    public Unit? Measured { get; init; }

    /// <inheritdoc/>
    public override string ToString() => Word;
}

/// <summary>A quantity of a solved circuit that a rating limits. It knows how it is measured.</summary>
public abstract record RatedQuantity
{
    /// <summary>What it is at an operating point, in the unit of the rating, with its sign.</summary>
    internal abstract double At(OperatingPoint point);

    /// <summary>What it is of a period of operating points that follow each other evenly, where the part's heat averages them.</summary>
    internal virtual double Mean(ImmutableArray<OperatingPoint> period, OperatingPoint crest) => At(crest);

    /// <summary>What a rating stands of it over a transient.</summary>
    /// <param name="rating">The rating.</param>
    /// <param name="run">The transient.</param>
    /// <param name="lasts">What goes on of it once the transient is over.</param>
    internal abstract RatingStress In(Rating rating, TransientResult run, LastingStress lasts);
}

/// <summary>The temperature of the surroundings, °C: 0 where they are below.</summary>
/// <param name="Celsius">The temperature.</param>
public sealed record Ambient(double Celsius) : RatedQuantity
{
    internal override double At(OperatingPoint point) => Celsius;

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts) =>
        new(rating, Math.Max(0, Celsius), rating.Limit);
}

/// <summary>Power taken by elements, W, averaged over the part's heat.</summary>
/// <param name="Elements">Their names.</param>
public sealed record PowerIn(ImmutableArray<string> Elements) : RatedQuantity
{
    internal override double At(OperatingPoint point) => Elements.Sum(e => point.Parts[e].Watts);

    internal override double Mean(ImmutableArray<OperatingPoint> period, OperatingPoint crest) => period.Average(At);

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts)
    {
        var watts = Elements.Select(run.Power).Aggregate((a, b) => a.Plus(b));
        double? atEnd = lasts.Of(watts);
        return !rating.Pulses.IsEmpty ? RatingStress.Worst(rating, watts.Running(), square: false, atEnd)
            : new(rating, Math.Max(watts.LargestLagged(lasts.ThermalSeconds), atEnd ?? 0), rating.Limit);
    }
}

/// <summary>Voltage between two nodes, V, at its peak.</summary>
/// <param name="From">The node that counts as plus.</param>
/// <param name="To">The node that counts as minus.</param>
/// <param name="EitherWay">Whether a voltage of the other sign counts as well.</param>
public sealed record VoltageAcross(string From, string To, bool EitherWay = true) : RatedQuantity
{
    internal override double At(OperatingPoint point) =>
        EitherWay ? Math.Abs(point.Nodes[From] - point.Nodes[To]) : point.Nodes[From] - point.Nodes[To];

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts)
    {
        var volts = EventStudy.Between(run, From, To);
        return rating.Pulses.IsEmpty ? new(rating, RatingStress.Peak(volts, EitherWay), rating.Limit)
            : RatingStress.Longest(rating, volts, EitherWay, lasts.At);
    }
}

/// <summary>Voltage between two nodes at the operating point, V; what an event brings is judged by what the part then takes.</summary>
/// <param name="From">The node that counts as plus.</param>
/// <param name="To">The node that counts as minus.</param>
/// <param name="EitherWay">Whether a voltage of the other sign counts as well.</param>
internal sealed record VoltageInService(string From, string To, bool EitherWay) : RatedQuantity
{
    internal override double At(OperatingPoint point) => EitherWay ? Math.Abs(point.Voltage(From) - point.Voltage(To))
        : Math.Max(0, point.Voltage(From) - point.Voltage(To));

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts) => new(rating, 0, rating.Limit);
}

/// <summary>Current through elements, A: the largest of them.</summary>
/// <param name="Elements">Their names.</param>
/// <param name="EitherWay">Whether a current of the other sign counts as well.</param>
public sealed record CurrentThrough(ImmutableArray<string> Elements, bool EitherWay = true) : RatedQuantity
{
    internal override double At(OperatingPoint point) =>
        Elements.Max(e => EitherWay ? Math.Abs(point.Parts[e].Amps) : point.Parts[e].Amps);

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts)
    {
        if (rating.Pulses.IsEmpty)
            return new(rating, Elements.Max(e => RatingStress.Peak(run.Current(e), EitherWay)), rating.Limit);
        return Elements.Select(run.SquaredCurrent).Select(square => RatingStress.Worst(rating, square.Running(), square: true,
            lasts.Of(square) is { } then ? Math.Sqrt(then) : null)).MaxBy(s => s.Share)!;
    }
}

/// <summary>Effective current through an element, A.</summary>
/// <param name="Element">Its name.</param>
/// <param name="Seconds">Time over which its square is averaged, s.</param>
public sealed record EffectiveCurrent(string Element, double Seconds) : RatedQuantity
{
    internal override double At(OperatingPoint point) => Math.Abs(point.Parts[Element].Amps);

    internal override RatingStress In(Rating rating, TransientResult run, LastingStress lasts)
    {
        var square = run.SquaredCurrent(Element);
        // What goes on for ever has its whole heat, however short the run is.
        return new(rating, Math.Sqrt(Math.Max(square.Running().Largest(Seconds) / Seconds, lasts.Of(square) ?? 0)), rating.Limit);
    }
}
