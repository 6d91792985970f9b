using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting;

/// <summary>Numbers in JSON.</summary>
internal static class JsonNumber
{
    /// <summary>The number, with as many digits as read back the same; null for infinities and what is not a number, which JSON lacks.</summary>
    public static JsonNode? Of(double value) => double.IsFinite(value) ? JsonValue.Create(value) : null;

    /// <summary>The number, or null.</summary>
    public static JsonNode? Of(double? value) => value is { } number ? Of(number) : null;

    /// <summary>An object with "value" and "unit" ("%" with the fraction as value, "" for a plain number), or null.</summary>
    public static JsonNode? Of(Quantity? quantity) => quantity is { } q ? new JsonObject { ["value"] = Of(q.Value), ["unit"] = q.Symbol } : null;

    /// <summary>A list of numbers.</summary>
    public static JsonArray List(IEnumerable<double> values) => [.. values.Select(v => Of(v))];
}
