using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What another sensor, which firmware takes to stand at the middle of its span, makes of a reading from end to end.</summary>
/// <param name="Sensor">Its name.</param>
/// <param name="Effect">The largest change, as a magnitude: counts, or the sensor's unit.</param>
internal sealed record OtherSensors(string Sensor, double Effect)
{
    /// <summary>Those of each sensor that reaches a pin beside the one that it reads.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="sensor">The sensor that it reads.</param>
    /// <param name="value">What that measures, in its own unit.</param>
    /// <param name="back">What firmware computes from counts; null for effects in counts, or mV of a pin that does not convert.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ImmutableArray<OtherSensors> Effects(SolvedFrontEnd solved, Pin pin, Sensor sensor, double value, ReadBack? back,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var reached = SignalPath.Upstream(frontEnd, pin.Node).ToHashSet();
        return
        [
            .. frontEnd.Sensors.Where(s => s != sensor && s.Nodes.Any(reached.Contains)).Select(other =>
            {
                double middle = At(other.Span.Middle);
                return new OtherSensors(other.Name,
                    Math.Max(Math.Abs(At(other.Span.Low) - middle), Math.Abs(At(other.Span.High) - middle)));

                double At(double quantity)
                {
                    var point = solved.Rest(new Scenario
                    {
                        SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, value).Add(other.Name, quantity),
                    }, cancel);
                    double counts = pin.Converter?.Counts(point.Nodes[pin.Node], n => point.Nodes[n]) ?? point.Nodes[pin.Node] * 1e3;
                    return back?.Value(counts, frontEnd.Celsius) ?? counts;
                }
            }),
        ];
    }
}
