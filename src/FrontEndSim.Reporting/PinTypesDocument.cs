using System.Collections.Immutable;
using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Pins;

namespace FrontEndSim.Reporting;

/// <summary>Types of pin, for programs to read.</summary>
public static class PinTypesDocument
{
    /// <summary>Every number of a type of pin, with its unit; "of the supply" for a share of it.</summary>
    public static ImmutableArray<(string What, double Value, string Unit)> Numbers(PinType type)
    {
        var found = ImmutableArray.CreateBuilder<(string, double, string)>();
        found.Add(("below ground at most", type.BelowGroundVolts, "V"));
        Add("above the supply actually present at most", type.AboveSupplyVolts, "V");
        Add("highest voltage, whatever the supply", type.HighestVolts, "V");
        found.Add(("current through its own clamps at most", type.InjectionAmps, "A"));
        found.Add(("leakage at most, either way", type.LeakageAmps, "A"));
        found.Add(("capacitance", type.ToPin("pin", "NODE", "SUPPLY").Farads, "F"));
        found.Add(("lowest supply", type.Supply.Low, "V"));
        found.Add(("highest supply", type.Supply.High, "V"));
        Add("reads low below", type.LowShare, "of the supply");
        Add("reads high above", type.HighShare, "of the supply");
        Add("reads low below", type.LowVolts, "V");
        Add("reads high above", type.HighVolts, "V");
        if (type is { Gate: { } gate, GateAtWorst: { } least })
        {
            Threshold(type.HasHysteresis ? "rising threshold, typical" : "threshold, typical", gate.RisingShare, gate.RisingVolts);
            if (type.HasHysteresis)
            {
                Threshold("falling threshold, typical", gate.FallingShare, gate.FallingVolts);
                Threshold("least hysteresis", least.RisingShare - least.FallingShare, least.RisingVolts - least.FallingVolts);
            }
            found.Add(("delay of the gate, typical", gate.DelaySeconds, "s"));
            found.Add(("output resistance of the gate, typical", gate.OutputOhms, "ohm"));
        }
        Add("slowest change between its levels, per volt", type.SlowestSecondsPerVolt, "s");
        return found.ToImmutable();

        void Threshold(string what, double share, double volts) => found.Add(share > 0 ? (what, share, "of the supply") : (what, volts, "V"));

        void Add(string what, double? value, string unit)
        {
            if (value is { } given)
                found.Add((what, given, unit));
        }
    }

    /// <summary>A list of objects with "name", "kind", "summary", "numbers" and "source".</summary>
    public static JsonArray Json(IEnumerable<PinType> types) => new([.. types.Select(t => (JsonNode)new JsonObject
    {
        ["name"] = t.Name,
        ["kind"] = "pin",
        ["summary"] = t.Summary,
        ["numbers"] = new JsonObject(Numbers(t).Select(n => KeyValuePair.Create($"{n.What} ({n.Unit})", JsonNumber.Of(n.Value)))),
        ["source"] = t.Source,
    })]);

    /// <summary>Lines for the table of <see cref="PartsDocument.CsvText"/>.</summary>
    internal static IEnumerable<string[]> Rows(IEnumerable<PinType> types) =>
        types.SelectMany(t => Numbers(t).Select(n => new[] { t.Name, "pin", n.What, Csv.Number(n.Value), n.Unit, n.What.Contains("at most", StringComparison.Ordinal) ? "1" : "0", "", t.Source }));
}
