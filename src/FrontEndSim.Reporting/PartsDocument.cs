using System.Collections.Immutable;
using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting;

/// <summary>Part types of the catalogue, for programs to read and to draw.</summary>
public static class PartsDocument
{
    /// <summary>An object with the lists "diodes", "opamps" and "pins".</summary>
    public static JsonObject Json(IEnumerable<DiodeDataSheet> diodes, IEnumerable<OpAmpType> opAmps, IEnumerable<PinType> pins) => new()
    {
        ["diodes"] = new JsonArray([.. diodes.Select(d => (JsonNode)Diode(d))]),
        ["opamps"] = new JsonArray([.. opAmps.Select(o => (JsonNode)OpAmp(o))]),
        ["pins"] = PinTypesDocument.Json(pins),
    };

    /// <summary>
    /// A line a number of a data sheet: "type", "kind", "what", "value", "unit", "largest" (1 for a largest value), "fitted"
    /// (the model's value, empty where nothing is fitted), "source".
    /// </summary>
    public static string CsvText(IEnumerable<DiodeDataSheet> diodes, IEnumerable<OpAmpType> opAmps, IEnumerable<PinType> pins) =>
        Csv.Table(["type", "kind", "what", "value", "unit", "largest", "fitted", "source"],
        [
            .. diodes.SelectMany(d => PartCatalogue.Type(d).Points.Select(p => new[]
            {
                d.Name, DiodeFit.Word(d.Kind), p.Point.What, Csv.Number(p.Point.Value), p.Point.Unit, p.Point.IsLimit ? "1" : "0",
                Csv.Number(p.Fitted), p.Point.Source ?? d.Source,
            })),
            .. opAmps.SelectMany(o => Numbers(o).Select(n => new[] { o.Name, "opamp", n.What, Csv.Number(n.Value), n.Unit, "0", "", o.Source })),
            .. PinTypesDocument.Rows(pins),
        ]);

    /// <summary>The numbers of an op amp class that decide whether it suits.</summary>
    public static ImmutableArray<(string What, double Value, string Unit)> Numbers(OpAmpType type) =>
    [
        ("open-loop gain", type.Model.OpenLoopGain, ""), ("gain-bandwidth product", type.Model.GainBandwidthHertz, "Hz"),
        ("slew rate", type.Model.SlewVoltsPerSecond, "V/s"),
        ("input voltage noise density", type.Model.NoiseVolts, "V/√Hz"), ("input current noise density", type.Model.NoiseAmps, "A/√Hz"),
        ("largest offset voltage", type.OffsetVoltsSpread, "V"),
        ("bias current", type.Model.BiasAmps, "A"), ("largest bias current", type.BiasAmpsSpread, "A"),
        ("largest offset current", type.OffsetAmpsSpread, "A"), ("output drop from the positive rail", type.Model.DropHighVolts, "V"),
        ("output drop from the negative rail", type.Model.DropLowVolts, "V"), ("output current limit", type.Model.OutputLimitAmps, "A"),
        ("supply current", type.Model.SupplyAmps, "A"), ("lowest supply", type.LowestSupplyVolts, "V"), ("highest supply", type.HighestSupplyVolts, "V"),
    ];

    /// <summary>Reverse and forward current against voltage at two temperatures, the current on a logarithmic axis, and the sheet's points.</summary>
    public static ImmutableArray<Panel> Panels(DiodeType type, IReadOnlyList<PartCurve> curves) =>
        [.. ((bool[])[true, false]).Select(reverse => Panel(type, curves, reverse))];

    private static Panel Panel(DiodeType type, IReadOnlyList<PartCurve> curves, bool reverse)
    {
        string way = reverse ? "reverse" : "forward";
        return new($"{type.Name}: {way} current, with the points of its data sheet", new Axis($"{way} voltage", "V"),
            new Axis($"{way} current", "A") { IsLogarithmic = true },
            [.. curves.Where(c => c.IsReverse == reverse).Select((c, k) => new Curve(SiText.Format(c.Celsius, "°C"), c.Volts, c.Amps, k == 0 ? CurveLook.Simulated : CurveLook.Ideal))])
        {
            Notes =
            [
                .. type.Points.Where(p => p.Point.Kind == DataPointKind.ForwardVoltage != reverse && p.Point.Kind != DataPointKind.Impedance).Select(p =>
                    p.Point.Kind == DataPointKind.Leakage ? new Note(p.Point.ToString(), p.Point.At, p.Point.Value) : new Note(p.Point.ToString(), p.Point.Value, p.Point.At)),
            ],
        };
    }

    private static JsonObject Diode(DiodeDataSheet sheet)
    {
        var type = PartCatalogue.Type(sheet);
        return new()
        {
            ["name"] = type.Name,
            ["kind"] = DiodeFit.Word(type.Kind),
            ["points"] = new JsonArray([.. type.Points.Select(p => (JsonNode)new JsonObject
            {
                ["what"] = p.Point.What,
                ["value"] = JsonNumber.Of(p.Point.Value),
                ["unit"] = p.Point.Unit,
                ["largest"] = p.Point.IsLimit,
                ["fitted"] = JsonNumber.Of(p.Fitted),
                ["misfit"] = JsonNumber.Of(p.Misfit),
                ["source"] = p.Point.Source ?? sheet.Source,
            })]),
            ["tolerance"] = JsonNumber.Of(sheet.Tolerance),
            ["temperature coefficient (1/K)"] = JsonNumber.Of(sheet.TempCo),
            ["capacitance (F)"] = JsonNumber.Of(sheet.Farads),
            ["rated power (W)"] = JsonNumber.Of(sheet.RatedWatts),
            ["rated surge current (A)"] = JsonNumber.Of(sheet.RatedPeakAmps),
            ["rated reverse voltage (V)"] = JsonNumber.Of(sheet.ReverseVolts),
        };
    }

    private static JsonObject OpAmp(OpAmpType type)
    {
        var numbers = new JsonObject(Numbers(type).Select(n => KeyValuePair.Create(n.Unit == "" ? n.What : $"{n.What} ({n.Unit})", JsonNumber.Of(n.Value))));
        return new() { ["name"] = type.Name, ["kind"] = "opamp", ["numbers"] = numbers, ["source"] = type.Source };
    }
}
