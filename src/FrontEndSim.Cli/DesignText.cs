using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Cli;

/// <summary>A design as a circuit file.</summary>
internal static class DesignText
{
    /// <summary>The text of the file.</summary>
    /// <param name="design">The design.</param>
    /// <param name="target">What it was made for.</param>
    public static string Of(CompleteDesign design, DesignTarget target) => FrontEndText.Of(design.FrontEnd, Said(design, target));

    /// <summary>A circuit file with the stage in it.</summary>
    /// <param name="circuit">The file as it was.</param>
    /// <param name="design">The design.</param>
    /// <param name="target">What it was made for.</param>
    /// <param name="path">Where the text will stand.</param>
    public static string Completed(UnfinishedCircuit circuit, CompleteDesign design, DesignTarget target, string path)
    {
        var c = design.Candidate;
        try
        {
            return circuit.Complete(path, [.. Said(design, target)], StageText.Of(c.Request), c.Request.Get(StageKind.Ends).Output,
                design.Guard is { } guard ? [StageText.Of(guard.Request)] : [],
                target.AddsRequirements ? [.. design.FrontEnd.Requirements.Select(FrontEndText.Of)] : []);
        }
        catch (ArgumentException e)
        {
            throw new InputException(e.Message);
        }
    }

    /// <summary>A circuit file with the resistor of a sensor in it.</summary>
    /// <param name="circuit">The file as it was.</param>
    /// <param name="design">The design.</param>
    /// <param name="candidate">The resistor.</param>
    /// <param name="path">Where the text will stand.</param>
    public static string Completed(UnfinishedCircuit circuit, DividerDesign design, DividerCandidate candidate, string path)
    {
        string unit = design.SensorUnit;
        return circuit.Complete(path,
            [
                $"Chosen by frontendsim design: {ValueText.Of(candidate.Ohms, "ohm")} of {candidate.Series} from {candidate.Rail}.",
                $"A count is {SiText.Format(candidate.Step, unit, 3)} at most, at {SiText.Format(candidate.StepAt, unit)}; on every board "
                    + $"a reading is right within {SiText.Format(candidate.LargestError, unit, 3)}.",
            ], StageText.Of(DividerDesignStudy.Asked(candidate)), design.Node, [],
            circuit.HasRequirements ? [] : [FrontEndText.Of(DividerDesignStudy.Kept(design, candidate))]);
    }

    /// <summary>What was chosen for a sensor, in the words of a circuit file.</summary>
    public static IEnumerable<string> Chosen(UnfinishedCircuit circuit, DividerDesign design, DividerCandidate candidate)
    {
        yield return Line(DividerDesignStudy.Asked(candidate))
            + $": {ValueText.Of(candidate.Ohms, "ohm")} {ValueText.Percent(design.Tolerance)}";
        if (!circuit.HasRequirements)
            yield return "required: " + FrontEndText.Of(DividerDesignStudy.Kept(design, candidate));
    }

    /// <summary>What a design takes from a circuit file, a thing a line.</summary>
    public static IReadOnlyList<string> Taken(UnfinishedCircuit circuit, DesignTarget target)
    {
        var (sensor, pin) = (target.Sensor, target.Pin);
        var lines = new List<string>
        {
            "rails " + string.Join(", ", target.Rails.Select(r =>
                $"{r.Name} {ValueText.Of(r.Volts.Value, "V")}"
                    + (r.Volts.Tolerance > 0 ? $" within {ValueText.Percent(r.Volts.Tolerance)}" : ""))),
            $"sensor {sensor.Name} at {sensor.Node}: {ValueText.Of(sensor.Span.Low, "V")} .. {ValueText.Of(sensor.Span.High, "V")} behind "
                + $"{ValueText.Of(sensor.SourceOhms, "ohm")}",
            $"pin {pin.Name} at {pin.Node}: {pin.Converter!.Bits} bits over {pin.Converter.Span}"
                + (pin is { RatedLow: { } low, RatedHigh: { } high } ? $", rated {low} .. {high}" : "")
                + (pin.InjectionAmps is { } amps ? $", {ValueText.Of(amps, "A")} through its clamps" : ""),
        };
        if (circuit.Stages.FirstOrDefault() is { } open)
            lines.Add(Line(open.Request));
        else
            lines.Add($"the gap from {target.Gap.Input} to {target.Gap.Output}");
        if (!circuit.FrontEnd.Stages.IsEmpty)
            lines.Add("kept as they are: " + string.Join(", ", circuit.FrontEnd.Stages.Select(s => $"{s.Name} ({s.Kind})")));
        if (!circuit.FrontEnd.Events.IsEmpty)
            lines.Add("events: " + string.Join("; ", circuit.FrontEnd.Events.Select(e => $"\"{e.Name}\"")));
        if (!circuit.FrontEnd.Requirements.IsEmpty)
            lines.Add("required: " + string.Join("; ", circuit.FrontEnd.Requirements.Select(FrontEndText.Of)));
        return lines;
    }

    /// <summary>What was chosen: the settings that were not decided before, in the words of a circuit file.</summary>
    public static IEnumerable<string> Chosen(CompleteDesign design, DesignTarget target)
    {
        var c = design.Candidate;
        var known = target.Decided.Select(v => v.Setting.Name).ToHashSet();
        if (target.Kinds.Length == 1)
            known.UnionWith([StageKind.Ends.Name, StageKind.Maps.Name]);
        string[] settings = [.. StageText.Of(c.Request).Settings.Where(s => !known.Contains(s.Key)).Select(s => s.Value)];
        yield return $"stage {target.StageName}: {string.Join("; ", target.Kinds.Length > 1 ? settings.Prepend(c.Stage.Kind) : settings)}";
        if (design.Guard is { } guard)
            yield return Line(guard.Request);
        if (target.AddsRequirements)
            yield return "required: " + string.Join("; ", design.FrontEnd.Requirements.Select(FrontEndText.Of));
    }

    private static IEnumerable<string> Said(CompleteDesign design, DesignTarget target)
    {
        var c = design.Candidate;
        yield return $"Chosen by frontendsim design: {c.Stage.Kind}, resistors of {c.Series.Name}.";
        yield return $"Worst case {Amounts.Counts(c.WorstErrorCounts)} off, with all tolerances against it; "
            + $"{Amounts.Counts(Math.Abs(c.Mapping.Worst.ErrorCounts))} with nominal parts.";
        if (design.Guard is { } guard)
        {
            yield return $"The guard costs up to {Amounts.Counts(guard.CostCounts)} with "
                + $"{ValueText.Of(Math.Abs(target.Pin.LeakageAmps), "A")} of "
                + $"leakage either way, at 85 °C up to {Amounts.Counts(guard.HotCostCounts)}.";
            yield return $"Its series resistor takes up to {SiText.Format(guard.SeriesWatts, "W", 3)} averaged by its heat, "
                + $"{SiText.Format(guard.SeriesPeakWatts, "W", 3)} at the peak.";
        }
        foreach (string note in design.Check.Warnings.Select(WarningWords.Of).Concat(design.Notes.Select(DesignWords.Of)))
            yield return note;
    }

    private static string Line(StageRequest request) =>
        $"stage {request.Name}: {string.Join("; ", StageText.Of(request).Settings.Select(s => s.Value).Prepend(request.Kind.Name))}";
}
