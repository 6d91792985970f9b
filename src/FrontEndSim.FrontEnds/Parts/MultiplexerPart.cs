using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// An analog multiplexer: as many analog switches to one node as it has channels, of which one is closed. What every other channel leaks
/// and keeps in its capacitance is there as well, and each switch that moves leaves its charge at both of its ends.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Channels">Nodes of the channels, each once, at least two.</param>
/// <param name="Common">The node that all channels lead to.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
/// <param name="Type">The class of each switch.</param>
/// <param name="Selected">The channel that is closed, one of <paramref name="Channels"/>.</param>
public sealed record MultiplexerPart(string Name, ImmutableArray<string> Channels, string Common, string PositiveRail, string NegativeRail,
    AnalogSwitchType Type, string Selected) : Part(Name)
{
    // Between the opening of one switch and the closing of the next, so that no two channels ever meet (from memory).
    private const double BreakSeconds = 20e-9;

    private double Celsius { get; init; } = 25;

    /// <summary>Which channel is selected from when on, by ascending times, s; empty for one that stays where it is.</summary>
    private ImmutableArray<(double Seconds, string Channel)> Moves { get; init; } = [];

    /// <inheritdoc/>
    public override Part At(double celsius) => this with { Celsius = celsius };

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    // Of the automotive grade of its class (from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override string Word => "multiplexer";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
    [
        new("channel 1", Channels[0]), new("common", Common),
        .. Channels.Skip(1).Select((node, k) => new Terminal($"channel {k + 2}", node)),
        new("positive supply", PositiveRail), new("negative supply", NegativeRail),
    ];

    /// <inheritdoc/>
    public override ImmutableArray<string> SignalNodes => [Common, Selected];

    /// <inheritdoc/>
    public override ImmutableArray<string> SupplyNodes => [PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? WorkingSupply =>
        (PositiveRail, NegativeRail, new(Type.LeastSupplyVolts, Type.MostSupplyVolts));

    /// <inheritdoc/>
    public override ChannelSelection? Selection => new(Channels, Selected, CommonFarads);

    /// <inheritdoc/>
    internal override Part Selecting(string channel, ImmutableArray<(double Seconds, string Channel)> moves) =>
        this with { Selected = channel, Moves = moves };

    // That of all switches.
    private double CommonFarads => Channels.Length * Type.Farads;

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        Type.Ratings(PositiveRail, NegativeRail, Channels.Select((_, k) => Channel(k)), Clamps);

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        double spread = Type.MostOhms / Type.Ohms;
        if (spread > 1)
        {
            // Channels of one chip stray together.
            yield return ErrorSource.Factor(Name + " resistance", ErrorKind.ResistorTolerance, spread, [.. Channels.Select((_, k) =>
                new VariedNumber(Channel(k) + AnalogSwitchType.ChannelSuffix, Resistor.Resistance))]);
        }
        foreach (string end in Channels.Select((_, k) => Channel(k) + ".leakage").Prepend(Name))
            yield return AnalogSwitchType.LeakageSource(end == Name ? Name + " leakage of the common node" : end, end);
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations =>
        [new(Imperfection.Leakage, this with { Type = Type.WithoutLeakage })];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <summary>Open, it selects nothing; shorted, its first channel stays closed beside the one that is selected.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
    [
        .. Channels.Select((node, k) => new Resistor(k == 0 ? Name : Channel(k), node, Common,
            mode == FaultMode.Short && (k == 0 || node == Selected) ? Type.Ohms : OpenOhms)),
        .. Clamps,
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.SupplyVoltage, Type.MostSupplyVolts);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        double leakage = Type.TypicalLeakageAt(Celsius);
        for (int k = 0; k < Channels.Length; k++)
        {
            var closed = Closed(Channels[k]);
            foreach (var element in Type.Channel(Channel(k), Channels[k], Common, closed))
                yield return element;
            yield return new InputLeakage(Channel(k) + ".leakage", Channels[k], NegativeRail, PositiveRail, leakage);
            if (Type.Farads > 0)
                yield return new Capacitor(Channel(k) + ".capacitance", Channels[k], Circuit.Ground, Type.Farads);
            if (Type.ChargeOf(closed) is not { } pulses)
                continue;
            yield return new CurrentSource(Channel(k) + ".charge", Circuit.Ground, Channels[k], 0) { Amps = pulses };
            yield return new CurrentSource(Channel(k) + ".common charge", Circuit.Ground, Common, 0) { Amps = pulses };
        }
        // The common node leaks as much as all switches together.
        yield return new InputLeakage(Name, Common, NegativeRail, PositiveRail, Channels.Length * leakage);
        if (CommonFarads > 0)
            yield return new Capacitor(Name + ".capacitance", Common, Circuit.Ground, CommonFarads);
        foreach (var clamp in Clamps)
            yield return clamp;
    }

    private Waveform Closed(string channel)
    {
        if (Moves.IsEmpty)
            return channel == Selected ? 1 : 0;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        string before = Selected;
        foreach (var (seconds, next) in Moves.Where((m, k) => m.Channel != (k == 0 ? Selected : Moves[k - 1].Channel)))
        {
            if (before == channel)
                points.AddRange((seconds, 1), (seconds, 0));
            else if (next == channel)
                points.AddRange((seconds + BreakSeconds, 0), (seconds + BreakSeconds, 1));
            before = next;
        }
        return points.Count == 0 ? channel == Selected ? 1 : 0 : new PiecewiseLinear(points.ToImmutable());
    }

    private string Channel(int k) => $"{Name}.{k + 1}";

    private ImmutableArray<Diode> Clamps =>
    [
        .. Channels.SelectMany((node, k) => AnalogSwitchType.Clamps(Channel(k), "channel", node, PositiveRail, NegativeRail)),
        .. AnalogSwitchType.Clamps(Name, "common", Common, PositiveRail, NegativeRail),
    ];
}
