using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What a person needs at the bench: parts, order of assembly, points to measure, firmware constants, calibration.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Parts">The parts list, equal parts in one line.</param>
/// <param name="Steps">The order of assembly.</param>
/// <param name="Points">What to set, where to measure, what to expect.</param>
/// <param name="Meter">The meter that the points are for.</param>
/// <param name="Firmware">Constants for each converting pin that a sensor reaches.</param>
/// <param name="Cautions">Cautions of the events, each once.</param>
public sealed record BuildResult(string Title, ImmutableArray<PartsLine> Parts,
    ImmutableArray<AssemblyStep> Steps, ImmutableArray<BenchPoint> Points,
    BenchMeter Meter, ImmutableArray<FirmwareConstants> Firmware, ImmutableArray<string> Cautions)
{
    /// <summary>What is computed from several pins together.</summary>
    public ImmutableArray<FirmwareCombined> Combined { get; init; } = [];

    /// <summary>What is computed from codes over periods of sensors that alternate.</summary>
    public ImmutableArray<FirmwareAlternating> Alternating { get; init; } = [];

    /// <summary>What is made of pulses that are counted.</summary>
    public ImmutableArray<FirmwareCounted> Counted { get; init; } = [];

    /// <summary>The highest voltage of a rail, V, as a magnitude.</summary>
    public double HighestRailVolts { get; init; }
}

/// <summary>Equal parts on a parts list.</summary>
/// <param name="Names">The parts' names.</param>
/// <param name="Word">"resistor".</param>
/// <param name="Value">"4.7 kΩ 1 %".</param>
/// <param name="Needed">What to buy: the rating and its size; null where nothing is to choose.</param>
/// <param name="Worst">The worst that one of them bears of the rating that it is bought by, or of each; empty where it bears
/// nothing.</param>
/// <param name="IsBeyond">Whether that is beyond the rating that the part has in the circuit file.</param>
public sealed record PartsLine(ImmutableArray<string> Names, string Word, string Value, PartsNeed? Needed,
    ImmutableArray<PartsWorst> Worst, bool IsBeyond);

/// <summary>A rating that a part is bought by.</summary>
/// <param name="Kind">The rating.</param>
/// <param name="Size">Its size, in the unit of the rating.</param>
public sealed record PartsNeed(RatingKind Kind, double Size)
{
    /// <summary>Symbol of its unit.</summary>
    public string Unit => Kind.Unit;
}

/// <summary>What a part bears of a rating at its worst.</summary>
/// <param name="Kind">The rating.</param>
/// <param name="Found">What it bears, in the unit of the rating.</param>
/// <param name="Event">In which event; null at the operating point.</param>
/// <param name="Sensor">With which sensor set; null in an event, or without sensors.</param>
/// <param name="SensorValue">To which value, in its own unit; null likewise.</param>
public sealed record PartsWorst(RatingKind Kind, double Found, string? Event, string? Sensor, double? SensorValue)
{
    /// <summary>Symbol of the unit in which that sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>For how long, s; null where it lasts or where its peak counts.</summary>
    public double? PulseSeconds { get; init; }

    /// <summary>Whether that is beyond the rating.</summary>
    public bool IsBeyond { get; init; }

    /// <summary>Symbol of the rating's unit.</summary>
    public string Unit => Kind.Unit;
}

/// <summary>A step of the assembly.</summary>
/// <param name="Kind">What is done.</param>
/// <param name="Names">The rails, parts, sensors or pins that it is done with, in order.</param>
public sealed record AssemblyStep(AssemblyKind Kind, ImmutableArray<string> Names)
{
    /// <summary>Name of the stage; null where it is none.</summary>
    public string? Stage { get; init; }

    /// <summary>Kind of the stage.</summary>
    public string? StageKind { get; init; }

    /// <summary>How parts are turned, by their names, where one way is wrong: "band (cathode) to GND".</summary>
    public IReadOnlyDictionary<string, string> Mounting { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Amplifiers, which are fitted last.</summary>
    public ImmutableArray<string> Amplifiers { get; init; } = [];

    /// <summary>Their type; null without.</summary>
    public string? AmplifierType { get; init; }

    /// <summary>Their supplies; empty without.</summary>
    public ImmutableArray<string> Supplies { get; init; } = [];

    /// <summary>Whether the pin stays open after this step.</summary>
    public bool LeavesPinOpen { get; init; }

    /// <summary>Values and nodes of single parts; empty for other steps.</summary>
    public ImmutableArray<PlacedPart> Placed { get; init; } = [];

    /// <summary>Source resistances of sensors, ohm, as many as names; empty for other steps.</summary>
    public ImmutableArray<double> SourceOhms { get; init; } = [];
}

/// <summary>A part outside of any stage, and where it goes.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Value">Its value: "4.7 kohm 1 %".</param>
/// <param name="Nodes">The nodes of its terminals, in order.</param>
public sealed record PlacedPart(string Part, string Value, ImmutableArray<string> Nodes);

/// <summary>Steps of an assembly: supplies, then from the pin back to the sensor.</summary>
public enum AssemblyKind
{
    /// <summary>Supplies.</summary>
    Supplies,

    /// <summary>The parts of a stage.</summary>
    Stage,

    /// <summary>Parts outside of any stage.</summary>
    SingleParts,

    /// <summary>A bench supply in place of the sensors, and the bench points.</summary>
    Sensors,

    /// <summary>The pins.</summary>
    Pins,
}

/// <summary>A meter.</summary>
/// <param name="Accuracy">Largest relative error, a fraction.</param>
/// <param name="FloorVolts">Largest error at 0 V, V.</param>
/// <param name="InputOhms">Input resistance, ohm: it loads what it measures, and the expected readings count that in.</param>
public sealed record BenchMeter(double Accuracy = 0.005, double FloorVolts = 2e-3, double InputOhms = 10e6)
{
    /// <summary>How far a reading may be off, V.</summary>
    public double ErrorVolts(double volts) => Math.Abs(volts) * Accuracy + FloorVolts;

    /// <summary>The meter at a node, as an element of a circuit.</summary>
    internal Element At(string node) => new Resistor("meter", node, Circuit.Ground, InputOhms);
}

/// <summary>A measurement at the bench.</summary>
/// <param name="Sensor">The sensor that is set; null for supplies on and no sensor connected.</param>
/// <param name="SensorValue">What it measures, in its own unit; null where it does not matter.</param>
/// <param name="Node">Where to measure, against ground.</param>
/// <param name="Place">What the node is.</param>
/// <param name="Of">Name of the rail, sensor, part, stage or pin that it belongs to.</param>
/// <param name="ExpectedVolts">Expected reading with nominal parts and the meter's load, V.</param>
/// <param name="LowVolts">Lowest reading of a board that is as designed, with tolerances and the meter's error in their worst case,
/// V.</param>
/// <param name="HighVolts">Highest.</param>
/// <param name="Code">What the converter reads, for a pin; else null.</param>
public sealed record BenchPoint(string? Sensor, double? SensorValue, string Node, BenchPlace Place,
    string Of, double ExpectedVolts, double LowVolts, double HighVolts, double? Code)
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>What stands in for the sensor at the bench where that is not what it measures: its volts, ohm or amperes; null
    /// else.</summary>
    public double? StandIn { get; init; }

    /// <summary>Symbol of the unit of that.</summary>
    public string StandInUnit { get; init; } = "V";

    /// <summary>The channel that an external multiplexer has to select; null where none is ahead.</summary>
    public MultiplexerChannel? Channel { get; init; }
}

/// <summary>Places to measure at.</summary>
public enum BenchPlace
{
    /// <summary>A rail.</summary>
    Rail,

    /// <summary>The terminal of a sensor, loaded.</summary>
    Terminal,

    /// <summary>The output of an amplifier.</summary>
    AmplifierOutput,

    /// <summary>The output of a stage.</summary>
    StageOutput,

    /// <summary>A pin.</summary>
    Pin,
}

/// <summary>The way back from a code to what the sensor measures: a line for a straight sensor, a table for another.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Bits">Resolution of the converter.</param>
/// <param name="LowCode">Code at the lower end of the span.</param>
/// <param name="HighCode">Code at the upper end.</param>
/// <param name="Residual">Largest departure of the nominal circuit from the line or table over the span, in the sensor's unit.</param>
public sealed record FirmwareConstants(string Pin, string Sensor, int Bits, double LowCode, double HighCode, double Residual)
{
    /// <summary>What is measured, in a word.</summary>
    public string Quantity { get; init; } = "voltage";

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>The most that the reading moves for one count, in the sensor's unit.</summary>
    public double Step { get; init; }

    /// <summary>Where that is, in the sensor's unit.</summary>
    public double StepAt { get; init; }

    /// <summary>The line; null where a table is needed.</summary>
    public FirmwareLine? Line { get; init; }

    /// <summary>Symbol of the unit of the line: the sensor's, or volts where the temperature of a cold junction has to be added
    /// first.</summary>
    public string LineUnit { get; init; } = "V";

    /// <summary>Whether the temperature of the circuit is needed beside the code, as of a thermocouple's cold junction.</summary>
    public bool NeedsAmbient { get; init; }

    /// <summary>The voltages of a thermocouple's type; null for another sensor.</summary>
    public FirmwareCouple? Couple { get; init; }

    /// <summary>The table; null where a line does.</summary>
    public FirmwareTable? Table { get; init; }

    /// <summary>A polynomial in place of the table; null where a line does, or where the span covers too few codes for one.</summary>
    public FirmwarePolynomial? Polynomial { get; init; }

    /// <summary>The inverse of the sensor's own formula in place of the table; null where it has none that is closed, or where the circuit
    /// does not make a ratio of two straight lines of its codes.</summary>
    public FirmwareFormula? Formula { get; init; }

    /// <summary>The codes that are valid readings: others mean a fault once they stand.</summary>
    public ValidBand? Valid { get; init; }

    /// <summary>Whether the sensor has alarm levels, which have to stand for a while before they count.</summary>
    public bool HasAlarms { get; init; }

    /// <summary>How to replace the constants of a line by those of the board; null for a table.</summary>
    public CalibrationPlan? Calibration { get; init; }

    /// <summary>The constants as C, where somebody wrote them; else empty.</summary>
    public string C { get; init; } = "";
}

/// <summary>A straight line from codes.</summary>
/// <param name="Slope">What one count is worth, in the line's unit.</param>
/// <param name="Offset">What code 0 stands for, in the line's unit; the middle of the code's step.</param>
/// <param name="Whole">The same with whole numbers.</param>
public sealed record FirmwareLine(double Slope, double Offset, WholeNumberLine Whole);

/// <summary>A calibration from two readings.</summary>
/// <param name="Low">What to set first, in the sensor's unit.</param>
/// <param name="High">What to set second.</param>
/// <param name="LowCode">Code expected at the first.</param>
/// <param name="HighCode">Code expected at the second.</param>
/// <param name="Left">What calibration cannot take out: the largest departure of the circuit from a straight line, in the sensor's
/// unit.</param>
public sealed record CalibrationPlan(double Low, double High, double LowCode, double HighCode, double Left);
