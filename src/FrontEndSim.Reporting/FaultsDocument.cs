using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>What single faults do, for programs to read.</summary>
public static class FaultsDocument
{
    /// <summary>An object with "title", "allSurvive", "whole" (a row a pin), "faults" (a row a fault and pin) and "cautions".</summary>
    public static JsonObject Json(FaultsResult faults) => new()
    {
        ["title"] = faults.Title,
        ["allSurvive"] = faults.AllSurvive,
        ["whole"] = new JsonArray([.. faults.Whole.Select(Row)]),
        ["faults"] = new JsonArray([.. faults.Faults.Select(Row)]),
        ["cautions"] = new JsonArray([.. faults.Cautions.Select(c => JsonValue.Create(c))]),
    };

    private static JsonNode Row(FaultRow row) => new JsonObject
    {
        ["fault"] = row.Text,
        ["subject"] = row.Fault?.Subject,
        ["mode"] = row.Fault?.Mode.ToString(),
        ["pin"] = row.Pin,
        ["survives"] = row.Survives,
        ["lowEndVolts"] = JsonNumber.Of(row.AtLowEnd?.HighestVolts),
        ["highEndVolts"] = JsonNumber.Of(row.AtHighEnd?.HighestVolts),
        ["worstEvent"] = row.WorstEvent?.Name,
        ["worstLowestVolts"] = JsonNumber.Of(row.InWorstEvent?.LowestVolts),
        ["worstHighestVolts"] = JsonNumber.Of(row.InWorstEvent?.HighestVolts),
        ["worstInjectionAmps"] = JsonNumber.Of(Injection(row)),
        ["reason"] = FaultWords.Of(row),
    };

    /// <summary>
    /// Columns: fault ("nothing" for the whole front end), pin, survives (yes or no), the pin at both ends of the span, the worst
    /// event with its lowest and highest voltage and largest injection current, and the reason. Units in the header.
    /// </summary>
    public static string CsvText(FaultsResult faults) => Csv.Table(
        ["fault", "pin", "survives", "at lower end (V)", "at upper end (V)", "worst event", "lowest (V)", "highest (V)", "injection (A)", "reason"],
        faults.Whole.Concat(faults.Faults).Select(r => new[]
        {
            r.Text, r.Pin, r.Survives ? "yes" : "no", Number(r.AtLowEnd?.HighestVolts), Number(r.AtHighEnd?.HighestVolts), r.WorstEvent?.Name ?? "",
            Number(r.InWorstEvent?.LowestVolts), Number(r.InWorstEvent?.HighestVolts), Number(Injection(r)), FaultWords.Of(r),
        }));

    private static double? Injection(FaultRow row) =>
        row.InWorstEvent is { } e ? Math.Max(e.UpperInjectionAmps, e.LowerInjectionAmps) : null;

    private static string Number(double? value) => value is { } number ? Csv.Number(number) : "";
}
