using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Candidates for a wanted mapping, for programs to read.</summary>
public static class DesignDocument
{
    /// <summary>
    /// An object with "candidates" (best first), "refusals" ("kind", "reason", "change"), "assumptions", and "picked": the
    /// completed candidate with its guard, requirements and notes, or null; with a circuit file, "taken" and "chosen" as well.
    /// </summary>
    /// <param name="result">The candidates.</param>
    /// <param name="complete">The completed one; null if there is none.</param>
    /// <param name="taken">What was taken from a circuit file, in words.</param>
    /// <param name="chosen">What was chosen, in words.</param>
    public static JsonObject Json(DesignResult result, CompleteDesign? complete, IReadOnlyList<string> taken, IReadOnlyList<string> chosen) => new()
    {
        ["taken"] = new JsonArray([.. taken.Select(t => (JsonNode)t)]),
        ["chosen"] = new JsonArray([.. chosen.Select(t => (JsonNode)t)]),
        ["candidates"] = new JsonArray([.. result.Candidates.Select(Candidate)]),
        ["refusals"] = new JsonArray([.. result.Refusals.Select(r => new JsonObject { ["kind"] = r.Kind, ["reason"] = r.Reason, ["change"] = r.Change })]),
        ["assumptions"] = new JsonArray([.. result.Assumptions.Select(a => (JsonNode)a)]),
        ["picked"] = complete is null ? null : new JsonObject
        {
            ["kind"] = complete.Candidate.Stage.Kind,
            ["parts"] = Parts(complete.FrontEnd.AllParts),
            ["references"] = new JsonArray([.. complete.References.Select(r => new JsonObject
            {
                ["kind"] = r.Kind.ToString().ToLowerInvariant(),
                ["isTaken"] = r == complete.Reference,
                ["cost"] = JsonNumber.Of(r.Cost),
                ["partCount"] = r.Candidate?.PartCount,
                ["worstErrorCounts"] = r.Candidate is { } c ? JsonNumber.Of(c.WorstErrorCounts) : null,
                ["unloadedVolts"] = JsonNumber.Of(r.UnloadedVolts),
                ["loadedVolts"] = JsonNumber.Of(r.LoadedVolts),
                ["turn"] = r.Turn,
                ["countsPerHundredth"] = r.CountsPerHundredth,
                ["words"] = r.Words,
            })]),
            ["guard"] = complete.Guard is not { } g ? null : new JsonObject
            {
                ["seriesOhms"] = JsonNumber.Of(g.SeriesOhms),
                ["clamp"] = g.Clamp,
                ["levelLowVolts"] = JsonNumber.Of(g.Levels.Low),
                ["levelHighVolts"] = JsonNumber.Of(g.Levels.High),
                ["levelLowOffVolts"] = JsonNumber.Of(g.Levels.LowOff),
                ["levelHighOffVolts"] = JsonNumber.Of(g.Levels.HighOff),
                ["worstEvent"] = g.WorstEvent,
                ["isWorstOff"] = g.IsWorstOff,
                ["injectionAmps"] = JsonNumber.Of(g.InjectionAmps),
                ["seriesWatts"] = JsonNumber.Of(g.SeriesWatts),
                ["seriesPeakWatts"] = JsonNumber.Of(g.SeriesPeakWatts),
                ["seriesJoules"] = JsonNumber.Of(g.SeriesJoules),
                ["costCounts"] = JsonNumber.Of(g.CostCounts),
                ["hotCostCounts"] = JsonNumber.Of(g.HotCostCounts),
            },
            ["requirements"] = new JsonArray([.. complete.Check.Requirements.Select(r => new JsonObject
            {
                ["text"] = r.Requirement.Text, ["met"] = r.Met, ["found"] = JsonNumber.Of(r.Found), ["limit"] = JsonNumber.Of(r.Limit),
            })]),
            ["handMath"] = new JsonArray([.. complete.Candidate.Stage.HandMath.Concat(complete.Guard?.HandMath ?? []).Select(s => new JsonObject
            {
                ["what"] = s.What, ["formula"] = s.Formula, ["substitution"] = s.Substitution, ["result"] = JsonNumber.Of(s.Result), ["unit"] = s.Unit,
            })]),
            ["notes"] = new JsonArray([.. complete.Check.Warnings.Select(WarningWords.Of).Concat(complete.Notes).Select(n => (JsonNode)n)]),
        },
    };

    /// <summary>A row a candidate, best first.</summary>
    /// <param name="result">The candidates.</param>
    public static string CsvText(DesignResult result) => Csv.Table(
        ["rank", "stage", "series", "op amp", "reference", "worst error (counts)", "nominal error (counts)", "headroom (V)", "input resistance (ohm)", "loading",
            "parts", "different values", "noise (V)", "power (W)", "cost", "values"],
        result.Candidates.Select((c, k) => (string[])
        [
            Csv.Number(k + 1), c.Stage.Kind, c.Series.Name, c.OpAmp?.Name ?? "", c.Reference ?? "", Csv.Number(c.WorstErrorCounts),
            Csv.Number(c.Mapping.Worst.ErrorCounts), c.HeadroomVolts is { } h ? Csv.Number(h) : "", Csv.Number(c.InputOhms), Csv.Number(c.Loading),
            Csv.Number(c.PartCount), Csv.Number(c.DistinctValues), Csv.Number(c.NoiseVolts), Csv.Number(c.SupplyWatts), Csv.Number(c.Cost),
            string.Join("; ", c.Stage.Parts.OfType<ResistorPart>().Select(r => $"{r.Name} {r.ValueText}")),
        ]));

    private static JsonNode Candidate(DesignCandidate c) => new JsonObject
    {
        ["kind"] = c.Stage.Kind,
        ["series"] = c.Series.Name,
        ["opamp"] = c.OpAmp?.Name,
        ["reference"] = c.Reference,
        ["worstErrorCounts"] = JsonNumber.Of(c.WorstErrorCounts),
        ["isWorstExact"] = c.IsWorstExact,
        ["nominalErrorCounts"] = JsonNumber.Of(c.Mapping.Worst.ErrorCounts),
        ["headroomVolts"] = JsonNumber.Of(c.HeadroomVolts),
        ["inputOhms"] = JsonNumber.Of(c.InputOhms),
        ["loading"] = JsonNumber.Of(c.Loading),
        ["partCount"] = c.PartCount,
        ["differentValues"] = c.DistinctValues,
        ["noiseVolts"] = JsonNumber.Of(c.NoiseVolts),
        ["supplyWatts"] = JsonNumber.Of(c.SupplyWatts),
        ["cost"] = JsonNumber.Of(c.Cost),
        ["parts"] = Parts(c.Stage.Parts),
        ["audit"] = AuditDocument.Json(c.Mapping.Audit),
    };

    private static JsonObject Parts(IEnumerable<Part> parts) => new(parts.Select(p => KeyValuePair.Create<string, JsonNode?>(p.Name, p.ValueText)));
}
