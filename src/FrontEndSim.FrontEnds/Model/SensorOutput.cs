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
    public override ImmutableArray<Terminal> Terminals => Ends(Sensor.Node, Sensor.Other);

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) => Sensor.WithstandsAmps is not { } amps ? []
        : [new(RatingKind.Current, new CurrentThrough([Name]), amps, "the circuit file")];

    /// <summary>The sensor's own element alone: it stands in the circuit as the sensor's.</summary>
    public override IEnumerable<Element> ToElements() => Sensor.ToElements(Sensor.Span.Middle)
        .Where(e => e.Name == Name && e is VoltageSource or SensingShare or SensingResistor);
}
