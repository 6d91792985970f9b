using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Levels;

namespace FrontEndSim.Reporting.Words;

/// <summary>How a gate takes a change of its sensor, in a sentence.</summary>
public static class LogicWords
{
    /// <summary>A change of the sensor of a logic pin.</summary>
    public static string Of(LogicResult found, LogicEdge edge) => Of(found.Sensor, EdgeNumbers.Of(edge));

    internal static string Of(CleanEdgesReason reason) => Of(reason.Sensor, reason.Edge) + (reason.RippleLimitVolts is { } limit
        ? $" The least hysteresis of {reason.Type} covers a ripple of {Amounts.Volts(limit)} from peak to peak at the sensor." : "");

    /// <summary>"1 change", "3 changes".</summary>
    internal static string Changes(double count) => count == 1 ? "1 change" : $"{count:0} changes";

    private static string Of(string sensor, EdgeNumbers edge)
    {
        string how = edge.IsSudden ? "jumps" : "changes as slowly as it may";
        string specified = edge.SlowestPassageSeconds is { } most && edge.PassageSeconds > most && double.IsFinite(edge.PassageSeconds)
            ? $", but a gate without hysteresis is specified for {Amounts.Time(most)} at most" : "";
        string passage = double.IsInfinity(edge.PassageSeconds) ? "does not come to its guaranteed level"
            : $"is between its levels for {Amounts.Time(edge.PassageSeconds)}";
        return $"When {sensor} {how} {(edge.Rises ? "and the pin rises" : "and the pin falls")}, the gate makes {Changes(edge.Changes)}; "
            + $"the pin {passage}{specified}.";
    }
}
