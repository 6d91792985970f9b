using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Parts;

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

    /// <summary>Whether it takes current as well as it delivers it. A steady one between a node and ground else only delivers, as most
    /// supplies do.</summary>
    public bool Sinks { get; init; }

    /// <summary>When in its period it is connected, degrees, where that is looked at; null for one that is there from the start.</summary>
    public double? ConnectedAtDegrees { get; init; }

    // What a contact takes to carry, s (common practice, no source); and from where on an alternating voltage is dangerous and comes
    // from something that is plugged in at any instant: 50 V rms (IEC 61140, from memory).
    private const double ContactSeconds = 1e-6, DangerousRmsVolts = 50;

    /// <summary>Whether its alternating voltage is one that kills.</summary>
    public bool IsDangerous => Volts is Sine { Amplitude: var peak } && Math.Abs(peak) >= DangerousRmsVolts * Math.Sqrt(2);

    /// <summary>None where it changes with time, gives nothing, or stands between two nodes.</summary>
    /// <inheritdoc/>
    public override Rail? AsRail => Volts is not Constant { Value: not 0 and var volts } ? null
        : To == Circuit.Ground ? new(From, new(volts)) { SourceOnly = !Sinks, Sinks = Sinks, SeriesOhms = SeriesOhms }
        : From == Circuit.Ground ? new(To, new(-volts)) { SourceOnly = !Sinks, Sinks = Sinks, SeriesOhms = SeriesOhms } : null;

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(Volts.At(0), "V");

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override bool IsSource => true;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new VoltageSource(Name, From, To, Volts is Sine sine && ConnectedAtDegrees is { } degrees
            ? new Connected(sine with { Phase = degrees * Math.PI / 180 }, ContactSeconds) : Volts)
        {
            SeriesOhms = SeriesOhms,
            SourceOnly = AsRail is { SourceOnly: true },
            DeliversFromMinus = Volts.At(0) < 0,
        },
    ];
}

/// <summary>A current source on the bench, which pushes its current into the node that it leads to.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Where the current is taken.</param>
/// <param name="To">Where it is pushed.</param>
/// <param name="Amps">Its current, A.</param>
/// <param name="ParallelOhms">Resistance beside it, ohm; infinity for an ideal source.</param>
public sealed record CurrentSourcePart(string Name, string From, string To, Waveform Amps, double ParallelOhms = double.PositiveInfinity)
    : Part(Name)
{
    /// <inheritdoc/>
    public override string Word => "current source";

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(Amps.At(0), "A");

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override bool IsSource => true;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new CurrentSource(Name, From, To, Amps),
        .. double.IsFinite(ParallelOhms) ? [new Resistor(Name + ".resistance", From, To, ParallelOhms)] : Array.Empty<Element>(),
    ];
}
