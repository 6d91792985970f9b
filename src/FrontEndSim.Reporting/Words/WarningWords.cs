using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Reporting.Words;

/// <summary>Warnings of a check, a sentence each.</summary>
public static class WarningWords
{
    /// <summary>The sentence.</summary>
    public static string Of(Warning warning) => warning switch
    {
        RailDriven w => $"Rail {w.Rail} is driven from {Amounts.Volts(w.RestVolts)} to {Amounts.Volts(w.Volts)} {OccasionWords.Of(w.Where)}"
            + $"{(w.OtherEvents > 0 ? $" (and too far in {w.OtherEvents} more)" : "")}: everything on it must be rated for that, or the "
                + $"rail needs a load or a clamp of its own.",
        RailBackFed w => $"Rail {w.Rail}, off in \"{w.Event}\", is fed backwards and floats at {Amounts.Volts(w.Volts)} where nothing but "
            + "its declared load holds it: what it feeds may half run, and may not reset when the supply returns.",
        EventSwallowed { IsSensor: true } w =>
            $"Sensor {w.Holder} holds node {w.Node} without any resistance, which would swallow \"{w.Event}\": it is judged with the "
                + $"sensor "
            + "torn off as well; give it its source resistance.",
        EventSwallowed w =>
            $"Rail {w.Holder} holds node {w.Node} without any resistance, so \"{w.Event}\" cannot move it: "
            + $"give it its source resistance.",
        ArresterSilent w =>
            $"\"{w.Event}\" reaches nothing: the arrester that couples it fires at {Amounts.Volts(w.FiresAtVolts)}, and the wave reaches "
            + $"{Amounts.Volts(w.PeakVolts)}.",
        _ => throw new ArgumentException($"No words for {warning.GetType().Name}.", nameof(warning)),
    };
}
