using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>What protection costs, for programs to read.</summary>
public static class ProtectionDocument
{
    /// <summary>
    /// An object with "sensor", "pin", "unit" ("counts" or "mV"), "sentence" and "parts" ("part", "atLow", "atHigh", "isSeries"), the one
    /// that costs most first.
    /// </summary>
    public static JsonNode Json(ProtectionCosts costs) => new JsonObject
    {
        ["sensor"] = costs.Sensor,
        ["pin"] = costs.Pin,
        ["unit"] = costs.Unit,
        ["sentence"] = CostWords.Of(costs),
        ["parts"] = new JsonArray([.. costs.Parts.Select(p => new JsonObject
        {
            ["part"] = p.Part,
            ["atLow"] = JsonNumber.Of(p.LowCounts),
            ["atHigh"] = JsonNumber.Of(p.HighCounts),
            ["isSeries"] = p.IsSeries,
        })]),
    };
}
