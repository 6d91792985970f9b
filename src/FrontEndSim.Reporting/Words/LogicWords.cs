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

    /// <summary>How pulses pass, for a verdict.</summary>
    internal static string Of(PulsesReason reason) => Of(reason.Sensor, reason.Pulses)
        + (!reason.Worst.IsCounted && reason.BounceSeconds > 0 ? $" The contact bounces for {Figures.Time(reason.BounceSeconds)}." : "");

    /// <summary>How pulses pass, in a sentence.</summary>
    internal static string Of(string sensor, PulsesResult pulses)
    {
        var worst = pulses.Worst;
        string parts = worst.Parts switch
        {
            TolerancePlace.Low => ", parts at the lower end of their tolerance",
            TolerancePlace.High => ", parts at the upper end of their tolerance",
            _ => "",
        };
        return $"With {sensor} at {Figures.Of(pulses.AtValue, pulses.Unit)}, {Figures.Of(pulses.Hertz, "Hz")}, pulses of "
            + $"{Figures.Percent(worst.Duty, 3)} of a period{parts}, the pin is at "
                + $"the guaranteed high for {Figures.Time(worst.HighSeconds)} and "
            + $"at the guaranteed low for {Figures.Time(worst.LowSeconds)} of each period; the gate with least hysteresis changes "
            + $"{Figures.Plain(worst.ChangesInPeriod, "times", 3)} in it{(worst.IsCounted ? "." : ", where 2 are a pulse.")}"
            + (pulses.CountUnits is { } count ? $" A pulse more or less is {Figures.Of(count, pulses.Unit, 3)}." : "");
    }

    /// <summary>A state or a value of a sensor.</summary>
    internal static string Place(LogicResult r, LogicLevel level) => (r.States, level.SensorValue) switch
    {
        (SensorStates.Contact, 0) => "open",
        (SensorStates.Contact, _) => "closed",
        (SensorStates.Pulses, 0) => "between pulses",
        (SensorStates.Pulses, _) => "in a pulse",
        _ => Figures.Of(level.SensorValue, r.SensorUnit),
    };

    /// <summary>"1 change", "3 changes".</summary>
    internal static string Changes(double count) => count == 1 ? "1 change" : $"{count:0} changes";

    private static string Of(string sensor, EdgeNumbers edge)
    {
        string how = edge.IsSudden ? "jumps" : edge.TakenSeconds is { } taken
            ? $"creeps from one end of its span to the other in {Figures.Time(taken)} (taken, as no edge is written)"
            : "changes as slowly as it may";
        string specified = edge.SlowestPassageSeconds is { } most && edge.PassageSeconds > most && double.IsFinite(edge.PassageSeconds)
            ? $", but a gate without hysteresis is specified for {Figures.Time(most)} at most" : "";
        string passage = double.IsInfinity(edge.PassageSeconds) ? "does not come to its guaranteed level"
            : $"is between its levels for {Figures.Time(edge.PassageSeconds)}";
        return $"When {sensor} {how} {(edge.Rises ? "and the pin rises" : "and the pin falls")}, the gate makes {Changes(edge.Changes)}; "
            + $"the pin {passage}{specified}."
            + (edge.BounceSeconds > 0 ? $" Its contact bounces for {Figures.Time(edge.BounceSeconds)}"
                + (edge.Changes > 1 ? ": firmware has to wait that long, or the filter has to be slower." : ".") : "")
            + (edge.Undecided is { } slow ? $" The inputs of {slow.Comparator} part by {Amounts.Volts(slow.Volts)} while it changes, its "
                + $"hysteresis included, where a board has {Amounts.Volts(slow.NoiseVolts)} of noise: it changes many times. A resistor "
                + "from its output to its plus input gives it hysteresis." : "");
    }
}
