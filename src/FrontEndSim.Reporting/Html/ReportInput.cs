using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.Reporting.Html;

/// <summary>All that a report shows: what was computed, and what it was computed from.</summary>
/// <param name="FrontEnd">The front end.</param>
/// <param name="Check">Its requirements, mappings and events.</param>
/// <param name="Bias">The front end at rest, sensors at mid-span.</param>
/// <param name="Files">The circuit file and those that it includes, itself first.</param>
/// <param name="Version">Version of the program.</param>
/// <param name="Settings">Settings of the solver.</param>
public sealed record ReportInput(FrontEnd FrontEnd, CheckResult Check, BiasResult Bias, ImmutableArray<ReportFile> Files,
    string Version, SolverSettings Settings)
{
    /// <summary>What reaches the pins when one thing at a time is broken; null to leave it out.</summary>
    public FaultsResult? Faults { get; init; }

    /// <summary>Hand math beside simulation; null to leave it out.</summary>
    public ExplainResult? Explained { get; init; }

    /// <summary>How far readings may be off, for each sensor that is mapped onto a pin.</summary>
    public ImmutableArray<BudgetResult> Budgets { get; init; } = [];

    /// <summary>How fast each pin follows its sensor.</summary>
    public ImmutableArray<RespondResult> Responses { get; init; } = [];

    /// <summary>Studies that could not be made, a sentence each with the reason.</summary>
    public ImmutableArray<string> LeftOut { get; init; } = [];

    /// <summary>What a person needs at the bench; null to leave it out.</summary>
    public BuildResult? Build { get; init; }
}

/// <summary>A file that a report was computed from.</summary>
/// <param name="Name">Its name, without its directory.</param>
/// <param name="Text">Its text.</param>
public sealed record ReportFile(string Name, string Text);
