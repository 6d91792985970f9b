using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Compare;

namespace FrontEndSim.Reporting;

/// <summary>Readings against prediction, for programs to read.</summary>
public static class CompareDocument
{
    /// <summary>An object with "isInside", "verdict", "sensor", "mismatch", "readings" and "explanations" (the one that leaves least first).</summary>
    /// <param name="result">The comparison.</param>
    public static JsonObject Json(CompareResult result) => new()
    {
        ["isInside"] = result.IsInside,
        ["verdict"] = result.Verdict,
        ["sensor"] = result.Sensor,
        ["mismatch"] = JsonNumber.Of(result.Mismatch),
        ["readings"] = new JsonArray([.. result.Readings.Select(r => new JsonObject
        {
            ["line"] = r.Reading.Line,
            ["sensorVolts"] = JsonNumber.Of(r.Reading.SensorVolts),
            ["node"] = r.Reading.Node,
            ["pin"] = r.Reading.Pin,
            ["unit"] = r.Reading.Pin is null ? "V" : "counts",
            ["value"] = JsonNumber.Of(r.Reading.Value),
            ["expected"] = JsonNumber.Of(r.Expected),
            ["low"] = JsonNumber.Of(r.Low),
            ["high"] = JsonNumber.Of(r.High),
            ["isInside"] = r.IsInside,
        })]),
        ["explanations"] = new JsonArray([.. result.Explanations.Select(e => new JsonObject
        {
            ["part"] = e.Part,
            ["words"] = e.Words,
            ["fitted"] = JsonNumber.Of(e.Fitted),
            ["left"] = JsonNumber.Of(e.Left),
            ["isWithinTolerance"] = e.IsWithinTolerance,
        })]),
    };

    /// <summary>A row a reading.</summary>
    /// <param name="result">The comparison.</param>
    public static string CsvText(CompareResult result) => Csv.Table(
        [$"{result.Sensor} (V)", "at", "unit", "read", "expected", "lowest", "highest", "inside"],
        result.Readings.Select(r => (string[])
        [
            Csv.Number(r.Reading.SensorVolts), r.Reading.Pin ?? r.Reading.Node, r.Reading.Pin is null ? "V" : "counts", Csv.Number(r.Reading.Value),
            Csv.Number(r.Expected), Csv.Number(r.Low), Csv.Number(r.High), r.IsInside ? "yes" : "no",
        ]));
}
