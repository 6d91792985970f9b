using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Hand math beside simulation, for programs to read.</summary>
public static class ExplainDocument
{
    /// <summary>
    /// An object with "stages", "mappings" and "protection" (of each mapping). A stage has "name", "kind", "steps" ("what", "formula", "substitution", "result",
    /// "unit", "simulated", "difference", "why"; those two null where nothing is simulated), "input", "lines" ("input", "ideal",
    /// "expected", "simulated", all V), "causes" ("name", "volts") and "reason". A mapping is as in a sweep.
    /// </summary>
    public static JsonObject Json(ExplainResult explained) => new()
    {
        ["stages"] = new JsonArray([.. explained.Stages.Select(Json)]),
        ["mappings"] = new JsonArray([.. explained.Mappings.Select(MappingDocument.Json)]),
        ["protection"] = new JsonArray([.. explained.Costs.Select(ProtectionDocument.Json)]),
    };

    private static JsonObject Json(StageExplanation stage) => new()
    {
        ["name"] = stage.Stage.Name,
        ["kind"] = stage.Stage.Kind,
        ["steps"] = new JsonArray([.. stage.Steps.Select(s => new JsonObject
        {
            ["what"] = s.Step.What,
            ["formula"] = s.Step.Formula,
            ["substitution"] = s.Step.Substitution,
            ["result"] = JsonNumber.Of(s.Step.Result),
            ["unit"] = s.Step.Unit,
            ["simulated"] = JsonNumber.Of(s.Simulated),
            ["difference"] = JsonNumber.Of(s.Difference),
            ["why"] = ExplainWords.Why(s),
        })]),
        ["input"] = ExplainWords.Input(stage),
        ["lines"] = new JsonArray([.. stage.Lines.Select(l => new JsonObject
        {
            ["input"] = JsonNumber.Of(l.InputVolts),
            ["ideal"] = JsonNumber.Of(l.IdealVolts),
            ["expected"] = JsonNumber.Of(l.ExpectedVolts),
            ["simulated"] = JsonNumber.Of(l.SimulatedVolts),
        })]),
        ["causes"] = new JsonArray([.. stage.Causes.Select(c => new JsonObject { ["name"] = ExplainWords.Of(c.Thing), ["volts"] = JsonNumber.Of(c.Volts) })]),
        ["reason"] = ExplainWords.Reason(stage),
    };

    /// <summary>A row for each stage and input: the stage, input, ideal, expected (empty without closed form) and simulated output.</summary>
    public static string CsvText(ExplainResult explained) => Csv.Table(["stage", "input (V)", "ideal (V)", "expected (V)", "simulated (V)"],
        explained.Stages.SelectMany(s => s.Lines.Select(l => (string[])
        [
            s.Stage.Name, Csv.Number(l.InputVolts), Csv.Number(l.IdealVolts), l.ExpectedVolts is { } expected ? Csv.Number(expected) : "",
            Csv.Number(l.SimulatedVolts),
        ])));
}
