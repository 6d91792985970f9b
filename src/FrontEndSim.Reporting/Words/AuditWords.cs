using FrontEndSim.Engine.Results;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>How well solutions satisfy their equations, in words.</summary>
internal static class AuditWords
{
    /// <summary>The line of a solution without time.</summary>
    public static Line Rest(Audit audit) => Of(audit.KirchhoffShare, null, null);

    /// <summary>The line of a transient.</summary>
    public static Line Transient(Audit audit) => Of(audit.KirchhoffShare, audit.EnergyImbalance, audit.StepsTaken);

    /// <summary>The line of several solutions together.</summary>
    /// <param name="kirchhoffShare">Largest residual current over the largest current.</param>
    /// <param name="energyImbalance">Largest relative energy imbalance; null without transients.</param>
    /// <param name="steps">Time steps; null to leave them out.</param>
    public static Line Of(double kirchhoffShare, double? energyImbalance, int? steps) => new("Audit",
        $"residual current (KCL) within {Figures.Percent(kirchhoffShare, 2)} of the largest"
        + (energyImbalance is { } energy ? $"; energy balances within {Figures.Percent(energy, 2)}" : "")
        + (steps is { } n ? $"; {n} time steps" : "") + ".");
}
