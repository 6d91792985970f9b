using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What another sensor, which firmware takes to stand at the middle of its span, makes of a reading from end to end; and a contact
/// that firmware takes to stand as drawn.</summary>
/// <param name="Sensor">Its name.</param>
/// <param name="Effect">The largest change, as a magnitude: counts, or the sensor's unit.</param>
internal sealed record OtherSensors(string Sensor, double Effect)
{
    /// <summary>What of it makes that: its span, or that it is turned.</summary>
    public string Of { get; private init; } = "span";

    /// <summary>Those of each sensor that reaches a pin beside the one that it reads, of contacts that do not select what it
    /// reads, and of the charge that switches leave on what they hold.</summary>
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

                double At(double quantity) => Read(Counts(solved, ImmutableDictionary<string, double>.Empty.Add(sensor.Name, value)
                    .Add(other.Name, quantity)));
            }),
            .. frontEnd.AllParts.Where(p => p.Turned is not null).Select(contact =>
            {
                var turned = solved.With(frontEnd.Replace(contact, contact.Turned!));
                double moved = Slope(turned) / Slope(solved) - 1;
                return new OtherSensors(contact.Name, Math.Abs(moved) > SameSlope || double.IsNaN(moved) ? 0
                    : Math.Abs(Read(Counts(turned, Measured(value))) - Read(Counts(solved, Measured(value))))) { Of = "turned" };
            }),
            .. solved.Pedestals(pin, cancel).Select(pedestal =>
            {
                double counts = Counts(solved, Measured(value));
                return new OtherSensors(pedestal.Switch,
                    Math.Abs(Read(counts + pedestal.Volts / MappingStudy.CountVolts(frontEnd, pin)) - Read(counts)))
                { Of = "charge injection" };
            }),
        ];

        double Read(double counts) => back?.Value(counts, frontEnd.Celsius) ?? counts;

        ImmutableDictionary<string, double> Measured(double of) => ImmutableDictionary<string, double>.Empty.Add(sensor.Name, of);

        double Slope(SolvedFrontEnd of) => Counts(of, Measured(sensor.Span.High)) - Counts(of, Measured(sensor.Span.Low));

        double Counts(SolvedFrontEnd of, ImmutableDictionary<string, double> measured)
        {
            var point = of.Rest(new Scenario { SensorValue = measured }, cancel);
            return pin.Converter?.Counts(point.Nodes[pin.Node], n => point.Nodes[n]) ?? point.Nodes[pin.Node] * 1e3;
        }
    }

    // A contact that changes by how much the pin follows its sensor selects a range, which firmware knows; one that does not disturbs it.
    private const double SameSlope = 0.02;
}
