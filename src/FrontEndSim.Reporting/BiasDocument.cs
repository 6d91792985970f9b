using System.Text.Json.Nodes;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Reporting;

/// <summary>The circuit at rest, for programs to read.</summary>
public static class BiasDocument
{
    /// <summary>
    /// An object with "nodes" (name to V), "parts" (name to "voltage" in V, "current" in A, "power" in W) and "audit".
    /// </summary>
    /// <param name="point">The circuit at rest.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    /// <param name="parts">The parts to show, in order.</param>
    public static JsonObject Json(OperatingPoint point, IEnumerable<string> nodes, IEnumerable<string> parts) => new()
    {
        ["nodes"] = new JsonObject(nodes.Select(n => KeyValuePair.Create(n, JsonNumber.Of(point.Nodes[n])))),
        ["parts"] = new JsonObject(parts.Select(p => KeyValuePair.Create<string, JsonNode?>(p, new JsonObject
        {
            ["voltage"] = JsonNumber.Of(point.Parts[p].Volts),
            ["current"] = JsonNumber.Of(point.Parts[p].Amps),
            ["power"] = JsonNumber.Of(point.Parts[p].Watts),
        }))),
        ["audit"] = AuditDocument.Json(point.Audit),
    };

    /// <summary>
    /// Columns "kind" (node or part), "name", "voltage (V)", "current (A)", "power (W)"; a node's last two are empty.
    /// </summary>
    /// <param name="point">The circuit at rest.</param>
    /// <param name="nodes">The nodes to show, in order, before the parts.</param>
    /// <param name="parts">The parts to show, in order.</param>
    public static string CsvText(OperatingPoint point, IEnumerable<string> nodes, IEnumerable<string> parts) =>
        Csv.Table(["kind", "name", "voltage (V)", "current (A)", "power (W)"],
            nodes.Select(n => new[] { "node", n, Csv.Number(point.Nodes[n]), "", "" }).Concat(parts.Select(p => new[]
            {
                "part", p, Csv.Number(point.Parts[p].Volts), Csv.Number(point.Parts[p].Amps), Csv.Number(point.Parts[p].Watts),
            })));
}
