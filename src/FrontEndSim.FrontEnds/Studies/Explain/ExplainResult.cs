using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>The hand calculation of a front end beside its simulation.</summary>
/// <param name="Stages">The stages, in the order written.</param>
/// <param name="Mappings">Input against output at round values of the sensor, for each pin that one is mapped onto.</param>
public sealed record ExplainResult(ImmutableArray<StageExplanation> Stages, ImmutableArray<MappingResult> Mappings)
{
    /// <summary>What the protection of each of these pins costs, in the order of the mappings.</summary>
    public ImmutableArray<ProtectionCosts> Costs { get; init; } = [];
}

/// <summary>A stage by hand and by simulation.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Steps">Its hand calculation, with what the simulation makes of the same quantity.</param>
/// <param name="Input">What the inputs of <paramref name="Lines"/> are voltages of: a sensor's or a node's name; empty without
/// lines.</param>
/// <param name="Lines">Input against output at round values of the sensor; empty for a stage without closed form or sensor.</param>
/// <param name="Causes">What makes the simulated output differ from the ideal, the largest first.</param>
public sealed record StageExplanation(Stage Stage, ImmutableArray<ExplainedStep> Steps, string Input, ImmutableArray<StageLine> Lines,
    ImmutableArray<DifferenceCause> Causes)
{
    /// <summary>Whether <see cref="Input"/> is a sensor; else it is a node.</summary>
    public bool IsFromSensor { get; init; }

    /// <summary>The line where the simulated output is furthest from the ideal; null without lines.</summary>
    public StageLine? Furthest { get; init; }

    /// <summary>Why the corner frequency is not the one by hand; null where it is, or where there is none.</summary>
    public CornerDifference? Corner { get; init; }
}

/// <summary>A line of hand calculation.</summary>
/// <param name="Step">The line.</param>
/// <param name="Simulated">The same quantity by simulation, in the same unit; null for a choice, which nothing simulates.</param>
/// <param name="Causes">What makes the two differ, the largest first; empty where they agree or where no one thing does. In the step's
/// unit.</param>
public sealed record ExplainedStep(HandStep Step, double? Simulated, ImmutableArray<StepCause> Causes)
{
    /// <summary>Simulated less by hand; null where nothing is simulated.</summary>
    public double? Difference => Simulated - Step.Result;
}

/// <summary>Input and output of a stage.</summary>
/// <param name="InputVolts">Input, V.</param>
/// <param name="IdealVolts">Output with ideal parts, by hand, V.</param>
/// <param name="ExpectedVolts">Output with the op amp's finite gain, offset and bias current, by hand, V; null where there is no closed
/// form.</param>
/// <param name="SimulatedVolts">Output by simulation, V.</param>
public sealed record StageLine(double InputVolts, double IdealVolts, double? ExpectedVolts, double SimulatedVolts)
{
    /// <summary>Simulated less the ideal, V.</summary>
    public double DifferenceVolts => SimulatedVolts - IdealVolts;
}

/// <summary>Something real, and what it does to a stage's output.</summary>
/// <param name="Thing">What it is.</param>
/// <param name="Volts">The output with it less the output without it, V, where the stage is furthest from the ideal.</param>
public sealed record DifferenceCause(RealThing Thing, double Volts);

/// <summary>Something real, and what it does to a line of hand calculation.</summary>
/// <param name="Thing">What it is.</param>
/// <param name="Effect">The simulated value with it less that without it, in the unit of the line.</param>
public sealed record StepCause(RealThing Thing, double Effect);

/// <summary>A corner frequency that is not the one by hand.</summary>
/// <param name="Hertz">Simulated less by hand, Hz.</param>
/// <param name="Causes">What moves it, the largest first, Hz.</param>
public sealed record CornerDifference(double Hertz, ImmutableArray<StepCause> Causes);

/// <summary>Something that hand calculation leaves out.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Subject">The part, stages or pin that it belongs to.</param>
public sealed record RealThing(RealThingKind Kind, string Subject);

/// <summary>What hand calculation leaves out.</summary>
public enum RealThingKind
{
    /// <summary>Finite gain and input resistance of an op amp.</summary>
    GainAndInputResistance,

    /// <summary>Bias current of an op amp.</summary>
    BiasCurrent,

    /// <summary>Offset voltage of an op amp.</summary>
    OffsetVoltage,

    /// <summary>Swing limits of an op amp.</summary>
    SwingLimit,

    /// <summary>Finite bandwidth of an op amp.</summary>
    Bandwidth,

    /// <summary>A rail that only delivers, which what is pushed into it lifts.</summary>
    DeliveringRail,

    /// <summary>Leakage of a diode; where a frequency is concerned, its capacitance too.</summary>
    Leakage,

    /// <summary>Load of what follows.</summary>
    Load,

    /// <summary>Leakage and clamps of a pin.</summary>
    PinLeakage,

    /// <summary>The resistance ahead of the stage's input node, which the hand calculation takes to be held.</summary>
    ResistanceAhead,
}
