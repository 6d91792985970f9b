using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>The kinds of diode that a person tells apart.</summary>
public enum DiodeKind
{
    /// <summary>A silicon junction diode.</summary>
    Junction,

    /// <summary>A zener diode, used in breakdown.</summary>
    Zener,

    /// <summary>A Schottky diode.</summary>
    Schottky,

    /// <summary>A light-emitting diode.</summary>
    Led,
}

/// <summary>A number from a data sheet, with where it comes from.</summary>
/// <param name="Name">What it is: "forward voltage at 1 A".</param>
/// <param name="Value">The value, SI.</param>
/// <param name="Unit">Its unit's symbol.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record SourcedNumber(string Name, double Value, string Unit, string Source);

/// <summary>A type of diode: its model, its ratings and the numbers that they come from.</summary>
/// <param name="Name">Registered type number ("1N4148"), or a zener's voltage as an IEC 60062 code ("3V6").</param>
/// <param name="Kind">What kind of diode it is.</param>
/// <param name="Model">The model's numbers at 25 °C.</param>
/// <param name="RatedWatts">Rated power at 25 °C ambient, W.</param>
/// <param name="RatedPeakAmps">Surge current that it stands now and then for some milliseconds, A, in its working direction.</param>
/// <param name="DataSheet">The numbers that the model was fitted to.</param>
/// <param name="Source">Where they come from.</param>
public sealed record DiodeType(string Name, DiodeKind Kind, DiodeModel Model, double RatedWatts, double RatedPeakAmps,
    ImmutableArray<SourcedNumber> DataSheet, string Source)
{
    /// <summary>The points that the model was fitted to, with its value at each; empty for a model that was not fitted.</summary>
    public ImmutableArray<FittedPoint> Points { get; init; } = [];

    /// <summary>The data sheet that it was fitted to, or null.</summary>
    public DiodeDataSheet? Sheet { get; init; }

    /// <summary>
    /// Least and most that a piece leaks, over what the model does. A model of a typical leakage leaves room up to the largest that the
    /// sheet states, or to <paramref name="factor"/> times it where none is stated; a model of a largest one leaves none.
    /// </summary>
    /// <param name="factor">How far pieces lie from what is typical, above 1.</param>
    public (double Least, double Most) LeakageSpread(double factor)
    {
        FittedPoint[] limits = [.. Points.Where(p => p.Point is { Kind: DataPointKind.Leakage, IsLimit: true, Celsius: 25 })];
        return (1 / factor, limits.Length == 0 ? factor : Math.Max(1, limits.Min(p => p.Point.Value / p.Fitted)));
    }

    /// <summary>Highest temperature of the junction, °C.</summary>
    public double MostJunctionCelsius => Sheet?.MostJunctionCelsius ?? 150;

    /// <summary>Lasting current in its working direction, A; infinity where none is stated.</summary>
    public double RatedAmps => Sheet?.RatedAmps ?? double.PositiveInfinity;

    /// <summary>Reverse voltage that it stands, V; infinity where none is stated, and for a zener.</summary>
    public double ReverseVolts => Sheet?.ReverseVolts ?? double.PositiveInfinity;

    /// <summary>
    /// Effective current of single square pulses by their duration, ascending; empty where nothing is known. From the peak of a half sine
    /// of 8.3 ms: its square adds up to half of that of a square pulse; from 1 ms to 1 s the square of the current times the time is
    /// the same, and below 1 ms the current rises with the time to the power of −0.2, as the registered values of 1N4148 do (from memory).
    /// </summary>
    public ImmutableArray<PulseLimit> Surge => Sheet is { Surge: { IsEmpty: false } stated } ? stated
        : !double.IsFinite(RatedPeakAmps) ? []
        : Kind == DiodeKind.Zener ? [new(1e-6, RatedPeakAmps * Math.Sqrt(HalfCycle / 1e-6)), new(HalfCycle, RatedPeakAmps)]
        : Forward(RatedPeakAmps / Math.Sqrt(2) * Math.Sqrt(HalfCycle / 1e-3));

    /// <summary>Power of single square pulses by their duration, ascending: what is stated, or what is usual of a junction.</summary>
    public ImmutableArray<PulseLimit> PulseWatts => Sheet is { PulseWatts: { IsEmpty: false } stated }
        ? stated : PulseLimit.OfJunction(RatedWatts);

    private const double HalfCycle = 8.3e-3;

    private static ImmutableArray<PulseLimit> Forward(double ampsAtMillisecond) =>
        [new(1e-6, ampsAtMillisecond * Math.Pow(1e3, 0.2)), new(1e-3, ampsAtMillisecond), new(1, ampsAtMillisecond * Math.Sqrt(1e-3))];

    /// <summary>Tolerance of the zener voltage that its data sheet states, a fraction; null if none does.</summary>
    public double? VoltageTolerance => Sheet is { Tolerance: > 0 and var stated } ? stated : null;
}

/// <summary>A diode, zener or Schottky diode.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Anode.</param>
/// <param name="To">Cathode (the band).</param>
/// <param name="Type">Its type.</param>
public sealed record DiodePart(string Name, string From, string To, DiodeType Type) : Part(Name)
{
    /// <inheritdoc/>
    public override (string Type, double? Tolerance)? BreaksDown =>
        Type.Kind == DiodeKind.Zener ? (Type.Name, Type.VoltageTolerance) : null;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override bool HasNoiseUncounted => Type.Kind == DiodeKind.Zener;

    /// <inheritdoc/>
    public override string Word => DiodeFit.Word(Type.Kind);

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("anode", From), new("cathode", To)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        double left = Rating.JunctionShare(ambientCelsius, Type.MostJunctionCelsius);
        var ratings = ImmutableArray.CreateBuilder<Rating>();
        ratings.Add(PowerRating(Type.RatedWatts * left,
            Type.Source) with
        { Pulses = [.. Type.PulseWatts.Select(p => p with { Limit = p.Limit * left })] });
        if (double.IsFinite(Type.RatedPeakAmps) || double.IsFinite(Type.RatedAmps))
        {
            ratings.Add(new(RatingKind.PeakCurrent, new CurrentThrough([Name]), Math.Min(Type.RatedAmps, Type.RatedPeakAmps), Type.Source)
            {
                Pulses = Type.Surge,
            });
        }
        if (Type.Kind != DiodeKind.Zener && double.IsFinite(Type.ReverseVolts))
            ratings.Add(new(RatingKind.ReverseVoltage, new VoltageAcross(To, From, EitherWay: false), Type.ReverseVolts, Type.Source));
        return ratings.ToImmutable();
    }

    /// <inheritdoc/>
    public override Assumption Assumes => Assumption.Leakage;

    /// <inheritdoc/>
    public override IEnumerable<Deviation> Deviations =>
    [
        new(DeviationKind.Leakage, new(Name, Diode.LeakageConductance), Math.Log(1e-10), Math.Log(1e-1), (_, x) => Math.Exp(x),
            x => new(Math.Exp(-x), Unit.Ohm), x => Math.Exp(x) <= 10 * Type.Model.LeakageSiemens),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        var model = Type.Model;
        var (least, most) = Type.LeakageSpread(assumed.LeakageFactor);
        yield return new(Name + " leakage", new RectangularInput(Math.Log(least), Math.Log(most)), ErrorKind.Leakage,
        [
            new(Name, Diode.SaturationCurrent),
            .. model.LeakageSiemens > 0 ? [new VariedNumber(Name, Diode.LeakageConductance)] : Array.Empty<VariedNumber>(),
            .. model.SoftBreakdownAmps > 0 ? [new VariedNumber(Name, Diode.SoftBreakdownCurrent)] : Array.Empty<VariedNumber>(),
        ], (now, x, _) => now * Math.Exp(x));
        if (Type.Kind != DiodeKind.Zener || !double.IsFinite(model.BreakdownVolts))
            yield break;
        foreach (var source in ErrorSource.Scale(Name + " zener voltage", ErrorKind.Leakage, Type.VoltageTolerance
            ?? assumed.ZenerTolerance,
            new VariedNumber(Name, Diode.BreakdownVoltage)))
            yield return source;
    }

    /// <inheritdoc/>
    public override string LimitWord => "zener voltage";

    /// <summary>A zener at an end of its voltage tolerance: its voltage at the breakdown that its model has.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        if (Type.Kind != DiodeKind.Zener || !double.IsFinite(Type.Model.BreakdownVolts))
            return null;
        double tolerance = Type.VoltageTolerance
            ?? new AssumedSpread().ZenerTolerance, volts = Type.Model.BreakdownVolts * (1 + (high ? tolerance : -tolerance));
        return (this with { Type = Type with { Model = Type.Model with { BreakdownVolts = volts } } }, new(volts, Unit.Volts));
    }

    // What the derating of its power says: all of it brings the junction from 25 °C to its highest temperature.
    /// <inheritdoc/>
    public override double KelvinPerWatt => Type.Kind == DiodeKind.Zener && Type.Model.BreakdownTempCo > 0
        ? (Type.MostJunctionCelsius - 25) / Type.RatedWatts : 0;

    /// <inheritdoc/>
    public override Part Warmed(double kelvin) => this with
    {
        Type = Type with
        {
            Model = Type.Model with { BreakdownVolts = Type.Model.BreakdownVolts * (1 + Type.Model.BreakdownTempCo * kelvin) },
        },
    };

    // Pieces of a type drop up to a twentieth more or less at a current (typical, from memory), which is what this factor of the saturation
    // current makes at an emission coefficient of two.
    private const double SaturationSpread = 2;

    /// <summary>A diode of more or of less forward voltage: that at 10 mA, or at its rated current if that is less.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtTolerance(bool high)
    {
        if (Type.Kind == DiodeKind.Zener)
            return null;
        // A model of the largest forward voltage leaves none above.
        bool isLargest = Type.Points.Any(p => p.Point is { Kind: DataPointKind.ForwardVoltage, IsLimit: true });
        double factor = high ? (isLargest ? 1 : 1 / SaturationSpread) : SaturationSpread;
        var model = Type.Model with { SaturationAmps = Type.Model.SaturationAmps * factor };
        return (this with { Type = Type with { Model = model } },
            new(DiodeCurve.ForwardVolts(model, Math.Min(10e-3, Type.RatedAmps)), Unit.Volts));
    }

    // Half of a breakdown voltage, where a zener leaks and does not conduct yet.
    private const double BelowBreakdown = 0.5;

    // As much leakage as pieces of the type may have beside what the model has, at its reverse voltage or half its zener voltage; its
    // forward voltage stays.
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtMostLeakage()
    {
        double volts = double.IsFinite(Type.Model.BreakdownVolts) && Type.Kind == DiodeKind.Zener
            ? BelowBreakdown * Type.Model.BreakdownVolts : Type.ReverseVolts;
        double more = Type.LeakageSpread(new AssumedSpread().LeakageFactor).Most - 1;
        if (!double.IsFinite(volts) || more <= 0)
            return null;
        double amps = DiodeCurve.LeakageAmps(Type.Model, volts);
        var model = Type.Model with { LeakageSiemens = Type.Model.LeakageSiemens + more * amps / volts };
        return (this with { Type = Type with { Model = model } }, new((1 + more) * amps, Unit.Amps));
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations => Role == Parts.Role.Rectifier ? [] : [new(Imperfection.Leakage, null)];

    // What is bought for a clamp: small and quick first, then one and three amperes; and what leaks little (common practice, no source).
    internal static readonly ImmutableArray<string> Clamps = ["BAT54", "1N5819", "1N5822"];
    private static readonly string[] LeakLess = ["BAT54", "1N5711", "1N4148"];

    // How many zeners are tried either way.
    private const int MostTypes = 3;

    /// <inheritdoc/>
    public override IEnumerable<(Part Part, (Quantity Now, Quantity Then)? Rating)> Larger(double needed) =>
        Type.Kind is DiodeKind.Schottky or DiodeKind.Junction
            ? Clamps.Select(PartCatalogue.Diode).Where(t => t.RatedAmps > Type.RatedAmps)
                .Select(t => ((Part)(this with { Type = t }), default((Quantity, Quantity)?))) : [];

    /// <inheritdoc/>
    public override IEnumerable<Part> WithLess(Imperfection of) => of != Imperfection.Leakage || Type.Kind == DiodeKind.Zener ? []
        : LeakLess.Where(t => t != Type.Name).Select(t => this with { Type = PartCatalogue.Diode(t) });

    /// <summary>Zeners of the same rated power.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Part> NextVoltages(bool higher)
    {
        double now = Type.Model.BreakdownVolts;
        return PartCatalogue.Standard.Diodes.Where(s => s.Kind == DiodeKind.Zener).Select(PartCatalogue.Type)
            .Where(t => Math.Abs(t.RatedWatts / Type.RatedWatts - 1) < 0.01
                && (higher ? t.Model.BreakdownVolts > now : t.Model.BreakdownVolts < now))
            .OrderBy(t => Math.Abs(t.Model.BreakdownVolts - now)).Take(MostTypes).Select(t => this with { Type = t });
    }

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short, FaultMode.Reversed];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
        mode == FaultMode.Reversed ? [new Diode(Name, To, From, Type.Model)] : base.Broken(mode);

    /// <inheritdoc/>
    public override Purchase? Purchase => Type.Kind == DiodeKind.Zener ? Purchase.AsRated(RatingKind.Power, Type.RatedWatts) : null;

    /// <inheritdoc/>
    public override Role? RoleByWiring(Func<string, bool> isSupply) => Type.Kind switch
    {
        DiodeKind.Led => Parts.Role.Indicator,
        DiodeKind.Zener => Parts.Role.Zener,
        _ when From == Circuit.Ground => Parts.Role.LowerClamp,
        _ when isSupply(To) => Parts.Role.UpperClamp,
        _ => null,
    };

    /// <inheritdoc/>
    public override string Mounting => $"band (cathode) to {To}";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Diode(Name, From, To, Type.Model)];
}
