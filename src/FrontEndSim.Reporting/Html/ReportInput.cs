using FrontEndSim.Engine;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Reporting.Html;

/// <summary>All that a report shows: what was computed, and what it was computed from.</summary>
/// <param name="FrontEnd">The front end.</param>
/// <param name="Check">Its requirements, mappings and events.</param>
/// <param name="Bias">The front end at rest, sensors at mid-span.</param>
/// <param name="FileName">Name of the circuit file, without its directory.</param>
/// <param name="FileText">Its text.</param>
/// <param name="Version">Version of the program.</param>
/// <param name="Settings">Settings of the solver.</param>
public sealed record ReportInput(FrontEnd FrontEnd, CheckResult Check, BiasResult Bias, string FileName, string FileText, string Version,
    SolverSettings Settings);
