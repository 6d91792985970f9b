using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>How a sensor's span lands on a pin, in counts of its converter.</summary>
public static class MappingStudy
{
    // Points of the nominal curve to start from; more are added where it bends.
    private const int CurvePoints = 101;

    // Points at which a circuit is held against the line that firmware takes.
    private const int LinePoints = 21;

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
    /// <exception cref="StudyProblemException">There is no such pin or sensor, no sensor reaches the pin, or nothing says what is
    /// wanted.</exception>
    public static MappingResult Run(FrontEnd frontEnd, string pin, string? sensor = null, int points = 101,
        CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), pin, sensor, points, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string, string?, int, CancellationToken)"/>
    public static MappingResult Run(SolvedFrontEnd solved, string pin, string? sensor = null,
        int points = 101, CancellationToken cancel = default)
    {
        solved = solved.Reading(pin);
        var frontEnd = solved.FrontEnd;
        var target = frontEnd.FindPin(pin);
        var source = Source(frontEnd, target, sensor);
        return Of(solved, target, source, solved.Sweep(source.Name, SweepStudy.Grid(source.Span.Low, source.Span.High, points),
            refine: true, cancel), cancel);
    }

    /// <summary>The same for a sweep already made, over whatever values it has.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="sensor">The sensor that was swept.</param>
    /// <param name="sweep">Its sweep.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">Nothing says what is wanted.</exception>
    public static MappingResult Of(SolvedFrontEnd solved, Pin pin, Sensor sensor, SweepResult sweep, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var wanted = solved.Wanted(pin, sensor, cancel);
        var back = solved.Back(pin, sensor, cancel);
        return new MappingResult(sensor.Name, pin.Name, wanted, CountVolts(frontEnd, pin),
            [.. sweep.Points.Select((point, k) => Point(frontEnd, point, sweep.Values[k], pin, wanted, back))],
            [.. OpAmpHeadroom.Over(frontEnd, sweep.Points, sweep.Values).Select(h => h with { SensorUnit = sensor.UnitText })], sweep)
        {
            Quantity = sensor.Quantity,
            SensorUnit = sensor.UnitText,
            Back = back,
        };
    }

    /// <summary>The sensor of that name, or the one nearest to a pin.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    internal static Sensor Source(FrontEnd frontEnd, Pin pin, string? sensor) => sensor is not null ? frontEnd.FindSensor(sensor)
        : SignalPath.SensorOf(frontEnd, pin) ?? throw new StudyProblemException(new(ProblemKind.NoSensorReaches, pin.Name));

    /// <summary>
    /// Where a sensor is to land on a pin: as its nearest stage was asked; else, a voltage of which a mapping error is required over the
    /// converter's whole range, and what nobody asks anything of where nominal parts bring it.
    /// </summary>
    /// <exception cref="StudyProblemException">Nothing says it.</exception>
    internal static WantedMapping Wanted(SolvedFrontEnd solved, Pin pin, Sensor sensor, CancellationToken cancel) =>
        SignalPath.MappingOf(solved.FrontEnd, pin, sensor.Name)
            ?? (pin.Converter is null || sensor.IsVoltage && IsRequired(solved.FrontEnd, pin)
                ? WholeSpan(solved.FrontEnd, pin, sensor) : OfNominalParts(solved, pin, sensor, cancel));

    private static bool IsRequired(FrontEnd frontEnd, Pin pin) => frontEnd.Requirements.Any(r => r.ToleratedCounts(pin.Name) is not null);

    /// <summary>The sensor that is mapped onto a pin; null for none.</summary>
    public static Sensor? SensorOf(FrontEnd frontEnd, Pin pin) => SignalPath.SensorOf(frontEnd, pin);

    // Where nothing is asked for, what nominal parts give is what firmware is made for.
    private static WantedMapping OfNominalParts(SolvedFrontEnd solved, Pin pin, Sensor sensor, CancellationToken cancel)
    {
        var reference = solved.Reference();
        var sweep = reference.Sweep(sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, CurvePoints), refine: true, cancel);
        double[] volts = sweep.Voltage(pin.Node);
        double celsius = reference.FrontEnd.Celsius;
        var curve = new NominalCurve(sweep.Values.Select((v, k) => (sensor.OutputAt(v, celsius), volts[k])));
        // A voltage that a capacitor keeps from the pin is looked at like any other where nobody asks for a reading.
        if (!curve.Moves && sensor.IsVoltage)
            return WholeSpan(solved.FrontEnd, pin, sensor);
        if (!curve.Moves)
            throw new StudyProblemException(new(ProblemKind.DoesNotFollow, pin.Name, sensor.Name, new(volts[0], Unit.Volts)));
        return new WantedMapping(sensor.Name, sensor.Span, curve.Range)
        {
            Curve = curve,
            Law = sensor.IsVoltage ? null : sensor.Law,
            Celsius = solved.FrontEnd.Celsius
        };
    }

    /// <summary>What firmware makes of the codes of a pin; null where it does not convert, or its reading does not move.</summary>
    internal static ReadBack? WayBack(SolvedFrontEnd solved, Pin pin, Sensor sensor, CancellationToken cancel)
    {
        if (pin.Converter is not { } converter)
            return null;
        var reference = solved.Reference();
        // A line hangs on both ends alone; how far the circuit departs from it in between is looked at on the way.
        bool isLine = sensor.Law is null or { IsStraight: true };
        var sweep = isLine ? reference.Sweep(sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, LinePoints), cancel: cancel)
            : reference.Sweep(sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, CurvePoints), refine: true, cancel);
        double[] volts = sweep.Voltage(pin.Node);
        var rails = reference.FrontEnd.Rails;
        return ReadBack.Of(sensor, converter, [.. sweep.Values.Select((v, k) => (v, converter.Counts(volts[k], rails)))],
            reference.FrontEnd.Celsius);
    }

    /// <summary>Whether a sensor is the one nearest to a pin and something says where it is to land there.</summary>
    public static bool Maps(FrontEnd frontEnd, Pin pin, Sensor sensor) =>
        sensor.ShowsAtRest && !HelpsOnly(frontEnd, pin) && SignalPath.SensorOf(frontEnd, pin)?.Name == sensor.Name
        && (pin.Converter is not null || SignalPath.MappingOf(frontEnd, pin, sensor.Name) is not null);

    // What the other pins of a formula read means nothing by itself, nor does an instant of what is averaged behind a rectifier.
    private static bool HelpsOnly(FrontEnd frontEnd, Pin pin) =>
        frontEnd.Readings.Any(r => r.Formula is not null && r.Pins.Skip(1).Contains(pin.Name))
        || frontEnd.AlternatingReadings.Any(r => r.Taken == Amplitude.Average && r.Pin == pin.Name);

    /// <summary>The pins that a sensor is mapped onto, in the order written.</summary>
    public static IEnumerable<Pin> Mapped(FrontEnd frontEnd) => frontEnd.Pins.Where(p => frontEnd.Sensors.Any(s => Maps(frontEnd, p, s)));

    private static WantedMapping WholeSpan(FrontEnd frontEnd, Pin pin, Sensor sensor) => pin.Converter is { } converter
        ? new WantedMapping(sensor.Name, sensor.Span, converter.Range(frontEnd.Rails))
        : throw new StudyProblemException(new(ProblemKind.NowhereToLand, sensor.Name, pin.Name));

    // What the converter reads, on its reference as it is, less what firmware takes for right, on the nominal one.
    private static MappingPoint Point(FrontEnd frontEnd, OperatingPoint point, double sensorValue,
        Pin pin, WantedMapping wanted, ReadBack? back)
    {
        double volts = point.Nodes[pin.Node], ideal = wanted.Ideal(sensorValue);
        if (pin.Converter is not { } converter)
            return new MappingPoint(sensorValue, volts, ideal, -1, (volts - ideal) / MillivoltCount);
        double found = converter.Counts(volts, rail => point.Nodes[rail]);
        double celsius = frontEnd.Celsius;
        return new MappingPoint(sensorValue, volts, ideal, converter.Code(found), found - converter.Counts(ideal, frontEnd.Rails))
        {
            // A sensor that warms itself shows its own temperature and not that of what it measures.
            ReadingError = back is null ? null : back.Value(found, celsius) - sensorValue + SelfHeating(frontEnd, wanted.Sensor, point),
            ReadingStep = back?.Step(found, celsius),
        };
    }

    private static double SelfHeating(FrontEnd frontEnd, string name, OperatingPoint point) =>
        frontEnd.FindSensor(name).SelfHeating(point.Parts[name].Watts);

    /// <summary>The voltage that errors at a pin are told in, V: one count, or a millivolt for a pin that does not convert.</summary>
    internal static double CountVolts(FrontEnd frontEnd, Pin pin) => pin.Converter?.CountVolts(frontEnd.Rails) ?? MillivoltCount;
}
