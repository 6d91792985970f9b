namespace FrontEndSim.FrontEnds.Stages;

/// <summary>
/// What a line of hand calculation stands for in the circuit, so that a simulation can be put beside it. Lines for the gain, the shift and
/// the
/// ends of a whole stage need none.
/// </summary>
public abstract record StepMeasure;

/// <summary>A gain between two nodes: how far the second moves for each volt of the first, over the middle half of the sensor's span,
/// where no end of an op amp's swing and no clamp is near.</summary>
/// <param name="From">The first node; null for the input of the stage as its closed form has it.</param>
/// <param name="To">The second node.</param>
/// <param name="Less">What is taken from the ratio: 1 for the gain of a minus side, which is the noise gain less one.</param>
public sealed record GainMeasure(string? From, string To, double Less = 0) : StepMeasure
{
    /// <summary>Whether it is taken from the sensor's own voltage in place of a node.</summary>
    public bool IsFromSensor { get; init; }
}

/// <summary>A gain for a rail: how far a node moves for each volt of the rail, sensor at mid-span.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="To">The node.</param>
/// <param name="Share">Volts of the reference for each volt of the rail that it is made from.</param>
public sealed record RailGainMeasure(string Rail, string To, double Share = 1) : StepMeasure;

/// <summary>The voltage of a node, V.</summary>
/// <param name="Node">The node.</param>
/// <param name="Lifted">Name of a part that is lifted meanwhile, as a person does to see a divider without its load; null for none.</param>
/// <param name="SensorValue">The sensor's voltage, V; null for the middle of its span.</param>
/// <param name="IsUnloaded">Whether all resistors at the node are lifted meanwhile.</param>
public sealed record VoltageMeasure(string Node, string? Lifted = null, double? SensorValue = null, bool IsUnloaded = false) : StepMeasure;

/// <summary>The resistance from a node to ground, with all that is connected to it, sources replaced by their source resistance,
/// ohm.</summary>
/// <param name="Node">The node.</param>
/// <param name="Lifted">Name of a part or sensor that is lifted meanwhile; null for none.</param>
/// <param name="IsUnloaded">Whether all resistors at the node are lifted meanwhile.</param>
public sealed record ResistanceMeasure(string Node, string? Lifted = null, bool IsUnloaded = false) : StepMeasure;

/// <summary>The power of a resistor, W.</summary>
/// <param name="Resistor">Its name.</param>
/// <param name="SensorValue">The sensor's voltage, V.</param>
public sealed record PowerMeasure(string Resistor, double SensorValue) : StepMeasure;

/// <summary>The voltage of a node, V, while a current is pushed into it.</summary>
/// <param name="Node">The node.</param>
/// <param name="Amps">The current, A; negative for one drawn out of it.</param>
/// <param name="Lifted">Name of the part that is lifted meanwhile, which would take some of the current.</param>
public sealed record PushedMeasure(string Node, double Amps, string Lifted) : StepMeasure;

/// <summary>What a part makes of a stage's output, V, sensor at the lower end of its span: the output with it less the output without
/// it.</summary>
/// <param name="Part">Its name.</param>
public sealed record PartMeasure(string Part) : StepMeasure;

/// <summary>What the bias current of an op amp makes of a stage's output, V: the output with it less the output without it.</summary>
/// <param name="OpAmp">Name of the op amp.</param>
public sealed record BiasMeasure(string OpAmp) : StepMeasure;

/// <summary>The input voltage at which the output of a gate changes, V, its input held and moved slowly.</summary>
/// <param name="Gate">Name of the gate.</param>
/// <param name="Rising">Whether the input rises; null for the rising threshold less the falling one.</param>
public sealed record ThresholdMeasure(string Gate, bool? Rising) : StepMeasure;

/// <summary>The current through a part while a node is held at a voltage, A.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Node">The node.</param>
/// <param name="NodeVolts">Its voltage, V.</param>
public sealed record HeldCurrentMeasure(string Part, string Node, double NodeVolts) : StepMeasure;

/// <summary>The frequency, Hz, at which the gain from one node to another is down by √2 from the DC gain.</summary>
/// <param name="From">The first node; null for the sensor's own voltage.</param>
/// <param name="To">The second node.</param>
public sealed record CornerMeasure(string? From, string To) : StepMeasure;

/// <summary>The gain from one node to another at a frequency, over the DC gain.</summary>
/// <param name="From">The first node; null for the sensor's own voltage.</param>
/// <param name="To">The second node.</param>
/// <param name="Hertz">The frequency, Hz.</param>
public sealed record ResponseMeasure(string? From, string To, double Hertz) : StepMeasure;

/// <summary>The frequency, Hz, at which one node lags the other by 90° more than at the operating point: the pole frequency of a
/// low-pass of second
/// order.</summary>
/// <param name="From">The first node; null for the sensor's own voltage.</param>
/// <param name="To">The second node.</param>
public sealed record QuadratureMeasure(string? From, string To) : StepMeasure;

/// <summary>The voltage of an input, V, at which an output changes, moved slowly from one voltage to another.</summary>
/// <param name="Input">The input node.</param>
/// <param name="Output">The output node.</param>
/// <param name="From">Where the input starts, V.</param>
/// <param name="To">Where it ends, V.</param>
public sealed record SwitchingMeasure(string Input, string Output, double From, double To) : StepMeasure;

/// <summary>The phase margin of the loop of an op amp, degrees.</summary>
/// <param name="OpAmp">Its name.</param>
public sealed record PhaseMarginMeasure(string OpAmp) : StepMeasure;

/// <summary>The voltage of a node, V, while the input of a stage stands at a voltage.</summary>
/// <param name="Node">The node.</param>
/// <param name="Held">The node that is held; where the sensor drives it, the sensor is set.</param>
/// <param name="HeldVolts">Its voltage, V.</param>
public sealed record HeldVoltageMeasure(string Node, string Held, double HeldVolts) : StepMeasure;
