using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>How requirements on logic pins stand.</summary>
public static class LogicFindings
{
    internal static RequirementResult Judge(NoiseMargin requirement, FrontEnd frontEnd, ImmutableArray<LogicResult> logic, CancellationToken cancel)
    {
        var found = Find(requirement.Pin, frontEnd, logic, cancel);
        bool isLow = found.Low.WorstMarginVolts <= found.High.WorstMarginVolts;
        var level = isLow ? found.Low : found.High;
        bool met = level.WorstMarginVolts > requirement.MinimumVolts;
        string remedy = met ? "" : isLow
            ? $"Bring pin {found.Pin.Name} lower when sensor {found.Sensor} is at {V(level.SensorVolts)}: a smaller pull-down, or a source that comes nearer to 0 V."
            : $"Let more of the sensor's {V(level.SensorVolts)} reach pin {found.Pin.Name}: a smaller series resistor or a larger pull-down.";
        return new(requirement, met, V(level.WorstMarginVolts), V(requirement.MinimumVolts), V(level.WorstMarginVolts - requirement.MinimumVolts),
            $"With {found.Sensor} at {V(level.SensorVolts)} pin {found.Pin.Name} stands at {V(level.PinVolts)} and reads {(isLow ? "low below" : "high above")} {V(level.LimitVolts)}: "
            + $"{V(level.MarginVolts)} in hand, {V(level.WorstMarginVolts)} with all tolerances at their worst.", remedy);
    }

    internal static RequirementResult Judge(EdgeDelay requirement, FrontEnd frontEnd, ImmutableArray<LogicResult> logic, CancellationToken cancel)
    {
        var found = Find(requirement.Pin, frontEnd, logic, cancel);
        var slowest = found.Edges.Where(e => e.IsSudden).MaxBy(e => e.PinDelaySeconds)!;
        double delay = slowest.PinDelaySeconds;
        bool met = delay < requirement.MaximumSeconds;
        string end = slowest.Rises ? $"above {V(found.High.LimitVolts)}, which reads as high for certain" : $"below {V(found.Low.LimitVolts)}, which reads as low for certain";
        return new(requirement, met, Time(delay), Time(requirement.MaximumSeconds), double.IsFinite(delay) ? Time(requirement.MaximumSeconds - delay) : "none",
            double.IsFinite(delay) ? $"After a jump of sensor {found.Sensor} pin {found.Pin.Name} is {end}, {Time(delay)} later."
                : $"Pin {found.Pin.Name} does not come {end}.",
            met ? "" : double.IsFinite(delay) ? $"Use a smaller capacitor at pin {found.Pin.Name} or less resistance ahead of it, each by a factor of {SiText.Plain(delay / requirement.MaximumSeconds, "", 2)}."
                : "Mend the levels first: require its noise margin to see by how much they miss.");
    }

    internal static RequirementResult Judge(CleanEdges requirement, FrontEnd frontEnd, ImmutableArray<LogicResult> logic, CancellationToken cancel)
    {
        var found = Find(requirement.Pin, frontEnd, logic, cancel);
        var worst = found.Edges.Where(e => !e.IsClean).MaxBy(e => e.Changes) ?? found.Edges.MaxBy(e => e.PassageSeconds)!;
        string ripple = found.RippleLimitVolts is { } limit ? $" The least hysteresis of {found.Pin.Logic!.Type.Name} covers a ripple of {V(limit)} from peak to peak at the sensor." : "";
        // A single change that passes too slowly is judged by its time; all else by the number of changes.
        bool isSlow = worst.Changes == 1 && !worst.IsClean;
        bool arrives = double.IsFinite(worst.PassageSeconds);
        string actual = !isSlow ? Changes(worst.Changes) : arrives ? $"{Time(worst.PassageSeconds)} between the levels" : "never certain";
        string wanted = isSlow ? Time(worst.SlowestPassageSeconds!.Value) : "1 change";
        string margin = isSlow ? arrives ? Time(worst.SlowestPassageSeconds!.Value - worst.PassageSeconds) : "none"
            : worst.Changes > 1 ? $"{worst.Changes - 1} too many" : worst.Changes == 0 ? "1 too few"
            : found.RippleLimitVolts is { } covered ? $"{V(covered - frontEnd.FindSensor(found.Sensor).Ripple!.PeakToPeakVolts)} more ripple" : "none needed";
        return new(requirement, worst.IsClean, actual, wanted, margin, Sentence(found, worst) + ripple, worst.IsClean ? "" : Remedy(found, worst));
    }

    /// <summary>What a change of the sensor does, in a sentence.</summary>
    public static string Sentence(LogicResult found, LogicEdge edge)
    {
        string how = edge.IsSudden ? "jumps" : "changes as slowly as it may";
        string specified = edge.SlowestPassageSeconds is { } most && edge.PassageSeconds > most && double.IsFinite(edge.PassageSeconds)
            ? $", but a gate without hysteresis is specified for {Time(most)} at most" : "";
        string passage = double.IsInfinity(edge.PassageSeconds) ? "does not come to its certain level" : $"is between its levels for {Time(edge.PassageSeconds)}";
        return $"When {found.Sensor} {how} {(edge.Rises ? "and the pin rises" : "and the pin falls")}, the gate makes {Changes(edge.Changes)}; the pin {passage}{specified}.";
    }

    private static string Remedy(LogicResult found, LogicEdge worst)
    {
        var type = found.Pin.Logic!.Type;
        if (worst.Changes == 0)
            return "The gate does not change at all: mend the levels first.";
        if (!type.HasHysteresis)
            return $"Use a gate with hysteresis: type {type.Name}-hysteresis.";
        return found.RippleLimitVolts is { } limit
            ? $"Bring the ripple below {V(limit)} from peak to peak: a larger capacitor at pin {found.Pin.Name} or more resistance ahead of it takes more of it."
            : $"Use a larger capacitor at pin {found.Pin.Name}.";
    }

    private static LogicResult Find(string pin, FrontEnd frontEnd, ImmutableArray<LogicResult> logic, CancellationToken cancel) =>
        logic.FirstOrDefault(l => l.Pin.Name == pin) ?? LogicStudy.Run(frontEnd, pin, cancel);

    private static string Changes(int count) => count == 1 ? "1 change" : $"{count} changes";

    /// <summary>A time that may never come.</summary>
    public static string Time(double seconds) => double.IsInfinity(seconds) ? "never" : SiText.Format(seconds, "s", 3);

    private static string V(double volts) => SiText.Format(volts, "V", 3);
}
