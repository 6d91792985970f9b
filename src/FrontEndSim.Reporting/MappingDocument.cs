using System.Text.Json.Nodes;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.Reporting;

/// <summary>A sweep of a sensor, for programs to read.</summary>
public static class MappingDocument
{
    /// <summary>
    /// An object with "sensor", "values" (V), "nodes" (name to a list of V, one for each value), "mappings" (one a pin), "audit".
    /// </summary>
    /// <param name="sweep">The sweep.</param>
    /// <param name="nodes">The nodes to show.</param>
    /// <param name="mappings">What the sweep means at each pin; may be empty.</param>
    public static JsonObject Json(SweepResult sweep, IEnumerable<string> nodes, IEnumerable<MappingResult> mappings) => new()
    {
        ["sensor"] = sweep.Source,
        ["values"] = JsonNumber.List(sweep.Values),
        ["nodes"] = new JsonObject(nodes.Select(n => KeyValuePair.Create<string, JsonNode?>(n, JsonNumber.List(sweep.Voltage(n))))),
        ["mappings"] = new JsonArray([.. mappings.Select(Json)]),
        ["audit"] = AuditDocument.Json(sweep.Audit),
    };

    /// <summary>Columns: the sensor's voltage, then each node's, units in the header; a row a value.</summary>
    /// <param name="sweep">The sweep.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    public static string CsvText(SweepResult sweep, IReadOnlyList<string> nodes)
    {
        double[][] columns = [.. nodes.Select(sweep.Voltage)];
        return Csv.Table([$"{sweep.Source} (V)", .. nodes.Select(n => $"{n} (V)")],
            sweep.Values.Select((value, row) => (string[])[Csv.Number(value), .. columns.Select(c => Csv.Number(c[row]))]));
    }

    /// <summary>
    /// An object with "sensor", "pin", "countVolts", "largestError" ("counts", "at"), "offsetErrorCounts", "gainErrorCounts",
    /// "gainError", "curvatureCounts", "headroom" and "points" ("sensor", "pin", "ideal", "code", "error").
    /// </summary>
    public static JsonNode Json(MappingResult mapping) => new JsonObject
    {
        ["sensor"] = mapping.Sensor,
        ["pin"] = mapping.Pin,
        ["countVolts"] = JsonNumber.Of(mapping.CountVolts),
        ["largestError"] = new JsonObject { ["counts"] = JsonNumber.Of(mapping.Worst.ErrorCounts), ["at"] = JsonNumber.Of(mapping.Worst.SensorVolts) },
        ["offsetErrorCounts"] = JsonNumber.Of(mapping.OffsetErrorCounts),
        ["gainErrorCounts"] = JsonNumber.Of(mapping.GainErrorCounts),
        ["gainError"] = JsonNumber.Of(mapping.GainError),
        ["curvatureCounts"] = JsonNumber.Of(mapping.CurvatureCounts),
        ["headroom"] = new JsonArray([.. mapping.Headroom.Select(HeadroomDocument.Json)]),
        ["points"] = new JsonArray([.. mapping.Points.Select(p => new JsonObject
        {
            ["sensor"] = JsonNumber.Of(p.SensorVolts),
            ["pin"] = JsonNumber.Of(p.PinVolts),
            ["ideal"] = JsonNumber.Of(p.IdealVolts),
            ["code"] = JsonNumber.Of(p.Code),
            ["error"] = JsonNumber.Of(p.ErrorCounts),
        })]),
    };
}
