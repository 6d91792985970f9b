using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>Whether requirements are met, for programs to read.</summary>
public static class CheckDocument
{
    /// <summary>An object with "title", "allMet", "requirements", "mappings", "protection", "logic", "events", "warnings", "cautions", "kirchhoffAmps", "kirchhoffShare", "energyImbalance".</summary>
    public static JsonObject Json(CheckResult check) => new()
    {
        ["title"] = check.Title,
        ["allMet"] = check.AllMet,
        ["requirements"] = new JsonArray([.. check.Requirements.Select(r => new JsonObject
        {
            ["requirement"] = r.Requirement.Text,
            ["line"] = r.Requirement.SourceLine,
            ["verdict"] = RequirementWords.Of(r.Verdict),
            ["met"] = r.Met,
            ["found"] = JsonNumber.Of(r.Found),
            ["limit"] = JsonNumber.Of(r.Limit),
            ["margin"] = JsonNumber.Of(r.Margin),
            ["reason"] = RequirementWords.Reason(r),
            ["remedy"] = RequirementWords.Remedy(r),
        })]),
        ["mappings"] = new JsonArray([.. check.Mappings.Select(MappingDocument.Json)]),
        ["protection"] = new JsonArray([.. check.Costs.Select(ProtectionDocument.Json)]),
        ["logic"] = new JsonArray([.. check.Logic.Select(LogicDocument.Json)]),
        ["events"] = new JsonArray([.. check.Events.Select(EventsDocument.Summary)]),
        ["warnings"] = new JsonArray([.. check.Warnings.Select(w => JsonValue.Create(WarningWords.Of(w)))]),
        ["cautions"] = new JsonArray([.. check.Cautions.Select(c => JsonValue.Create(c))]),
        ["kirchhoffAmps"] = JsonNumber.Of(check.KirchhoffAmps),
        ["kirchhoffShare"] = JsonNumber.Of(check.KirchhoffShare),
        ["energyImbalance"] = JsonNumber.Of(check.EnergyImbalance),
    };

    /// <summary>Columns "requirement", "met" (yes or no), "found", "limit", "margin", "reason", "remedy"; a row a requirement.</summary>
    public static string CsvText(CheckResult check) =>
        Csv.Table(["requirement", "met", "found", "limit", "margin", "reason", "remedy"], check.Requirements.Select(r => new[]
        {
            r.Requirement.Text, r.Verdict switch { Verdict.Met => "yes", Verdict.NotMet => "no", _ => "not known" }, RequirementWords.Found(r), RequirementWords.Limit(r),
            RequirementWords.Margin(r), RequirementWords.Reason(r), RequirementWords.Remedy(r),
        }));
}
