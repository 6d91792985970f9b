using System.Text.Json.Nodes;
using FrontEndSim.Engine;

namespace FrontEndSim.Reporting;

/// <summary>The circuit at rest, for programs to read.</summary>
public static class BiasDocument
{
    /// <summary>
    /// An object with "nodes" (name to V), "parts" (name to "voltage" in V, "current" in A, "power" in W) and "audit".
    /// </summary>
    /// <param name="point">The circuit at rest.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    public static JsonObject Json(OperatingPoint point, IEnumerable<string> nodes) => new()
    {
        ["nodes"] = new JsonObject(nodes.Select(n => KeyValuePair.Create(n, JsonNumber.Of(point.Nodes[n])))),
        ["parts"] = new JsonObject(point.Parts.Select(p => KeyValuePair.Create<string, JsonNode?>(p.Key, new JsonObject
        {
            ["voltage"] = JsonNumber.Of(p.Value.Volts),
            ["current"] = JsonNumber.Of(p.Value.Amps),
            ["power"] = JsonNumber.Of(p.Value.Watts),
        }))),
        ["audit"] = AuditDocument.Json(point.Audit),
    };

    /// <summary>
    /// Columns "kind" (node or part), "name", "voltage (V)", "current (A)", "power (W)"; a node's last two are empty.
    /// </summary>
    /// <param name="point">The circuit at rest.</param>
    /// <param name="nodes">The nodes to show, in order, before all parts.</param>
    public static string CsvText(OperatingPoint point, IEnumerable<string> nodes) =>
        Csv.Table(["kind", "name", "voltage (V)", "current (A)", "power (W)"],
            nodes.Select(n => new[] { "node", n, Csv.Number(point.Nodes[n]), "", "" }).Concat(point.Parts.Select(p => new[]
            {
                "part", p.Key, Csv.Number(p.Value.Volts), Csv.Number(p.Value.Amps), Csv.Number(p.Value.Watts),
            })));
}
