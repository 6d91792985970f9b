using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Levels;

namespace FrontEndSim.Reporting;

/// <summary>How a logic pin reads its sensor, for programs to read.</summary>
public static class LogicDocument
{
    /// <summary>
    /// An object with "sensor", "pin", "type", "supplyVolts", "low" and "high" ("sensorVolts", "pinVolts", "limitVolts",
    /// "marginVolts", "worstMarginVolts", "worstIsExact"), "delaySeconds", "isClean", "rippleLimitVolts" and "edges" ("sudden",
    /// "rises", "pinDelaySeconds", "gateDelaySeconds", "passageSeconds", "slowestPassageSeconds", "changes", "isClean").
    /// Times that are not reached are null.
    /// </summary>
    public static JsonObject Json(LogicResult r) => new()
    {
        ["sensor"] = r.Sensor,
        ["pin"] = r.Pin.Name,
        ["type"] = r.Pin.Logic!.Type.Name,
        ["supplyVolts"] = JsonNumber.Of(r.SupplyVolts),
        ["low"] = Json(r.Low),
        ["high"] = Json(r.High),
        ["delaySeconds"] = JsonNumber.Of(r.DelaySeconds),
        ["isClean"] = r.IsClean,
        ["rippleLimitVolts"] = JsonNumber.Of(r.RippleLimitVolts),
        ["edges"] = new JsonArray([.. r.Edges.Select(e => new JsonObject
        {
            ["sudden"] = e.IsSudden,
            ["rises"] = e.Rises,
            ["pinDelaySeconds"] = JsonNumber.Of(e.PinDelaySeconds),
            ["gateDelaySeconds"] = JsonNumber.Of(e.GateDelaySeconds),
            ["passageSeconds"] = JsonNumber.Of(e.PassageSeconds),
            ["slowestPassageSeconds"] = JsonNumber.Of(e.SlowestPassageSeconds),
            ["changes"] = e.Changes,
            ["isClean"] = e.IsClean,
        })]),
    };

    private static JsonObject Json(LogicLevel l) => new()
    {
        ["sensorVolts"] = JsonNumber.Of(l.SensorVolts),
        ["pinVolts"] = JsonNumber.Of(l.PinVolts),
        ["limitVolts"] = JsonNumber.Of(l.LimitVolts),
        ["marginVolts"] = JsonNumber.Of(l.MarginVolts),
        ["worstMarginVolts"] = JsonNumber.Of(l.WorstMarginVolts),
        ["worstIsExact"] = l.IsExact,
    };
}
