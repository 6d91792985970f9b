using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.Reporting.Words;

/// <summary>What a single fault does, in a sentence.</summary>
public static class FaultWords
{
    /// <summary>What a pin that floats means.</summary>
    public const string Floating = "Nothing holds a pin that floats: what leaks, by way of 1 GΩ of insulation or the pin's own leakage, "
        + "takes it anywhere between its supplies, and what it reads is undefined.";

    /// <summary>The exposure that decides, or why there is none.</summary>
    public static string Of(FaultRow row) => row.Problem is { } problem
        ? $"No solution was found, so nothing shows that pin {row.Pin} survives. {ScopeWords.Of(problem)}"
        : $"{Figures.Sentence(OccasionWords.Of(row.Where!))}: {PinWords.Of(row.Deciding!)}";
}
