using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A resistor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Ohms">Resistance, ohm, above zero.</param>
public sealed record ResistorPart(string Name, string From, string To, Toleranced Ohms) : Part(Name)
{
    /// <summary>Rated power, W. A quarter watt is the common leaded size (common practice, no source).</summary>
    public double RatedWatts { get; init; } = 0.25;

    /// <summary>Energy that a pulse may bring, too short for any of it to leave, J; null for the rated power times the usual thermal time.</summary>
    public double? PulseJoules { get; init; }

    /// <inheritdoc/>
    public override string Word => "resistor";

    /// <inheritdoc/>
    public override string ValueText => Text(Ohms, "ohm");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings => [new(RatingKind.Power, RatedWatts, "given for the part")];

    // Averaged over this time, a pulse of the rated energy stands at the rated power.
    /// <inheritdoc/>
    public override double ThermalSeconds => PulseJoules is { } joules ? joules / RatedWatts : base.ThermalSeconds;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Resistor(Name, From, To, Ohms.Value)];
}

/// <summary>A capacitor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters; the plus terminal of a polarised one.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Farads">Capacitance, F, above zero.</param>
public sealed record CapacitorPart(string Name, string From, string To, Toleranced Farads) : Part(Name)
{
    /// <summary>Rated voltage, V. 50 V is common for small ceramic and film capacitors (common practice, no source).</summary>
    public double RatedVolts { get; init; } = 50;

    /// <summary>Leakage (insulation) resistance, ohm; infinity for none.</summary>
    public double LeakageOhms { get; init; } = double.PositiveInfinity;

    /// <summary>Equivalent series resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <inheritdoc/>
    public override string Word => "capacitor";

    /// <inheritdoc/>
    public override string ValueText => Text(Farads, "F");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings => [new(RatingKind.Voltage, RatedVolts, "given for the part")];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
        [new Capacitor(Name, From, To, Farads.Value) { LeakageOhms = LeakageOhms, SeriesOhms = SeriesOhms }];
}

/// <summary>An inductor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
/// <param name="Henries">Inductance, H, above zero.</param>
public sealed record InductorPart(string Name, string From, string To, Toleranced Henries) : Part(Name)
{
    /// <summary>Winding resistance, ohm.</summary>
    public double SeriesOhms { get; init; }

    /// <inheritdoc/>
    public override string Word => "inductor";

    /// <inheritdoc/>
    public override string ValueText => Text(Henries, "H");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Inductor(Name, From, To, Henries.Value) { SeriesOhms = SeriesOhms }];
}

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

    /// <summary>Resistance left between the wiper and the end of the track that it stands at, ohm (typical, from memory).</summary>
    public double EndOhms { get; init; } = 1;

    /// <summary>Resistance of the wiper's contact, ohm; zero for none.</summary>
    public double WiperOhms { get; init; }

    /// <inheritdoc/>
    public override string Word => "potentiometer";

    /// <inheritdoc/>
    public override string ValueText => Text(Ohms, "ohm");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To, Wiper];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings => [new(RatingKind.Power, RatedWatts, "given for the part")];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        string tap = WiperOhms > 0 ? Name + ".tap" : Wiper;
        yield return new Resistor(Name, From, tap, Math.Max(EndOhms, Ohms.Value * Position));
        yield return new Resistor(Name + ".upper", tap, To, Math.Max(EndOhms, Ohms.Value * (1 - Position)));
        if (WiperOhms > 0)
            yield return new Resistor(Name + ".contact", tap, Wiper, WiperOhms);
    }
}

/// <summary>A switch or jumper, open or closed.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One contact.</param>
/// <param name="To">The other.</param>
/// <param name="Closed">1 for closed and 0 for open, against time.</param>
public sealed record SwitchPart(string Name, string From, string To, Waveform Closed) : Part(Name)
{
    /// <inheritdoc/>
    public override string Word => "switch";

    /// <inheritdoc/>
    public override string ValueText => Closed.At(0) > 0.5 ? "closed" : "open";

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Switch(Name, From, To, Closed)];
}

/// <summary>A voltage source on the bench: a generator, a battery.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Plus terminal.</param>
/// <param name="To">Minus terminal.</param>
/// <param name="Volts">Open-circuit voltage against time, V.</param>
/// <param name="SeriesOhms">Source resistance, ohm; zero for an ideal source.</param>
public sealed record SourcePart(string Name, string From, string To, Waveform Volts, double SeriesOhms) : Part(Name)
{
    /// <inheritdoc/>
    public override string Word => "source";

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(Volts.At(0), "V");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new VoltageSource(Name, From, To, Volts) { SeriesOhms = SeriesOhms }];
}

/// <summary>A current source on the bench, which pushes its current into the node that it leads to.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Where the current is taken.</param>
/// <param name="To">Where it is pushed.</param>
/// <param name="Amps">Its current, A.</param>
/// <param name="ParallelOhms">Resistance beside it, ohm; infinity for an ideal source.</param>
public sealed record CurrentSourcePart(string Name, string From, string To, Waveform Amps, double ParallelOhms = double.PositiveInfinity) : Part(Name)
{
    /// <inheritdoc/>
    public override string Word => "current source";

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(Amps.At(0), "A");

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [From, To];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new CurrentSource(Name, From, To, Amps),
        .. double.IsFinite(ParallelOhms) ? [new Resistor(Name + ".resistance", From, To, ParallelOhms)] : Array.Empty<Element>(),
    ];
}
