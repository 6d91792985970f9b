using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.Reporting;

/// <summary>How a pin follows its sensor, for programs to read.</summary>
public static class RespondDocument
{
    /// <summary>
    /// An object with "sensor", "pin", "halfCountVolts", "settlingSeconds", "up" and "down" ("fromVolts", "toVolts",
    /// "riseSeconds", "settlingSeconds", "overshoot"), "gain", "cornerHertz", "sampleHertz", "halfRateAttenuation" (dB),
    /// "frequency" ("hertz", "decibels", "degrees" over that at rest), "samples" ("sensorVolts", "startVolts", "restVolts",
    /// "heldVolts", "longEnoughSeconds"), "noise" ("rmsVolts" and "parts" with "part" and "rmsVolts"), "rows" ("sensorVolts", "startVolts", "keepsCharge", "restVolts", "heldVolts" of each sample in a row) and "audit" (of the step up); for a logic pin also "logic" (<see cref="LogicDocument"/>). Times that are not reached are null.
    /// </summary>
    public static JsonObject Json(RespondResult r, LogicResult? logic = null)
    {
        var json = Json(r);
        if (logic is not null)
            json["logic"] = LogicDocument.Json(logic);
        return json;
    }

    private static JsonObject Json(RespondResult r) => new()
    {
        ["sensor"] = r.Sensor,
        ["pin"] = r.Pin,
        ["halfCountVolts"] = JsonNumber.Of(r.HalfCountVolts),
        ["settlingSeconds"] = JsonNumber.Of(r.SettlingSeconds),
        ["up"] = Json(r.Up),
        ["down"] = Json(r.Down),
        ["gain"] = JsonNumber.Of(r.Frequency.Gain),
        ["cornerHertz"] = JsonNumber.Of(r.Frequency.CornerHertz),
        ["sampleHertz"] = JsonNumber.Of(r.Frequency.SampleHertz),
        ["halfRateAttenuation"] = JsonNumber.Of(r.Frequency.HalfRateAttenuation),
        ["frequency"] = new JsonObject
        {
            ["hertz"] = JsonNumber.List(r.Frequency.Points.Select(p => p.Hertz)),
            ["decibels"] = JsonNumber.List(r.Frequency.Points.Select(p => p.Decibels)),
            ["degrees"] = JsonNumber.List(r.Frequency.Points.Select(p => p.Degrees)),
        },
        ["samples"] = new JsonArray([.. r.Sampling.Select(s => new JsonObject
        {
            ["sensorVolts"] = JsonNumber.Of(s.SensorVolts),
            ["startVolts"] = JsonNumber.Of(s.StartVolts),
            ["restVolts"] = JsonNumber.Of(s.RestVolts),
            ["heldVolts"] = JsonNumber.Of(s.HeldVolts),
            ["longEnoughSeconds"] = JsonNumber.Of(s.LongEnoughSeconds),
        })]),
        ["noise"] = new JsonObject
        {
            ["rmsVolts"] = JsonNumber.Of(r.Noise.RmsVolts),
            ["parts"] = new JsonArray([.. r.Noise.Parts.Select(p => new JsonObject { ["part"] = p.Part, ["rmsVolts"] = JsonNumber.Of(p.RmsVolts) })]),
        },
        ["rows"] = new JsonArray([.. r.Rows.Select(s => new JsonObject
        {
            ["sensorVolts"] = JsonNumber.Of(s.SensorVolts),
            ["startVolts"] = JsonNumber.Of(s.StartVolts),
            ["keepsCharge"] = s.KeepsCharge,
            ["restVolts"] = JsonNumber.Of(s.RestVolts),
            ["heldVolts"] = JsonNumber.List(s.HeldVolts),
        })]),
        ["audit"] = AuditDocument.Json(r.Up.Run.Audit),
    };

    private static JsonObject Json(StepResponse s) => new()
    {
        ["fromVolts"] = JsonNumber.Of(s.FromVolts),
        ["toVolts"] = JsonNumber.Of(s.ToVolts),
        ["riseSeconds"] = JsonNumber.Of(s.RiseSeconds),
        ["settlingSeconds"] = JsonNumber.Of(s.SettlingSeconds),
        ["overshoot"] = JsonNumber.Of(s.Overshoot),
    };

    /// <summary>The response against frequency: hertz, gain and phase over those at rest.</summary>
    public static string CsvText(RespondResult r) => Csv.Table(["frequency (Hz)", "gain (dB)", "phase (degrees)"],
        r.Frequency.Points.Select(p => (string[])[Csv.Number(p.Hertz), Csv.Number(p.Decibels), Csv.Number(p.Degrees)]));
}
