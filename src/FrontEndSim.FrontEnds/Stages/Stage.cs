using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A stage that is built: its parts with their values, the hand calculation that led to them, and what is expected of it.
/// Immutable.</summary>
/// <param name="Name">Name of the stage.</param>
/// <param name="Kind">Name of its kind, or of the user's template.</param>
/// <param name="Ports">Its nodes by role, input first: ("from", "IN"), ("to", "LEVEL").</param>
/// <param name="Parts">Its parts, named "NAME.R1"; inner nodes are named likewise.</param>
public sealed record Stage(string Name, string Kind, ImmutableArray<StagePort> Ports, ImmutableArray<Part> Parts)
{
    /// <summary>The hand calculation, in the order in which a person would write it.</summary>
    public ImmutableArray<HandStep> HandMath { get; init; } = [];

    /// <summary>What ideal parts make of the input; null where there is no closed form.</summary>
    public LinearExpectation? Ideal { get; init; }

    /// <summary>Where the closed form takes a node that the stage subtracts to stand, V.</summary>
    public double AgainstVolts { get; init; }

    /// <summary>What parts with finite gain, offset and bias current make of it, inside their limits; null where there is no closed
    /// form.</summary>
    public LinearExpectation? Expected { get; init; }

    /// <summary>The mapping that the user asked this stage for, if it makes one.</summary>
    public WantedMapping? Mapping { get; init; }

    /// <summary>What it says of a sensor's dissipation constant, W/K, and whose; null where it says nothing.</summary>
    public (string Sensor, double WattsPerKelvin)? Heats { get; init; }

    /// <summary>What was asked of it; null for one made of a user's template.</summary>
    public StageRequest? Request { get; init; }

    /// <summary>Node of the port of that role.</summary>
    /// <exception cref="ArgumentException">The stage has no such port.</exception>
    public string Port(string role) => Ports.FirstOrDefault(p => p.Role == role)?.Node
        ?? throw new ArgumentException($"Stage {Name} has no port {role}.", nameof(role));
}

/// <summary>A node of a stage and its role.</summary>
/// <param name="Role">The role: "from", "to".</param>
/// <param name="Node">The node.</param>
public sealed record StagePort(string Role, string Node);

/// <summary>A line of a hand calculation: formula, substitution, result.</summary>
/// <param name="What">What is computed: "overall gain".</param>
/// <param name="Formula">"G = (Rf1 / (R1 + Rs)) · (Rf2 / R2)".</param>
/// <param name="Substitution">The same with numbers.</param>
/// <param name="Result">The result, SI.</param>
/// <param name="Unit">Symbol of its unit; empty for a plain number.</param>
public sealed record HandStep(string What, string Formula, string Substitution, double Result, string Unit)
{
    /// <summary>What it stands for in the circuit; null for a target or a choice, and for the gain, shift and ends of the whole
    /// stage.</summary>
    public StepMeasure? Measure { get; init; }

    /// <summary>Whether it says what is asked for, which no circuit shows.</summary>
    public bool IsTarget { get; init; }

    /// <summary>
    /// How far the circuit may be from the result, in its unit: what the stage was asked for is not met beyond it. Null for a line that
    /// only explains.
    /// </summary>
    public double? Allowed { get; init; }
}

/// <summary>
/// A straight line from input to output. The input is the voltage of what drives the stage, ahead of the source resistance
/// that the stage was designed for (none unless a sensor was named). The output is without load.
/// </summary>
/// <param name="Gain">Slope, V/V.</param>
/// <param name="OffsetVolts">Output at an input of 0 V, V.</param>
public sealed record LinearExpectation(double Gain, double OffsetVolts)
{
    /// <summary>The output, V, for an input, V.</summary>
    public double Output(double input) => Gain * input + OffsetVolts;
}

/// <summary>The target that a sensor's span land on a span of voltage.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Input">Its span: of its voltage where a stage asks for it, in its own unit where a pin does.</param>
/// <param name="Output">The span wanted, V: its lower end belongs to the lower end of <paramref name="Input"/>, unless it is
/// inverted.</param>
public sealed record WantedMapping(string Sensor, Span Input, Span Output)
{
    /// <summary>Whether the upper end of the sensor's span belongs to the lower end of the output.</summary>
    public bool IsInverted { get; init; }

    /// <summary>
    /// Whether nothing is asked for: the output is then what nominal parts give at the temperature at which constants for firmware are
    /// made,
    /// and <see cref="Output"/> the range of that.
    /// </summary>
    public bool IsOfNominalParts => Curve is not null;

    /// <summary>How the sensor turns what it measures into what <see cref="Input"/> is in; null where that is the sensor's own
    /// unit.</summary>
    internal SensorLaw? Law { get; init; }

    /// <summary>Temperature of the circuit, °C, which some laws hang on.</summary>
    internal double Celsius { get; init; } = 25;

    /// <summary>The output of nominal parts by what <see cref="Law"/> gives; null for a straight line.</summary>
    internal NominalCurve? Curve { get; init; }

    /// <summary>The output wanted, V, for what the sensor measures, in its own unit.</summary>
    public double Ideal(double sensorValue)
    {
        double given = Law?.At(sensorValue, Celsius) ?? sensorValue;
        if (Curve is { } curve)
            return curve.Volts(given);
        double share = (given - Input.Low) / Input.Width;
        return Output.Low + Output.Width * (IsInverted ? 1 - share : share);
    }
}
