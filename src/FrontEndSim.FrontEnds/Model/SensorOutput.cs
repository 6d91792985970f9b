using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A sensor's own output, or the sensing resistance, as something that carries a current and has a rating for it.</summary>
/// <param name="Sensor">The sensor.</param>
public sealed record SensorOutput(Sensor Sensor) : Part(Sensor.Name)
{
    /// <summary>The output of a sensor; null for one whose current is no matter of what stands at its terminals.</summary>
    public static SensorOutput? Of(Sensor sensor) => new SensorOutput(sensor) is var output && output.ToElements().Any() ? output : null;

    /// <inheritdoc/>
    public override string Word => "sensor";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Sensor.Wiring is Bridge bridge
        ? [.. Ends(Sensor.Node, Sensor.Other), new("excitation plus", bridge.Top), new("excitation minus", bridge.Bottom)]
        : Sensor.Wiring is Track track ? [.. Ends(Sensor.Node, Sensor.Other), new("top", track.Top)] : Ends(Sensor.Node, Sensor.Other);

    // A bead takes seconds to warm (typical, from memory): on the short side.
    /// <inheritdoc/>
    public override double ThermalSeconds => 1;

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        .. Sensor.WithstandsAmps is { } amps ? [new(RatingKind.Current, new CurrentThrough([Name]), amps, TheFile)] : Array.Empty<Rating>(),
        .. (Sensor.RatedWatts ?? UsualWatts) is { } watts
            ? [PowerRating(watts, Sensor.RatedWatts is null ? Usual : TheFile)] : Array.Empty<Rating>(),
        .. Sensor.Wiring is Bridge bridge
            ? [new(RatingKind.Voltage, new VoltageAcross(bridge.Top, bridge.Bottom), bridge.MostVolts ?? UsualExcitation,
                bridge.MostVolts is null ? Usual : TheFile)] : Array.Empty<Rating>(),
    ];

    private const string TheFile = "the circuit file", Usual = "typical of its kind, from memory";

    // A resistance that measures a temperature, and a track (from memory). What another resistance dissipates its kind does not say.
    private double? UsualWatts => Sensor.HeatsItself ? 0.1 : Sensor.Wiring is Track ? 0.25 : null;

    // Load cells and pressure bridges are stated for 10 V, and stand 15 V (typical, from memory).
    private const double UsualExcitation = 15;

    /// <summary>Whether nothing says what its output withstands.</summary>
    internal bool HasUnknownLimit => Sensor is { WithstandsAmps: null, Wiring: null or ShareOfRail };

    /// <summary>Whether it is a resistance that has a power.</summary>
    public bool IsResistive => Sensor.Wiring is Bridge or Track || Sensor is { Wiring: null, Output: var unit } && unit == Unit.Ohm;

    /// <summary>The sensor's own element alone: it stands in the circuit as the sensor's.</summary>
    public override IEnumerable<Element> ToElements() => Sensor.ToElements(Sensor.Span.Middle)
        .Where(e => e.Name == Name && e is VoltageSource or SensingShare or SensingResistor or SensingNetwork);
}
