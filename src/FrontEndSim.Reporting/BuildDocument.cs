using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Build;

namespace FrontEndSim.Reporting;

/// <summary>The build sheet, for programs to read.</summary>
public static class BuildDocument
{
    /// <summary>An object with "title", "parts", "steps", "points", "meter", "firmware" and "cautions".</summary>
    /// <param name="sheet">The sheet.</param>
    public static JsonObject Json(BuildResult sheet) => new()
    {
        ["title"] = sheet.Title,
        ["parts"] = new JsonArray([.. sheet.Parts.Select(p => new JsonObject
        {
            ["names"] = new JsonArray([.. p.Names.Select(n => (JsonNode)n)]),
            ["quantity"] = p.Names.Length,
            ["word"] = p.Word,
            ["value"] = p.Value,
            ["needed"] = p.Needed,
            ["reason"] = p.Reason,
            ["isBeyondRating"] = p.IsBeyond,
        })]),
        ["steps"] = new JsonArray([.. sheet.Steps.Select(s => (JsonNode)s)]),
        ["points"] = new JsonArray([.. sheet.Points.Select(p => new JsonObject
        {
            ["set"] = p.Set,
            ["sensorVolts"] = JsonNumber.Of(p.SensorVolts),
            ["node"] = p.Node,
            ["what"] = p.What,
            ["expectedVolts"] = JsonNumber.Of(p.ExpectedVolts),
            ["lowVolts"] = JsonNumber.Of(p.LowVolts),
            ["highVolts"] = JsonNumber.Of(p.HighVolts),
            ["code"] = JsonNumber.Of(p.Code),
        })]),
        ["meter"] = new JsonObject
        {
            ["accuracy"] = JsonNumber.Of(sheet.Meter.Accuracy),
            ["floorVolts"] = JsonNumber.Of(sheet.Meter.FloorVolts),
            ["inputOhms"] = JsonNumber.Of(sheet.Meter.InputOhms),
        },
        ["firmware"] = new JsonArray([.. sheet.Firmware.Select(f => new JsonObject
        {
            ["pin"] = f.Pin,
            ["sensor"] = f.Sensor,
            ["bits"] = f.Bits,
            ["slopeVolts"] = JsonNumber.Of(f.SlopeVolts),
            ["offsetVolts"] = JsonNumber.Of(f.OffsetVolts),
            ["lowCode"] = JsonNumber.Of(f.LowCode),
            ["highCode"] = JsonNumber.Of(f.HighCode),
            ["lineErrorVolts"] = JsonNumber.Of(f.LineErrorVolts),
            ["whole"] = new JsonObject
            {
                ["factor"] = f.Whole.Factor,
                ["shift"] = f.Whole.Shift,
                ["rounding"] = f.Whole.Rounding,
                ["offset"] = f.Whole.Offset,
                ["resultVolts"] = JsonNumber.Of(f.Whole.ResultVolts),
                ["productBits"] = f.Whole.ProductBits,
                ["resultBits"] = f.Whole.ResultBits,
                ["roundingVolts"] = JsonNumber.Of(f.Whole.RoundingVolts),
            },
            ["calibration"] = new JsonObject
            {
                ["lowVolts"] = JsonNumber.Of(f.Calibration.LowVolts),
                ["highVolts"] = JsonNumber.Of(f.Calibration.HighVolts),
                ["lowCode"] = JsonNumber.Of(f.Calibration.LowCode),
                ["highCode"] = JsonNumber.Of(f.Calibration.HighCode),
                ["leftVolts"] = JsonNumber.Of(f.Calibration.LeftVolts),
            },
            ["c"] = FirmwareText.C(f),
        })]),
        ["cautions"] = new JsonArray([.. sheet.Cautions.Select(c => (JsonNode)c)]),
    };

    /// <summary>The bench points, a row each, with an empty last column for the reading taken.</summary>
    /// <param name="sheet">The sheet.</param>
    public static string CsvText(BuildResult sheet) => Csv.Table(
        ["set", "sensor (V)", "node", "what", "expected (V)", "lowest (V)", "highest (V)", "code", "reading (V)"],
        sheet.Points.Select(p => (string[])
        [
            p.Set, p.SensorVolts is { } v ? Csv.Number(v) : "", p.Node, p.What, Csv.Number(p.ExpectedVolts), Csv.Number(p.LowVolts), Csv.Number(p.HighVolts),
            p.Code is { } code ? Csv.Number(code) : "", "",
        ]));
}
