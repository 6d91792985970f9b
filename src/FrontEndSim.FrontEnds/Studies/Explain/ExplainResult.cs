using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>The hand math of a front end beside its simulation.</summary>
/// <param name="Stages">The stages, in the order written.</param>
/// <param name="Mappings">Input against output at round values of the sensor, for each pin that one is mapped onto.</param>
public sealed record ExplainResult(ImmutableArray<StageExplanation> Stages, ImmutableArray<MappingResult> Mappings)
{
    /// <summary>What the protection of each of these pins costs, in the order of the mappings.</summary>
    public ImmutableArray<ProtectionCosts> Costs { get; init; } = [];
}

/// <summary>A stage by hand and by simulation.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Steps">Its hand math, with what the simulation makes of the same quantity.</param>
/// <param name="Input">What the inputs of <paramref name="Lines"/> are: "sensor probe" or "node LEVEL".</param>
/// <param name="Lines">Input against output at round values of the sensor; empty for a stage without closed form or sensor.</param>
/// <param name="Causes">What makes the simulated output differ from the ideal, the largest first.</param>
/// <param name="Reason">The same in a sentence; empty where there is nothing to compare.</param>
public sealed record StageExplanation(Stage Stage, ImmutableArray<ExplainedStep> Steps, string Input, ImmutableArray<StageLine> Lines,
    ImmutableArray<DifferenceCause> Causes, string Reason);

/// <summary>A line of hand math.</summary>
/// <param name="Step">The line.</param>
/// <param name="Simulated">The same quantity by simulation, in the same unit; null for a choice, which nothing simulates.</param>
/// <param name="Why">What makes the two differ, in words; empty where they agree or where no one thing does.</param>
public sealed record ExplainedStep(HandStep Step, double? Simulated, string Why)
{
    /// <summary>Simulated less by hand; null where nothing is simulated.</summary>
    public double? Difference => Simulated - Step.Result;
}

/// <summary>Input and output of a stage.</summary>
/// <param name="InputVolts">Input, V.</param>
/// <param name="IdealVolts">Output with ideal parts, by hand, V.</param>
/// <param name="ExpectedVolts">Output with the op amp's finite gain, offset and bias current, by hand, V; null where there is no closed form.</param>
/// <param name="SimulatedVolts">Output by simulation, V.</param>
public sealed record StageLine(double InputVolts, double IdealVolts, double? ExpectedVolts, double SimulatedVolts)
{
    /// <summary>Simulated less ideal, V.</summary>
    public double DifferenceVolts => SimulatedVolts - IdealVolts;
}

/// <summary>Something real, and what it does to a stage's output.</summary>
/// <param name="Name">"bias current of shift.U1".</param>
/// <param name="Volts">The output with it less the output without it, V, where the stage is furthest from the ideal.</param>
public sealed record DifferenceCause(string Name, double Volts);
