using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>How a sensor's span lands on a pin, in counts of its converter.</summary>
public static class MappingStudy
{
    // What stands for a count where a pin does not convert: a millivolt.
    private const double MillivoltCount = 1e-3;

    /// <summary>
    /// Sweeps the sensor that reaches the pin over its span and holds the pin's voltage against the mapping that the nearest
    /// stage was asked for, or else against the converter's whole input span.
    /// </summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="sensor">Name of the sensor; null for the one nearest to the pin.</param>
    /// <param name="points">Points to start from, at least 2; more are added where the curve bends.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some voltage.</exception>
    /// <exception cref="StudyProblemException">There is no such pin or sensor, no sensor reaches the pin, or nothing says what is wanted.</exception>
    public static MappingResult Run(FrontEnd frontEnd, string pin, string? sensor = null, int points = 101, CancellationToken cancel = default)
    {
        var target = frontEnd.FindPin(pin);
        var source = sensor is not null ? frontEnd.FindSensor(sensor)
            : SignalPath.SensorOf(frontEnd, target.Node) ?? throw new StudyProblemException($"No sensor reaches pin {pin}.");
        var wanted = SignalPath.MappingOf(frontEnd, target.Node, source.Name) ?? WholeSpan(frontEnd, target, source);
        var sweep = SweepStudy.Run(frontEnd, source.Name, SweepStudy.Grid(source.Span.Low, source.Span.High, points), refine: true, cancel);
        var results = sweep.Points.Select((point, k) => Point(point, sweep.Values[k], target, wanted)).ToArray();
        return new MappingResult(source.Name, pin, wanted, CountVolts(sweep.Points[0], target), [.. results],
            OpAmpHeadroom.Over(frontEnd, sweep.Points, sweep.Values), sweep);
    }

    private static WantedMapping WholeSpan(FrontEnd frontEnd, Pin pin, Sensor sensor)
    {
        if (pin.Converter is not { } converter)
            throw new StudyProblemException($"Nothing says where sensor {sensor.Name} is to land: no stage maps it and pin {pin.Name} does not convert.");
        double low = converter.Span.Low.Resolve(frontEnd.Rails), high = converter.Span.High.Resolve(frontEnd.Rails);
        return low < high ? new WantedMapping(sensor.Name, sensor.Span, new Span(low, high))
            : throw new StudyProblemException($"The input span of pin {pin.Name}, {converter.Span}, is empty or reversed.");
    }

    private static MappingPoint Point(OperatingPoint point, double sensorVolts, Pin pin, WantedMapping wanted)
    {
        double volts = point.Nodes[pin.Node], ideal = wanted.Ideal(sensorVolts), count = CountVolts(point, pin);
        // A truncating converter: code k covers the inputs from k up to, not including, k + 1 counts.
        double code = pin.Converter is { } converter
            ? Math.Clamp(Math.Floor((volts - converter.Span.Low.Resolve(n => point.Nodes[n])) / count), 0, converter.Codes - 1) : -1;
        return new MappingPoint(sensorVolts, volts, ideal, code, (volts - ideal) / count);
    }

    // The rails as solved, since a converter whose reference sags reads accordingly.
    private static double CountVolts(OperatingPoint point, Pin pin) => pin.Converter is not { } converter ? MillivoltCount
        : (converter.Span.High.Resolve(n => point.Nodes[n]) - converter.Span.Low.Resolve(n => point.Nodes[n])) / converter.Codes;
}
