using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.Reporting.Words;

/// <summary>A build sheet in words.</summary>
internal static class BuildWords
{
    // Extra-low voltage: above it, work on a rail is for trained people (common practice, no source).
    private const double LowVolts = 50;

    /// <summary>What to buy: "0.25 W", "supply up to 36 V".</summary>
    public static string Of(PartsNeed? need) => need is null ? ""
        : (need.Kind == RatingKind.SupplyVoltage ? "supply up to " : "") + Figures.Of(need.Size, need.Unit);

    /// <summary>The worst that a part bears, and where.</summary>
    public static string Worst(PartsLine line) => (line.IsBeyond ? "EXCEEDS ITS RATING: " : "")
        + string.Join(", ", line.Worst.Select(w => $"{Figures.Of(w.Found, w.Unit, 3)} ({Where(w)})"));

    /// <summary>What to set at a bench point.</summary>
    public static string Set(BenchPoint point) => point is { Sensor: { } sensor, SensorVolts: { } volts } ? $"{sensor} at {Figures.Volts(volts)}" : "supplies on, sensor not connected";

    /// <summary>What the node of a bench point is.</summary>
    public static string Place(BenchPoint point) => point.Place switch
    {
        BenchPlace.Rail => $"rail {point.Of}",
        BenchPlace.Terminal => $"terminal of {point.Of}, loaded",
        BenchPlace.AmplifierOutput => $"output of {point.Of}",
        BenchPlace.StageOutput => $"output of stage {point.Of}",
        _ => $"pin {point.Of}",
    };

    /// <summary>A step of the assembly.</summary>
    public static string Of(AssemblyStep step) => step.Kind switch
    {
        AssemblyKind.Supplies => $"Supplies: wire {string.Join(", ", step.Names)}{(step.Names.IsEmpty ? "" : " and ")}ground, with 100 nF at each op amp's supply pins "
            + "(common practice). Set the supplies' current limits to twice what the circuit draws. Measure the rails, then switch off.",
        AssemblyKind.Stage => $"Stage {step.Stage} ({step.StageKind}): fit {(step.Names.IsEmpty ? "no passive parts" : string.Join(", ", step.Names))}, "
            + "and check each value with the meter before soldering."
            + string.Concat(step.Mounting.Select(m => $" {m.Key}: {m.Value}."))
            + (step.Amplifiers.IsEmpty ? "" : $" Then {Figures.And(step.Amplifiers)} ({step.AmplifierType}) on {Figures.And(step.Supplies)}.")
            + (step.LeavesPinOpen ? " Leave the pin itself open for now." : ""),
        AssemblyKind.SingleParts => $"Single parts: {string.Join(", ", step.Placed.Select(p => $"{p.Part} ({p.Value}, {string.Join(" to ", p.Nodes)})"))}.",
        AssemblyKind.Sensors => $"Put a bench supply or calibrator in place of "
            + $"{string.Join(", ", step.Names.Zip(step.SourceOhms, (name, ohms) => name + (ohms > 0 ? $", with {Figures.Of(ohms, "ohm")} in series" : "")))}, "
            + "switch on, and go through the bench points. Stop at the first that is out of its limits.",
        _ => $"Only then connect {string.Join(", ", step.Names.Select(n => "pin " + n))}, calibrate, and fit the sensor.",
    };

    /// <summary>What may hurt a person or a part.</summary>
    public static IEnumerable<string> Cautions(BuildResult sheet) =>
    [
        "Ratings are limits and not operating values; parts that exceed theirs are marked.",
        .. sheet.HighestRailVolts > LowVolts ? [$"A rail is above {Figures.Volts(LowVolts)}: work on it needs trained people and local rules."] : Array.Empty<string>(),
        .. sheet.Cautions,
    ];

    private static string Where(PartsWorst worst) => worst.Event is { } name ? $"\"{name}\""
        : worst is { Sensor: { } sensor, SensorVolts: { } volts } ? $"{sensor} at {Figures.Volts(volts)}" : "operating point";
}
