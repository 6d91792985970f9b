using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>What events do, for programs to read.</summary>
public static class EventsDocument
{
    /// <summary>
    /// A list with an object an event: "event", "node", "what", "pins", "parts", "times" (s), "nodes" (name to a list of V), "audit".
    /// </summary>
    /// <param name="events">The events.</param>
    /// <param name="nodes">The nodes to show.</param>
    /// <param name="times">The times to show of an event, s.</param>
    public static JsonArray Json(IEnumerable<EventResult> events, IReadOnlyList<string> nodes, Func<EventResult, IReadOnlyList<double>> times) =>
        [.. events.Select(e =>
        {
            var summary = Summary(e);
            summary["times"] = JsonNumber.List(times(e));
            summary["nodes"] = new JsonObject(nodes.Select(n => KeyValuePair.Create<string, JsonNode?>(n, JsonNumber.List(e.Transient.Voltage(n).Sample(times(e))))));
            return (JsonNode)summary;
        })];

    /// <summary>
    /// Columns: time, then each node's voltage, units in the header. Where there is more than one event, a last column names it.
    /// </summary>
    /// <param name="events">The events.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    /// <param name="times">The times to show of an event, s.</param>
    public static string CsvText(IReadOnlyList<EventResult> events, IReadOnlyList<string> nodes, Func<EventResult, IReadOnlyList<double>> times)
    {
        bool named = events.Count > 1;
        return Csv.Table(["time (s)", .. nodes.Select(n => $"{n} (V)"), .. named ? ["event"] : Array.Empty<string>()], events.SelectMany(e =>
        {
            var rows = times(e);
            double[][] columns = [.. nodes.Select(n => e.Transient.Voltage(n).Sample(rows))];
            return rows.Select((time, row) =>
                (string[])[Csv.Number(time), .. columns.Select(c => Csv.Number(c[row])), .. named ? [e.Event.Name] : Array.Empty<string>()]);
        }));
    }

    /// <summary>An event without its traces.</summary>
    internal static JsonObject Summary(EventResult e) => new()
    {
        ["event"] = e.Event.Name,
        ["node"] = e.Event.Node,
        ["what"] = e.Event.Disturbance.Text,
        ["pins"] = new JsonArray([.. e.Pins.Select(Pin)]),
        ["parts"] = new JsonArray([.. e.Parts.Select(Part)]),
        ["audit"] = AuditDocument.Json(e.Audit),
    };

    private static JsonNode Pin(PinExposure p) => new JsonObject
    {
        ["pin"] = p.Pin.Name,
        ["inside"] = p.IsInside,
        ["reason"] = PinWords.Of(p),
        ["remedy"] = MendWords.Of(p.Mends),
        ["highestVolts"] = JsonNumber.Of(p.HighestVolts),
        ["highestAt"] = JsonNumber.Of(p.HighestAt),
        ["lowestVolts"] = JsonNumber.Of(p.LowestVolts),
        ["lowestAt"] = JsonNumber.Of(p.LowestAt),
        ["upperRatingVolts"] = JsonNumber.Of(p.UpperRatingVolts),
        ["upperMarginVolts"] = JsonNumber.Of(p.UpperMarginVolts),
        ["lowerRatingVolts"] = JsonNumber.Of(p.LowerRatingVolts),
        ["lowerMarginVolts"] = JsonNumber.Of(p.LowerMarginVolts),
        ["secondsOutside"] = JsonNumber.Of(p.SecondsOutside),
        ["upperInjectionAmps"] = JsonNumber.Of(p.UpperInjectionAmps),
        ["lowerInjectionAmps"] = JsonNumber.Of(p.LowerInjectionAmps),
        ["injectionCoulombs"] = JsonNumber.Of(p.InjectionCoulombs),
        ["injectionMarginAmps"] = JsonNumber.Of(p.InjectionMarginAmps),
        ["supplyHighestVolts"] = JsonNumber.Of(p.SupplyHighestVolts),
        ["supplyMarginVolts"] = JsonNumber.Of(p.SupplyMarginVolts),
    };

    private static JsonNode Part(PartStress p) => new JsonObject
    {
        ["part"] = p.Part.Name,
        ["value"] = p.Part.ValueText,
        ["peakWatts"] = JsonNumber.Of(p.PeakWatts),
        ["joules"] = JsonNumber.Of(p.Joules),
        ["meanWatts"] = JsonNumber.Of(p.MeanWatts),
        ["warmWatts"] = JsonNumber.Of(p.WarmWatts),
        ["peakVolts"] = JsonNumber.Of(p.PeakVolts),
        ["peakAmps"] = JsonNumber.Of(p.PeakAmps),
        ["rating"] = p.Tightest is { } r
            ? new JsonObject { ["kind"] = r.Kind.ToString(), ["limit"] = JsonNumber.Of(r.Limit), ["share"] = JsonNumber.Of(p.Share), ["source"] = r.Source }
            : null,
    };
}
