using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A switch or jumper, open or closed.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One contact.</param>
/// <param name="To">The other.</param>
/// <param name="Closed">1 for closed and 0 for open, against time.</param>
public sealed record SwitchPart(string Name, string From, string To, Waveform Closed) : Part(Name)
{
    /// <summary>Time for which it bounces when it closes, s; zero for a contact that does not.</summary>
    public double BounceSeconds { get; init; }

    /// <summary>The most that its contacts carry, switched or for ever, A; null where nothing is said.</summary>
    public double? CarriesAmps { get; init; }

    /// <summary>What the open contacts of small relays, reeds and switches stand where nothing is said, V (typical, from memory).</summary>
    public const double UsualStandsVolts = 250;

    // What welds small contacts when they close on a capacitor, and how long that takes (common practice, no source).
    private const double WeldsAmps = 50, WeldingSeconds = 1e-6;

    /// <summary>The most that its open contacts stand, either way, V; null where nothing is said.</summary>
    public double? StandsVolts { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        // Contacts weld by what flows in an instant.
        CarriesAmps is { } amps
            ? new Rating(RatingKind.Current, new EffectiveCurrent(Name, WeldingSeconds), amps, "given for the part")
            : new Rating(RatingKind.PeakCurrent, new EffectiveCurrent(Name, WeldingSeconds), WeldsAmps, "common practice, no source"),
        new Rating(RatingKind.Voltage, new VoltageAcross(From, To), StandsVolts ?? UsualStandsVolts,
            StandsVolts is null ? "usual of small contacts, from memory" : "given for the part"),
    ];

    /// <inheritdoc/>
    public override string? Unlimited => CarriesAmps is null ? Name : null;

    // Reeds; relays and tactile switches end at 85 °C (typical, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "switch";

    /// <inheritdoc/>
    public override Part? Turned => Closed is Constant ? this with { Closed = 1 - Closed.At(0) } : null;

    /// <inheritdoc/>
    public override string Symbol => ValueText + " switch";

    /// <inheritdoc/>
    public override string ValueText => Closed.At(0) > 0.5 ? "closed" : "open";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
        [new Switch(Name, From, To, BounceSeconds > 0 && Closed is PiecewiseLinear moves ? Bouncing(moves) : Closed)];

    private PiecewiseLinear Bouncing(PiecewiseLinear moves)
    {
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        for (int k = 0; k < moves.Points.Length; k++)
        {
            var (time, closed) = moves.Points[k];
            points.Add((time, closed));
            // A jump up is a closing; what the contact does next may come while it still bounces.
            if (closed < 0.5 || k == 0 || moves.Points[k - 1] is not (var before, < 0.5) || before != time)
                continue;
            double until = k + 1 < moves.Points.Length ? moves.Points[k + 1].Time : double.PositiveInfinity;
            points.AddRange(Sensors.Contact.Bounces(time, BounceSeconds, until));
        }
        return new PiecewiseLinear(points.ToImmutable());
    }
}
