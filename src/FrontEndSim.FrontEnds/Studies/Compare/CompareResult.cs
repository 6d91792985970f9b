using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>A reading that was taken at the bench.</summary>
/// <param name="SensorValue">What the sensor was set to, in its own unit.</param>
/// <param name="Node">Where it was taken; the node of the first pin for what firmware computes.</param>
/// <param name="Value">Voltage against ground, V; the converter's code; or what firmware computes, in the sensor's unit.</param>
/// <param name="Pin">Name of the pin for a code; null for a voltage.</param>
/// <param name="Line">Line of the file that it is from, from 1.</param>
public sealed record Reading(double SensorValue, string Node, double Value, string? Pin, int Line)
{
    /// <summary>Name of the reading that firmware computes from several pins, whose value this is, in the sensor's unit; null for a voltage
    /// or a code.</summary>
    public string? Computed { get; init; }

    /// <summary>Name of the sensor that was set; null for the one that most were taken with.</summary>
    public string? Sensor { get; init; }

    /// <summary>Temperature of the circuit when it was taken, °C, and of what measures it; null for that of the front end.</summary>
    public double? Celsius { get; init; }

    /// <summary>Whether a meter read it.</summary>
    internal bool IsVoltage => Pin is null && Computed is null;
}

/// <summary>Readings beside what was predicted, and what explains the difference.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Sensor">Name of the sensor, the first of several that were set.</param>
/// <param name="Readings">Each reading with its prediction, in the order given.</param>
/// <param name="Meter">The meter that they were taken with.</param>
/// <param name="Mismatch">
/// Root mean square of the differences to the prediction with nominal parts, each over the meter's error at that reading (over
/// one count for a code, one of each pin together for what firmware computes): 1 or less means that there is nothing to explain.
/// </param>
/// <param name="Explanations">Single changes that were fitted, the one that leaves least first; only those that leave less than there
/// was.</param>
public sealed record CompareResult(string Title, string Sensor, ImmutableArray<ComparedReading> Readings, BenchMeter Meter, double Mismatch,
    ImmutableArray<Explanation> Explanations)
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>The temperature that a cold junction is taken to be at, °C, where readings do not say; null where each says, or where no
    /// sensor has one.</summary>
    public double? AssumedCelsius { get; init; }

    /// <summary>Name of the sensor that measures that cold junction; null where none does.</summary>
    public string? JunctionSensor { get; init; }

    // Explanations whose mismatch is this near to the best one's, or below the meter's error, cannot be told apart.
    private const double IndistinctFactor = 1.25;

    /// <summary>Whether every reading is inside its limits.</summary>
    public bool IsInside => Readings.All(r => r.IsInside);

    /// <summary>
    /// The explanations that fit the readings and that they cannot tell apart, the likeliest first: a change within tolerance before
    /// others, then a cold junction that is not where it is measured, which takes no bad part; the meter last but for what no class of part
    /// comes near to; empty where there is nothing to explain, or nothing explains it.
    /// </summary>
    public ImmutableArray<Explanation> Likely
    {
        get
        {
            if (Mismatch <= 1 || Explanations.IsEmpty)
                return [];
            double bar = Math.Max(1, Explanations[0].Left * IndistinctFactor);
            return [.. Explanations.Where(e => e.Left <= bar).OrderByDescending(e => e.IsWithinTolerance)
                .ThenBy(e => e.IsFarFromClass).ThenByDescending(e => e.IsOfPlace).ThenBy(e => e.Kind == ExplanationKind.Meter)
                .ThenBy(e => e.Left).Take(4)];
        }
    }
}

/// <summary>A reading and its prediction; volts, counts for a code, or the sensor's unit for what firmware computes.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Expected">With nominal parts and the meter's load.</param>
/// <param name="Low">Lowest for a board as designed, tolerances and the meter's error in their worst case; included.</param>
/// <param name="High">Highest; included.</param>
public sealed record ComparedReading(Reading Reading, double Expected, double Low, double High)
{
    /// <summary>Symbol of the unit of the sensor that was set.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>Reading less expectation.</summary>
    public double Difference => Reading.Value - Expected;

    /// <summary>Whether it is inside its limits.</summary>
    public bool IsInside => Reading.Value >= Low && Reading.Value <= High;
}

/// <summary>A single change of the circuit, or a single fault, that was fitted to the readings.</summary>
/// <param name="Subject">Name of what is changed: a part, a rail, a sensor, a pin; "meter" for the meter.</param>
/// <param name="Kind">What of it is changed.</param>
/// <param name="Left">The mismatch that it leaves, as <see cref="CompareResult.Mismatch"/>.</param>
/// <param name="IsWithinTolerance">Whether the change is one that the part's tolerance or class allows.</param>
public sealed record Explanation(string Subject, ExplanationKind Kind, double Left, bool IsWithinTolerance)
{
    /// <summary>The fitted value; of a meter the factor that it reads by. Null for a fault, which has no degrees.</summary>
    public Quantity? Fitted { get; init; }

    /// <summary>The value as planned; null where none is.</summary>
    public Quantity? Planned { get; init; }

    /// <summary>What the part's class allows either way; null where that is its tolerance or nothing.</summary>
    public Quantity? Allowed { get; init; }

    // So many times what a class allows is another part (a judgement, no source).
    private const double FarFromClass = 100;

    /// <summary>Whether it is so far beyond what the part's class allows that no part of the class comes near to it.</summary>
    public bool IsFarFromClass => Fitted is { } fitted && Allowed is { } allowed
        && Math.Abs(fitted.Value) > FarFromClass * Math.Abs(allowed.Value);

    /// <summary>Whether it is about where something stands, and no part is other than planned.</summary>
    internal bool IsOfPlace => Kind is ExplanationKind.ColdJunction or ExplanationKind.JunctionSensor;

    /// <summary>What the part does; null for a rail, a sensor or the meter.</summary>
    public PartRole? Role { get; init; }

    /// <summary>Whether the rail is a reference.</summary>
    public bool IsReference { get; init; }

    /// <summary>The part's value on the parts list; empty for none.</summary>
    public string ValueText { get; init; } = "";

    /// <summary>The fault; null for a change.</summary>
    public SingleFault? Fault { get; init; }
}

/// <summary>What may be other than planned.</summary>
public enum ExplanationKind
{
    /// <summary>The value of a resistor.</summary>
    Resistance,

    /// <summary>The value of a capacitor.</summary>
    Capacitance,

    /// <summary>The source resistance of a sensor.</summary>
    SourceResistance,

    /// <summary>The offset voltage of an op amp.</summary>
    OffsetVoltage,

    /// <summary>The bias current of an op amp.</summary>
    BiasCurrent,

    /// <summary>The leakage of a diode, as the resistance across it.</summary>
    Leakage,

    /// <summary>The leakage of a pin.</summary>
    PinLeakage,

    /// <summary>The voltage of a rail.</summary>
    RailVoltage,

    /// <summary>The temperature of a thermocouple's cold junction, by how much it is warmer than the circuit.</summary>
    ColdJunction,

    /// <summary>The temperature of a sensor that measures a cold junction, by how much it is warmer than that.</summary>
    JunctionSensor,

    /// <summary>The meter, by one factor.</summary>
    Meter,

    /// <summary>A single fault.</summary>
    Fault,
}
