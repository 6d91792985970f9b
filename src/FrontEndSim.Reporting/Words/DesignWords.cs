using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Reporting.Words;

/// <summary>A design in sentences: what is not possible, what was taken for granted, what to know.</summary>
public static class DesignWords
{
    /// <summary>Why a kind of stage is not possible, and what would make it so.</summary>
    public static string Of(DesignRefusal refusal) => refusal switch
    {
        NoNegativeRail r => $"Its first stage inverts: {Figures.Range(-r.Between.High, -r.Between.Low, "V")} at the output means "
            + $"{Figures.Range(r.Between)} between the stages at equal gain, and there is no negative rail.",
        NoSupply r => "No class of op amp works between these rails: "
            + string.Join("; ", r.Needs.Select(n => $"{n.OpAmp} needs {Figures.Volts(n.LowestVolts)} to {Figures.Volts(n.HighestVolts)}"))
                + ".",
        InputsOutOfRange r =>
            $"The inputs of {r.OpAmp} on {r.Positive} and {r.Negative} come {Figures.Volts(r.BeyondVolts, 3)} too near to {r.Rail} "
            + $"at {Figures.Volts(r.SensorValue)} of the sensor.",
        OutputOutOfRange r =>
            $"At {Figures.Volts(r.SensorValue)} of the sensor the output has to be {Figures.Volts(r.WantedVolts, 3)}, but "
            + $"{r.OpAmp} on {r.Positive} and {r.Negative} stops at {Figures.Volts(r.FoundVolts, 3)}.",
        OutOfRangeAtCorner r =>
            $"With parts and rails at the ends of their tolerances the {(r.IsInput ? "inputs" : "output")} of {r.OpAmp} on {r.Positive} "
                + "and "
            + $"{r.Negative} " + (r.BeyondVolts > 0
                ? $"{(r.IsInput ? "come" : "comes")} {Figures.Volts(r.BeyondVolts, 3)} too near to {r.Rail}"
                : $"is so near to {r.Rail} that its gain falls")
            + $" at {Figures.Volts(r.SensorValue)} of the sensor.",
        NotBuilt r => ProblemWords.Of(r.Problem),
        NotSolved r => "The engine finds no solution: " + ProblemWords.Of(r.Problem),
        _ => throw new ArgumentException($"No words for {refusal.GetType().Name}.", nameof(refusal)),
    } + (refusal.Change is { } change ? " " + Of(change) : "");

    /// <summary>What was taken for granted.</summary>
    public static string Of(DesignAssumption assumption) => assumption switch
    {
        PinTaken a =>
            $"The pin converts {a.Bits} bits over 0 V .. {a.Supply}, leaks up to {Figures.Of(a.LeakageAmps, "A")}, may be taken "
            + $"{Figures.Volts(a.BeyondVolts)} "
            + $"beyond its rails and {Figures.Of(a.InjectionAmps, "A")} through its clamps: set them from its data sheet.",
        ResistorsTaken a => $"Resistors of {Figures.Percent(a.Tolerance)} in every series; op amps as their class in the catalogue.",
        SpanArriving a =>
            $"At {a.Node} the sensor's span arrives as {Figures.Range(a.Span)} behind {Figures.Of(a.SourceOhms, "ohm")}: the values are "
            + $"chosen for that.",
        SourceCounted a =>
            $"The source resistance of {Figures.Of(a.SourceOhms, "ohm")} is counted into the values; what it strays, the loading turns "
            + $"into error.",
        RailsExact a =>
            $"{string.Join(", ", a.Rails)} taken as exact: give a tolerance (\"9 V 5%\") to see what it costs, most of all that of a "
            + $"reference.",
        _ => throw new ArgumentException($"No words for {assumption.GetType().Name}.", nameof(assumption)),
    };

    /// <summary>What a person should know.</summary>
    public static string Of(DesignNote note) => note switch
    {
        RailBled n =>
            $"The events push current into {n.Rail}, which only delivers: a bleeder of {Figures.Of(n.Ohms, "ohm")} takes it and "
            + $"draws {Figures.Of(n.DrawnAmps, "A", 3)} at all times. Leave it out if the rail feeds what always draws more, and declare "
            + "that as its load.",
        LargeSeriesResistor n =>
            $"The guard's resistor takes {Figures.Of(n.Watts, "W", 3)} averaged by its heat, more than half of the usual "
            + $"{Figures.Of(n.RatedWatts, "W")}: buy a larger one (frontendsim build says which).",
        LeakyClamp n =>
            $"Hot, the leakage of {n.Clamp} in the resistance ahead of it costs up to {Figures.Plain(n.HotCounts, "counts", 3)}: a pin "
            + $"that stands more beyond its "
            + "rails lets a clamp do that leaks less, and a stage with an op amp or less resistance makes the same leakage matter less.",
        LeakageUnknown n =>
            $"Pin {n.Pin} is taken to leak nothing: give its leakage, each {Figures.Of(n.LeakageAmps, "A")} of which cost "
            + $"{Figures.Volts(n.ErrorVolts, 3)} "
            + "in the guard's series resistor.",
        BeyondRatingWhenOff n =>
            $"With the supplies off, \"{n.Event}\" takes pin {n.Pin} to {Figures.Range(n.LowestVolts, n.HighestVolts, "V", 3)} and "
            + $"{Figures.Of(n.InjectionAmps, "A", 3)} into its clamps, beyond its ratings.",
        _ => throw new ArgumentException($"No words for {note.GetType().Name}.", nameof(note)),
    };

    /// <summary>What speaks for a reference and against it, or why it is not possible.</summary>
    /// <param name="reference">The reference.</param>
    /// <param name="rail">The rail that it is made from.</param>
    public static string Of(DesignReference reference, string? rail)
    {
        if (reference is not { PartCount: { } parts, WorstErrorCounts: { } worst })
            return "not possible: " + (reference.Problem?.Engine is null ? "" : "the engine finds no solution: ")
                + (reference.Problem is { } problem ? ProblemWords.Of(problem) : "");
        if (reference is { Turn: { } turn, TrackOhms: { } track, CountsPerHundredth: { } counts, SetCounts: { } left })
        {
            return $"{parts} parts in all; {Figures.Of(track, "ohm")} turned to {Figures.Percent(turn, 3)}, "
                + $"its wiper at {Figures.Volts(reference.UnloadedVolts)} alone and {Figures.Volts(reference.LoadedVolts)} under the "
                    + $"stage. A hundredth of the track moves the reading {Amounts.Counts(counts)}, so one count asks for "
                + $"{Figures.Percent(0.01 / counts, 2)} of it; set as finely as a trimmer of one turn allows "
                + $"({Figures.Percent(DesignReferences.Settability)}), {Amounts.Counts(left)} are left. Once turned, "
                + $"{Amounts.Counts(worst)} at worst: it takes out the offset, as a calibration in firmware does without a part, and "
                + "has to be turned by hand.";
        }
        return $"{parts} parts in all, {Amounts.Counts(worst)} at worst; " + (reference.Kind == ReferenceKind.Rail
            ? $"the resistor from {rail} is part of the stage's own values, so nothing loads it"
                + (reference.IsRatiometric ? $"; what {rail} strays cancels, as the converter measures against it." : ".")
            : $"{Figures.Volts(reference.UnloadedVolts)}, which the stage's load moves by {Moved(reference)}. It holds one reference for "
                + $"several stages and lets the "
                + "reference resistor be small, but adds the tolerance of two resistors and the offset of an op amp"
                + (reference.IsBetterThanRail ? "; here the values land better all the same." : "."));
    }

    /// <summary>Why a candidate was not taken though it ranks higher.</summary>
    public static string Of(PassedOver passed) => passed.Problem is { } problem ? $"Number {passed.Number}: {problem}"
        : $"Number {passed.Number} misses: " + string.Join("; ", passed.Misses.Select(Found));

    /// <summary>A requirement with what was found.</summary>
    public static string Found(RequirementResult result) => $"{RequirementWords.Of(result.Requirement)} ({RequirementWords.Found(result)})";

    private static string Moved(DesignReference reference) => Figures.Of(reference.LoadedVolts - reference.UnloadedVolts, "V", 2);

    private static string Of(DesignChange change) => change switch
    {
        DesignChange.NegativeRail => "Add a negative rail, or take a stage that does not invert.",
        DesignChange.OtherRail => "Add a rail, or allow other classes.",
        DesignChange.RoomAtGround => "Add a negative rail, take an op amp that comes nearer to ground, or start the pin's span higher.",
        DesignChange.LowerRail => "Take a lower negative rail, or an op amp that comes nearer to it.",
        _ => "Take a higher positive rail, an op amp that comes nearer to it, or end the pin's span lower.",
    };
}
