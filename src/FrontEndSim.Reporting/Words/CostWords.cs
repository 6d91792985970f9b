using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.Reporting.Words;

/// <summary>What protection costs, in a sentence.</summary>
public static class CostWords
{
    /// <summary>"the upper clamp of guard (Dh)", "pin adc".</summary>
    public static string Of(ProtectionCost cost) => cost.Role is { } role ? PartWords.Of(role) : $"pin {cost.Part}";

    /// <summary>The part that costs most; empty where nothing protects the pin.</summary>
    public static string Of(ProtectionCosts costs) => costs.Parts.IsEmpty ? ""
        : costs.Dearest is not { } worst ? $"The protection costs less than {Figures.Plain(ProtectionCosts.Least, costs.Unit)}."
        : $"{Figures.Sentence(Of(worst))} costs most of the protection: {Figures.Signed(worst.Largest)} {costs.Unit} at "
            + Figures.Of(Math.Abs(worst.LowCounts) > Math.Abs(worst.HighCounts) ? costs.Span.Low : costs.Span.High, costs.SensorUnit)
            + ".";
}
