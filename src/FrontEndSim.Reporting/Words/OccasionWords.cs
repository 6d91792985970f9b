using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Reporting.Words;

/// <summary>A circumstance in words.</summary>
public static class OccasionWords
{
    /// <summary>"in "24 V on the terminal"", "at the upper end of the span".</summary>
    public static string Of(Occasion where) => where.Event is { } name ? $"in \"{name}\"" : where.Sensors switch
    {
        SpanPlace.Low => "at the lower end of the span",
        SpanPlace.High => "at the upper end of the span",
        _ => "at mid-span",
    };
}
