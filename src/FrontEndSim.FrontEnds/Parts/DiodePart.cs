using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts.Fits;

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
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings =>
        [new(RatingKind.Power, Type.RatedWatts, Type.Source), new(RatingKind.PeakCurrent, Type.RatedPeakAmps, Type.Source)];

    // A 1 W zener stands a half cycle of mains of about 25 mJ (4.55 W peak times 8.3 ms; from memory).
    /// <inheritdoc/>
    public override double ThermalSeconds => 0.02;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Diode(Name, From, To, Type.Model)];
}
