using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>A reading that was taken at the bench.</summary>
/// <param name="SensorVolts">What the sensor, or what stands in for it, was set to, V.</param>
/// <param name="Node">Where it was taken.</param>
/// <param name="Value">Voltage against ground, V; or the converter's code.</param>
/// <param name="Pin">Name of the pin for a code; null for a voltage.</param>
/// <param name="Line">Line of the file that it is from, from 1.</param>
public sealed record Reading(double SensorVolts, string Node, double Value, string? Pin, int Line);

/// <summary>Readings beside what was predicted, and what explains the difference.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Readings">Each reading with its prediction, in the order given.</param>
/// <param name="Meter">The meter that they were taken with.</param>
/// <param name="Mismatch">
/// Root mean square of the differences to the prediction with nominal parts, each over the meter's error at that reading (over
/// one count for a code): 1 or less means that there is nothing to explain.
/// </param>
/// <param name="Explanations">Single changes that were fitted, the one that leaves least first; only those that leave less than there was.</param>
/// <param name="Verdict">What to make of it, in sentences.</param>
public sealed record CompareResult(string Title, string Sensor, ImmutableArray<ComparedReading> Readings, BenchMeter Meter, double Mismatch,
    ImmutableArray<Explanation> Explanations, string Verdict)
{
    /// <summary>Whether every reading is inside its limits.</summary>
    public bool IsInside => Readings.All(r => r.IsInside);
}

/// <summary>A reading and its prediction; volts, or counts for a code.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Expected">With nominal parts and the meter's load.</param>
/// <param name="Low">Lowest for a board as designed, tolerances and the meter's error at their worst; included.</param>
/// <param name="High">Highest; included.</param>
public sealed record ComparedReading(Reading Reading, double Expected, double Low, double High)
{
    /// <summary>Reading less expectation.</summary>
    public double Difference => Reading.Value - Expected;

    /// <summary>Whether it is inside its limits.</summary>
    public bool IsInside => Reading.Value >= Low && Reading.Value <= High;
}

/// <summary>A single change of the circuit, or a single fault, that was fitted to the readings.</summary>
/// <param name="Part">Name of what is changed: a part, a rail, a sensor, or the meter.</param>
/// <param name="Words">"the feedback resistor of shift's first stage (Rf1) 4 % low: 39.6 kohm instead of 41.2 kohm".</param>
/// <param name="Fitted">The fitted value: ohm, V, A, or a factor; null for a fault, which has no degrees.</param>
/// <param name="Left">The mismatch that it leaves, as <see cref="CompareResult.Mismatch"/>.</param>
/// <param name="IsWithinTolerance">Whether the change is one that the part's tolerance or class allows.</param>
public sealed record Explanation(string Part, string Words, double? Fitted, double Left, bool IsWithinTolerance);
