using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.FrontEnds.Studies.Report;

/// <summary>All that is known of a front end.</summary>
/// <param name="Check">Its requirements, mappings and events.</param>
/// <param name="Bias">Its operating point, sensors at mid-span.</param>
public sealed record ReportResult(CheckResult Check, BiasResult Bias)
{
    /// <summary>What reaches the pins when one thing at a time is broken; null where no pin has a rating.</summary>
    public FaultsResult? Faults { get; init; }

    /// <summary>Hand calculation beside simulation; null without stages.</summary>
    public ExplainResult? Explained { get; init; }

    /// <summary>How far readings may be off, for each sensor that is mapped onto a pin.</summary>
    public ImmutableArray<BudgetResult> Budgets { get; init; } = [];

    /// <summary>How fast each pin follows its sensor.</summary>
    public ImmutableArray<RespondResult> Responses { get; init; } = [];

    /// <summary>What a person needs at the bench.</summary>
    public required BuildResult Build { get; init; }

    /// <summary>Studies that could not be made.</summary>
    public ImmutableArray<LeftOut> LeftOut { get; init; } = [];
}

/// <summary>A study that could not be made.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Pin">Of which pin; null for none.</param>
/// <param name="Sensor">Of which sensor; null for none.</param>
/// <param name="Problem">What stands in the way, as the study says it.</param>
public sealed record LeftOut(LeftOutKind Kind, string? Pin, string? Sensor, Problem Problem);

/// <summary>Studies that may be impossible for a front end.</summary>
public enum LeftOutKind
{
    /// <summary>Hand calculation beside simulation.</summary>
    HandCalculation,

    /// <summary>An error budget.</summary>
    Budget,

    /// <summary>A response.</summary>
    Response,
}
