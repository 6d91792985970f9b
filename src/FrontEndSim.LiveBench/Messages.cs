using System.Text.Json.Serialization;

namespace FrontEndSim.LiveBench;

/// <summary>What a person does on the page.</summary>
/// <param name="Do">What: "sensor", "value", "save".</param>
/// <param name="Name">To what: the name of a sensor, a rail, a part, an event.</param>
/// <param name="Value">The value, as typed or turned to.</param>
internal sealed record Ask(string Do, string? Name = null, string? Value = null);

/// <summary>What changes on the page; only what differs from what was sent before.</summary>
internal sealed record Change
{
    /// <summary>Pieces of the page by the id of the element that each replaces.</summary>
    public List<Piece> Pieces { get; init; } = [];

    /// <summary>Voltages in the drawing by node.</summary>
    public Dictionary<string, string> Volts { get; init; } = [];

    /// <summary>How near each part of the drawing is to a rating, by part.</summary>
    public Dictionary<string, Load> Loads { get; init; } = [];

    /// <summary>Whether nothing changes.</summary>
    [JsonIgnore]
    public bool IsEmpty => Pieces.Count == 0 && Volts.Count == 0 && Loads.Count == 0;
}

/// <summary>A piece of the page.</summary>
/// <param name="Id">Id of its element.</param>
/// <param name="Html">The element.</param>
internal sealed record Piece(string Id, string Html);

/// <summary>How near a part is to its tightest rating.</summary>
/// <param name="Look">"easy", "warm" or "beyond".</param>
/// <param name="Words">The same in words.</param>
/// <param name="Tint">The share of that rating, at most 1.</param>
internal sealed record Load(string Look, string Words, double Tint = 0)
{
    /// <summary>The share of that rating in a few letters; empty for a part without one.</summary>
    public string Share { get; init; } = "";
}

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(Ask))]
[JsonSerializable(typeof(Change))]
internal sealed partial class Messages : JsonSerializerContext;
