using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Budget;

namespace FrontEndSim.Reporting;

/// <summary>An error budget, for programs to read. All errors are in the budget's own unit, counts or mV.</summary>
public static class BudgetDocument
{
    /// <summary>
    /// An object with "sensor", "pin", "unit", "spanCounts", "seed", "probability", "calibration" (two fractions of the span),
    /// "points", "assumptions" and "warnings". A point has "celsius", "at", "sensorVolts", "calibrated", "nominal", "standardUncertainty",
    /// "expandedUncertainty", "draws" ("count", "mean", "standardUncertainty", "low", "high", "shortestLow", "shortestHigh",
    /// "endsMayBeOff", "settled"), "worst" ("low", "high", "exact", "corners"), "contributions" ("source", "kind", "effect",
    /// "share"), the largest first, and "kinds" ("kind", "effect", "share").
    /// </summary>
    public static JsonObject Json(BudgetResult budget) => new()
    {
        ["sensor"] = budget.Sensor,
        ["pin"] = budget.Pin,
        ["unit"] = budget.Unit,
        ["spanCounts"] = JsonNumber.Of(budget.SpanCounts),
        ["seed"] = budget.Settings.MonteCarlo.Seed,
        ["probability"] = JsonNumber.Of(budget.Settings.MonteCarlo.Probability),
        ["calibration"] = JsonNumber.List([budget.Settings.Calibration.Low, budget.Settings.Calibration.High]),
        ["points"] = new JsonArray([.. budget.Points.Select(Json)]),
        ["assumptions"] = new JsonArray([.. budget.Assumptions.Select(a => JsonValue.Create(a))]),
        ["warnings"] = new JsonArray([.. budget.Warnings.Select(w => JsonValue.Create(w))]),
    };

    private static JsonObject Json(BudgetPoint p) => new()
    {
        ["celsius"] = JsonNumber.Of(p.Celsius),
        ["at"] = p.Place,
        ["sensorVolts"] = JsonNumber.Of(p.Volts),
        ["calibrated"] = p.IsCalibrated,
        ["nominal"] = JsonNumber.Of(p.Linear.Estimate),
        ["standardUncertainty"] = JsonNumber.Of(p.Linear.StandardUncertainty),
        ["expandedUncertainty"] = JsonNumber.Of(p.Linear.ExpandedUncertainty(p.Drawn.Probability)),
        ["draws"] = new JsonObject
        {
            ["count"] = p.Drawn.Draws,
            ["mean"] = JsonNumber.Of(p.Drawn.Mean),
            ["standardUncertainty"] = JsonNumber.Of(p.Drawn.StandardUncertainty),
            ["low"] = JsonNumber.Of(p.Drawn.Interval.Low),
            ["high"] = JsonNumber.Of(p.Drawn.Interval.High),
            ["shortestLow"] = JsonNumber.Of(p.Drawn.Shortest.Low),
            ["shortestHigh"] = JsonNumber.Of(p.Drawn.Shortest.High),
            ["endsMayBeOff"] = JsonNumber.Of(p.Drawn.Spread),
            ["settled"] = p.Drawn.HasSettled,
        },
        ["worst"] = new JsonObject
        {
            ["low"] = JsonNumber.Of(p.Worst.Low),
            ["high"] = JsonNumber.Of(p.Worst.High),
            ["exact"] = p.Worst.IsExact,
            ["corners"] = p.Worst.Corners,
        },
        ["contributions"] = new JsonArray([.. p.Ranked.Select(r => Share(r.Source, r.Kind, r.Effect, r.Share))]),
        ["kinds"] = new JsonArray([.. p.ByKind.Select(k => Share(null, k.Kind, k.Effect, k.Share))]),
    };

    private static JsonObject Share(string? source, ErrorKind kind, double effect, double share)
    {
        var found = new JsonObject();
        if (source is not null)
            found["source"] = source;
        found["kind"] = Word(kind);
        found["effect"] = JsonNumber.Of(effect);
        found["share"] = JsonNumber.Of(share);
        return found;
    }

    /// <summary>A kind of source in words.</summary>
    public static string Word(ErrorKind kind) => kind switch
    {
        ErrorKind.ResistorTolerance => "resistor tolerance",
        ErrorKind.ResistorTemperature => "resistor temperature coefficient",
        ErrorKind.Rail => "rail or reference",
        ErrorKind.OffsetVoltage => "op amp offset",
        ErrorKind.BiasCurrent => "op amp bias current",
        ErrorKind.Gain => "op amp gain",
        ErrorKind.Leakage => "leakage",
        ErrorKind.Converter => "converter offset, gain, linearity",
        ErrorKind.Quantisation => "quantisation",
        ErrorKind.Settling => "sampling settle",
        ErrorKind.Noise => "noise",
        _ => "calibration readings",
    };

    /// <summary>A row for each point: temperature, place, calibration, then the results, units in the header.</summary>
    public static string CsvText(BudgetResult budget) => Csv.Table(
        [
            "temperature (°C)", "at", $"{budget.Sensor} (V)", "calibrated", .. new[]
            {
                "nominal", "standard uncertainty", "expanded uncertainty", "low", "high", "worst low", "worst high",
            }.Select(h => $"{h} ({budget.Unit})"), "worst is exact",
        ],
        budget.Points.Select(p => (string[])
        [
            Csv.Number(p.Celsius), p.Place, Csv.Number(p.Volts), p.IsCalibrated ? "yes" : "no", Csv.Number(p.Linear.Estimate),
            Csv.Number(p.Linear.StandardUncertainty), Csv.Number(p.Linear.ExpandedUncertainty(p.Drawn.Probability)),
            Csv.Number(p.Drawn.Interval.Low), Csv.Number(p.Drawn.Interval.High), Csv.Number(p.Worst.Low), Csv.Number(p.Worst.High),
            p.Worst.IsExact ? "yes" : "no",
        ]));
}
