using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What a person needs at the bench: parts, order of assembly, points to measure, firmware constants, calibration.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Parts">The parts list, equal parts in one line.</param>
/// <param name="Steps">The order of assembly, in sentences.</param>
/// <param name="Points">What to set, where to measure, what to expect.</param>
/// <param name="Meter">The meter that the points are for.</param>
/// <param name="Firmware">Constants for each converting pin that a sensor reaches.</param>
/// <param name="Cautions">What may hurt a person or a part.</param>
public sealed record BuildResult(string Title, ImmutableArray<PartsLine> Parts, ImmutableArray<string> Steps, ImmutableArray<BenchPoint> Points,
    BenchMeter Meter, ImmutableArray<FirmwareConstants> Firmware, ImmutableArray<string> Cautions);

/// <summary>Equal parts on a parts list.</summary>
/// <param name="Names">The parts' names.</param>
/// <param name="Word">"resistor".</param>
/// <param name="Value">"4.7 kohm 1 %".</param>
/// <param name="Needed">What to buy: "0.25 W", "50 V"; empty where nothing was computed.</param>
/// <param name="Reason">The worst that one of them stands, with the event or the sensor voltage.</param>
/// <param name="IsBeyond">Whether that is beyond the rating that the part has in the circuit file.</param>
public sealed record PartsLine(ImmutableArray<string> Names, string Word, string Value, string Needed, string Reason, bool IsBeyond);

/// <summary>A meter.</summary>
/// <param name="Accuracy">Largest relative error, a fraction.</param>
/// <param name="FloorVolts">Largest error at 0 V, V.</param>
/// <param name="InputOhms">Input resistance, ohm: it loads what it measures, and the expected readings count that in.</param>
public sealed record BenchMeter(double Accuracy = 0.005, double FloorVolts = 2e-3, double InputOhms = 10e6)
{
    /// <summary>How far a reading may be off, V.</summary>
    public double ErrorVolts(double volts) => Math.Abs(volts) * Accuracy + FloorVolts;
}

/// <summary>A measurement at the bench.</summary>
/// <param name="Set">What to set: "probe at -1.2 V".</param>
/// <param name="SensorVolts">The sensor's voltage, V; null where it does not matter.</param>
/// <param name="Node">Where to measure, against ground.</param>
/// <param name="What">What the node is: "output of shift.U1".</param>
/// <param name="ExpectedVolts">Expected reading with nominal parts and the meter's load, V.</param>
/// <param name="LowVolts">Lowest reading of a board that is as designed, with tolerances and the meter's error at their worst, V.</param>
/// <param name="HighVolts">Highest.</param>
/// <param name="Code">What the converter reads, for a pin; else null.</param>
public sealed record BenchPoint(string Set, double? SensorVolts, string Node, string What, double ExpectedVolts, double LowVolts, double HighVolts, double? Code);

/// <summary>The way back from a code to the sensor's voltage.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Bits">Resolution of the converter.</param>
/// <param name="SlopeVolts">Sensor voltage for one count, V.</param>
/// <param name="OffsetVolts">Sensor voltage at code 0, V; the middle of the code's step.</param>
/// <param name="LowCode">Code at the lower end of the span.</param>
/// <param name="HighCode">Code at the upper end.</param>
/// <param name="LineErrorVolts">Largest departure of the circuit from this line over the span, V at the sensor.</param>
/// <param name="Whole">The same with whole numbers.</param>
/// <param name="Calibration">How to replace the constants by those of the board.</param>
public sealed record FirmwareConstants(string Pin, string Sensor, int Bits, double SlopeVolts, double OffsetVolts, double LowCode, double HighCode,
    double LineErrorVolts, WholeNumberLine Whole, CalibrationPlan Calibration)
{
    /// <summary>The constants as C, where somebody wrote them; else empty.</summary>
    public string C { get; init; } = "";
}

/// <summary>A calibration from two readings.</summary>
/// <param name="LowVolts">First voltage to set, V.</param>
/// <param name="HighVolts">Second.</param>
/// <param name="LowCode">Code expected at the first.</param>
/// <param name="HighCode">Code expected at the second.</param>
/// <param name="LeftVolts">What calibration cannot take out: the largest departure of the circuit from a straight line, V at the sensor.</param>
public sealed record CalibrationPlan(double LowVolts, double HighVolts, double LowCode, double HighCode, double LeftVolts);
