using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>What the firmware sees of single faults: the codes that are read, beside those that are valid readings.</summary>
/// <param name="Bands">The codes that are valid readings, of each pin that reads a sensor.</param>
/// <param name="Rows">A row for each fault and sensor, faults in the order of <see cref="SingleFault.Of"/>.</param>
public sealed record Detection(ImmutableArray<ValidBand> Bands, ImmutableArray<DetectionRow> Rows);

/// <summary>The codes that a whole board may read while its sensor measures, with all tolerances together; others mean a fault.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Sensor">Name of its sensor.</param>
/// <param name="LowCode">The lowest such code.</param>
/// <param name="HighCode">The highest.</param>
/// <param name="LastCode">The last code of the converter.</param>
/// <param name="Tolerated">
/// The largest error of a reading, in the sensor's unit, with which a fault does no harm: what is required of it, or else what it may be
/// off by on any board.
/// </param>
public sealed record ValidBand(string Pin, string Sensor, double LowCode, double HighCode, double LastCode, double Tolerated)
{
    /// <summary>What is measured from end to end of what is valid: the sensor's span, or as far as its alarm levels leave it.</summary>
    public Quantities.Span Measuring { get; init; }

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>Whether a code is valid.</summary>
    public bool Holds(double code) => code >= LowCode && code <= HighCode;
}

/// <summary>What the firmware sees of a fault.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Sensor">Name of the sensor whose reading is looked at.</param>
/// <param name="Sight">Whether it can be told from a valid reading.</param>
/// <param name="Pins">What each pin that reads the sensor reads.</param>
public sealed record DetectionRow(SingleFault Fault, string Sensor, FaultSight Sight, ImmutableArray<FaultCodes> Pins)
{
    /// <summary>The least distance of the code that tells it from the valid ones, over the sensor's span, counts; null where nothing tells
    /// it.</summary>
    public double? MarginCounts { get; init; }

    /// <summary>What could not be computed; null where all could.</summary>
    public NotComputed? Problem { get; init; }
}

/// <summary>What a pin reads with a fault, over the sensor's span.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="At">Places in order of what is measured.</param>
public sealed record FaultCodes(string Pin, ImmutableArray<FaultCode> At)
{
    /// <summary>Whether nothing holds the pin any more, so that it may read nearly anything.</summary>
    public bool Floats { get; init; }
}

/// <summary>A code with a fault.</summary>
/// <param name="SensorValue">What is measured, in the sensor's unit.</param>
/// <param name="LowCode">The lowest code with all tolerances together.</param>
/// <param name="HighCode">The highest.</param>
/// <param name="Reading">What firmware would make of the code of nominal parts, in the sensor's unit.</param>
public sealed record FaultCode(double SensorValue, double LowCode, double HighCode, double Reading);

/// <summary>Whether a fault can be told from a valid reading.</summary>
public enum FaultSight
{
    /// <summary>Wherever the sensor stands, a code shows it or the reading is right all the same.</summary>
    Detected,

    /// <summary>The reading is right all the same, wherever the sensor stands.</summary>
    Harmless,

    /// <summary>At some places of the sensor's span the code is valid and the reading wrong.</summary>
    AtTimes,

    /// <summary>No code shows it.</summary>
    Hidden,

    /// <summary>It could not be computed.</summary>
    NotKnown,
}

/// <summary>Which faults are looked at.</summary>
public enum DetectionScope
{
    /// <summary>Alarm levels of transmitters alone.</summary>
    Alarms,

    /// <summary>Sensors, their wires and alarm levels.</summary>
    Sensors,

    /// <summary>Parts and rails as well, but not the rails that the converter itself works on.</summary>
    All,
}
