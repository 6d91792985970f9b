using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;

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
    public override string Word => DiodeFit.Word(Type.Kind);

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("anode", From), new("cathode", To)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        PowerRating(Type.RatedWatts, Type.Source),
        new(RatingKind.PeakCurrent, new CurrentThrough([Name]), Type.RatedPeakAmps, Type.Source),
    ];

    // A 1 W zener stands a half cycle of mains of about 25 mJ (4.55 W peak times 8.3 ms; from memory).
    /// <inheritdoc/>
    public override double ThermalSeconds => 0.02;

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        var model = Type.Model;
        yield return ErrorSource.Factor(Name + " leakage", ErrorKind.Leakage, assumed.LeakageFactor,
            [new(Name, Diode.SaturationCurrent), .. model.LeakageSiemens > 0 ? [new VariedNumber(Name, Diode.LeakageConductance)] : Array.Empty<VariedNumber>()]);
        if (Type.Kind != DiodeKind.Zener || !double.IsFinite(model.BreakdownVolts))
            yield break;
        foreach (var source in ErrorSource.Scale(Name + " zener voltage", ErrorKind.Leakage, Type.VoltageTolerance ?? assumed.ZenerTolerance,
            new VariedNumber(Name, Diode.BreakdownVoltage)))
            yield return source;
    }

    /// <summary>A zener at an end of its voltage tolerance: its voltage at the breakdown that its model has.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        if (Type.Kind != DiodeKind.Zener || !double.IsFinite(Type.Model.BreakdownVolts))
            return null;
        double tolerance = Type.VoltageTolerance ?? new AssumedSpread().ZenerTolerance, volts = Type.Model.BreakdownVolts * (1 + (high ? tolerance : -tolerance));
        return (this with { Type = Type with { Model = Type.Model with { BreakdownVolts = volts } } }, new(volts, Unit.Volts));
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations => [new(Imperfection.Leakage, null)];

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
