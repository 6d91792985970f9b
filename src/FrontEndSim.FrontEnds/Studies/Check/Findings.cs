using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>What the studies found, and how each requirement stands to it.</summary>
internal sealed record Findings(FrontEnd FrontEnd, ImmutableArray<MappingResult> Mappings, ImmutableArray<EventResult> Events, ImmutableArray<LogicResult> Logic,
    IProgress<StudyProgress>? Progress, CancellationToken Cancel)
{
    public RequirementResult Judge(Requirement requirement) => requirement switch
    {
        InsideRating inside => Judge(inside),
        MappingError error => Judge(error),
        Headroom headroom => Judge(headroom),
        InsideRatingWithSingleFault fault => StressFindings.Judge(fault, FrontEnd, Progress, Cancel),
        PartPower power => StressFindings.Judge(power, FrontEnd, Events, Cancel),
        NoiseMargin margin => LogicFindings.Judge(margin, FrontEnd, Logic, Cancel),
        EdgeDelay delay => LogicFindings.Judge(delay, FrontEnd, Logic, Cancel),
        CleanEdges edges => LogicFindings.Judge(edges, FrontEnd, Logic, Cancel),
        _ => throw new StudyProblemException($"No study judges the requirement \"{requirement.Text}\"."),
    };

    private RequirementResult Judge(InsideRating requirement)
    {
        var pin = FrontEnd.FindPin(requirement.Pin);
        if (requirement.Event is { } name)
            FrontEnd.FindEvent(name);
        var exposures = Events.Where(e => requirement.Event is null || e.Event.Name == requirement.Event)
            .Select(e => (e.Event, Pin: e.Pins.First(p => p.Pin.Name == pin.Name))).ToArray();
        if (exposures.Length == 0)
            throw new StudyProblemException($"\"{requirement.Text}\" cannot be judged: the circuit has no event.");
        var (fault, worst) = exposures.MinBy(e => e.Pin.Tightness);
        var (actual, limit, margin) = Decisive(worst);
        string others = exposures.Length > 1 && exposures.Count(e => !e.Pin.IsInside) is > 1 and var broken
            ? $" {broken} of {exposures.Length} events break a rating." : "";
        return new(requirement, worst.IsInside, actual, limit, margin, $"In \"{fault.Name}\": {worst.Reason}{others}", worst.Remedy);
    }

    private static (string, string, string) Decisive(PinExposure e)
    {
        var ratings = e.Ratings.ToArray();
        if (ratings.Length == 0)
            return (SiText.Format(e.HighestVolts, "V", 3), "no rating", "unknown");
        var (actual, limit, margin, unit) = ratings.MinBy(r => r.Tightness);
        return (SiText.Format(actual, unit, 3), SiText.Format(limit, unit, 3), SiText.Format(margin, unit, 3));
    }

    private RequirementResult Judge(MappingError requirement)
    {
        FrontEnd.FindPin(requirement.Pin);
        var mapping = Mappings.FirstOrDefault(m => m.Pin == requirement.Pin) ?? MappingStudy.Run(FrontEnd, requirement.Pin, cancel: Cancel);
        var worst = mapping.Worst;
        double error = Math.Abs(worst.ErrorCounts);
        bool met = error < requirement.MaximumCounts;
        string reason = error < LeastCounts ? $"The error stays {Counts(error)} over the whole span."
            : $"The largest error is {Counts(worst.ErrorCounts)} at a sensor voltage of {SiText.Format(worst.SensorVolts, "V", 3)}, where pin "
            + $"{mapping.Pin} stands at {SiText.Format(worst.PinVolts, "V", 5)} instead of {SiText.Format(worst.IdealVolts, "V", 5)}.";
        string remedy = "";
        if (!met)
        {
            var cause = MappingCause.Find(FrontEnd, mapping, Cancel);
            if (cause is not null)
                reason += $" {char.ToUpperInvariant(cause.Change[0])}{cause.Change[1..]} {cause.Part.Name} ({cause.Part.Word} {cause.Part.ValueText}) it would be {Counts(cause.RemainingCounts)}.";
            remedy = Remedy(mapping, cause);
        }
        return new(requirement, met, Counts(error), Counts(requirement.MaximumCounts), Counts(requirement.MaximumCounts - error), reason, remedy);
    }

    private string Remedy(MappingResult mapping, MappingCause? cause)
    {
        if (cause is { Part: DiodePart diode })
            return $"Lessen what {diode.Name} draws: a {(diode.Type.Kind == DiodeKind.Zener ? "higher zener voltage" : "type that leaks less")}, or a smaller series resistor ahead of it.";
        if (cause is { Part: ResistorPart resistor })
            return $"Raise {resistor.Name} above {SiText.Format(resistor.Ohms.Value, "ohm")}, or lower the resistance ahead of it: the two divide the signal.";
        if (cause is { Part: OpAmpPart amp })
            return $"Add compensation resistors (compensated), use smaller resistors, or an op amp with less bias current than {amp.Type.Name} at {amp.Name}.";
        if (ValuesAlone(mapping) is var (stage, counts) && counts > 0.4 * Math.Abs(mapping.Worst.ErrorCounts))
        {
            return $"The values of stage {stage} alone, with ideal parts, are off by {Counts(counts)}: take a finer series (resistors E192), "
                + "trim one resistor, or calibrate at two points in firmware.";
        }
        if (Math.Abs(mapping.CurvatureCounts) < 0.1 * Math.Abs(mapping.Worst.ErrorCounts))
            return "The line is straight: finer resistor values (E96), or a two-point calibration, would take the error out.";
        var tight = mapping.Headroom.MinBy(h => h.Volts);
        return tight is { Volts: < 0.1 }
            ? $"{tight.OpAmp} runs into its {tight.SwingSide} limit: give it more supply, or an op amp whose output comes nearer to its rails."
            : "Look at the loading of the stages upon each other and at the resistor values.";
    }

    /// <summary>The error that the mapping stage's nominal values leave even with ideal parts, counts; null without such a stage.</summary>
    private (string Stage, double Counts)? ValuesAlone(MappingResult mapping)
    {
        if (FrontEnd.Stages.FirstOrDefault(s => s.Mapping == mapping.Wanted) is not { Ideal: { } ideal } stage)
            return null;
        double Error(double volts) => Math.Abs(ideal.Output(volts) - mapping.Wanted.Ideal(volts)) / mapping.CountVolts;
        return (stage.Name, Math.Max(Error(mapping.Wanted.Input.Low), Error(mapping.Wanted.Input.High)));
    }

    // Below a thousandth of a count nothing is meant any more.
    private const double LeastCounts = 1e-3;

    private static string Counts(double counts) => Math.Abs(counts) < LeastCounts ? "under 0.001 counts" : SiText.Plain(counts, "counts", 3);

    private RequirementResult Judge(Headroom requirement)
    {
        var stage = FrontEnd.FindStage(requirement.Stage);
        var names = stage.Parts.OfType<OpAmpPart>().Select(p => p.Name).ToHashSet();
        if (names.Count == 0)
            throw new StudyProblemException($"\"{requirement.Text}\" cannot be judged: stage {stage.Name} has no op amp.");
        var readings = Mappings.SelectMany(m => m.Headroom).Where(h => names.Contains(h.OpAmp)).ToArray();
        if (readings.Length == 0)
            readings = [.. BiasStudy.Run(FrontEnd, cancel: Cancel).Headroom.Where(h => names.Contains(h.OpAmp))];
        var worst = readings.MinBy(h => h.Volts)!;
        bool swing = worst.SwingVolts <= worst.CommonModeVolts;
        string side = swing ? worst.SwingSide : worst.CommonModeSide;
        string what = swing ? $"output of {worst.OpAmp} comes" : $"inputs of {worst.OpAmp} come";
        bool met = worst.Volts > requirement.MinimumVolts;
        var amp = stage.Parts.OfType<OpAmpPart>().First(p => p.Name == worst.OpAmp);
        string rail = side == "upper" ? amp.PositiveRail : amp.NegativeRail;
        return new(requirement, met, V(worst.Volts), V(requirement.MinimumVolts), V(worst.Volts - requirement.MinimumVolts),
            $"The {what} within {V(worst.Volts)} of the {side} {(swing ? "swing" : "common-mode")} limit at a sensor voltage of "
            + $"{V(swing ? worst.SwingAt : worst.CommonModeAt)}.",
            met ? "" : $"Move rail {rail} by {V(requirement.MinimumVolts - worst.Volts)} {(side == "upper" ? "up" : "down")}, or use an op amp that comes nearer to its rails than {amp.Type.Name}.");
    }

    private static string V(double volts) => SiText.Format(volts, "V", 3);
}
