using System.Text.Json.Nodes;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Reporting;

/// <summary>How well a solution satisfies its equations, for programs to read.</summary>
internal static class AuditDocument
{
    /// <summary>An object with "kirchhoffAmps", "kirchhoffNode", "largestAmps", "energyImbalance", "stepsTaken", "stepsRefused", "newtonIterations", "method".</summary>
    public static JsonObject Json(Audit audit) => new()
    {
        ["kirchhoffAmps"] = JsonNumber.Of(audit.KirchhoffAmps),
        ["kirchhoffNode"] = audit.KirchhoffNode,
        ["largestAmps"] = JsonNumber.Of(audit.LargestAmps),
        ["energyImbalance"] = JsonNumber.Of(audit.EnergyImbalance),
        ["stepsTaken"] = audit.StepsTaken,
        ["stepsRefused"] = audit.StepsRefused,
        ["newtonIterations"] = audit.NewtonIterations,
        ["method"] = audit.Method,
    };
}
