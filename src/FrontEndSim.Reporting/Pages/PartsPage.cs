using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>The catalogue: a line a type, or all that is known of one.</summary>
public static class PartsPage
{
    private const string OfSupply = "of the supply", Limits = "Ratings are limits and not operating values.";

    /// <summary>Types in a list.</summary>
    public static (Page Page, TypeSheets Record) List(IReadOnlyList<DiodeDataSheet> diodes,
        IReadOnlyList<PartType> types, IReadOnlyList<OpAmpType> opAmps, IReadOnlyList<PinType> pins)
    {
        var sheets = new TypeSheets([.. diodes.Select(Sheet), .. types.Select(Sheet), .. opAmps.Select(Sheet), .. pins.Select(Sheet)]);
        string[] counted =
        [
            .. new[] { (diodes.Count, "diode", "diodes"), (types.Count, "other type", "other types"),
                (opAmps.Count, "class of op amp", "classes of op amp"), (pins.Count, "type of pin", "types of pin") }
                .Where(c => c.Item1 > 0).Select(c => Figures.Counted(c.Item1, c.Item2, c.Item3)),
        ];
        return (new Page(string.Join(", ", counted),
            [
                new Table("", [new("type"), new("kind"), new("first number of its data sheet"),
                    new("power", ColumnKind.Number, "W"), new("source")],
                    [.. diodes.Select(d => (ImmutableArray<Cell>)[d.Name, DiodeFit.Word(d.Kind), d.Points[0]
                        .ToString(), d.RatedWatts, d.Source])]),
                new Table("", [new("type"), new("kind"), new("first number of its data sheet"), new("source")],
                    [.. types.Select(t => (ImmutableArray<Cell>)[t.Name, t.Kind,
                        $"{t.Figures[0].What} {Figures.Of(t.Figures[0].Value, t.Figures[0].Unit)}", t.Source])]),
                new Table("",
                    [new("op amp class"), new("bandwidth", ColumnKind.Number, "Hz"),
                        new("largest offset", ColumnKind.Number, "V"), new("supply", ColumnKind.Number), new("source")],
                    [
                        .. opAmps.Select(o => (ImmutableArray<Cell>)
                        [
                            o.Name, o.Model.GainBandwidthHertz, o.OffsetVoltsSpread,
                                $"{Figures.Plain(o.LowestSupplyVolts, "")} .. {Figures.Plain(o.HighestSupplyVolts, "V")}", o.Source,
                        ]),
                    ]),
                new Table("",
                    [new("pin type"), new("rated"), new("into clamps", ColumnKind.Number, "A"),
                        new("leakage", ColumnKind.Number, "A"), new("low, high"), new("source")],
                    [.. pins.Select(t =>
                        (ImmutableArray<Cell>)[t.Name, Rated(t), t.InjectionAmps, t.LeakageAmps, Thresholds(t), t.Source])]),
                new Paragraph("frontendsim parts NAME shows one of them, with its fit; --plot FILE draws its curve."),
            ])
        { Data = Data(sheets) }, sheets);
    }

    /// <summary>All that is known of a type, with what its model makes of each number.</summary>
    public static (Page Page, TypeSheets Record) Of(PartType type)
    {
        var sheets = new TypeSheets([Sheet(type)]);
        return (new Page($"{type.Kind} {type.Name}", [Fit(sheets.Types[0]), Stated(sheets.Types[0]),
            new Paragraph($"Source: {type.Source}."), new Paragraph(Limits)])
        { Data = Data(sheets) }, sheets);
    }

    /// <summary>All that is known of a diode, with its fit.</summary>
    public static (Page Page, TypeSheets Record) Of(DiodeType type, IReadOnlyList<PartCurve> curves)
    {
        var sheet = Sheet(type.Sheet!);
        var low = type.Kind != DiodeKind.Zener ? [] : ((double[])[1e-6, 10e-6, 100e-6, 1e-3])
            .Select(amps => $"{Figures.Volts(DiodeFit.ReverseVolts(type, amps), 3)} at {Figures.Of(amps, "A")}");
        var sheets = new TypeSheets([sheet]);
        return (new Page($"{sheet.Kind} {sheet.Name}",
            [
                Fit(sheet), Stated(sheet),
                new Pictures(Panels(type, curves)),
                .. type.Kind == DiodeKind.Zener ? [new Paragraph($"In reverse it conducts already at {string.Join(", ", low)}.")]
                    : Array.Empty<Block>(),
                new Paragraph(Limits),
            ])
        { Data = Data(sheets) }, sheets);
    }

    /// <summary>All that is known of a class of op amp.</summary>
    public static (Page Page, TypeSheets Record) Of(OpAmpType type)
    {
        var sheets = new TypeSheets([Sheet(type)]);
        return (new Page($"op amp class {type.Name}",
            [Numbers(sheets.Types[0]), new Paragraph($"Source: {type.Source}.")])
        { Data = Data(sheets) }, sheets);
    }

    /// <summary>All that is known of a type of pin.</summary>
    public static (Page Page, TypeSheets Record) Of(PinType type)
    {
        var sheets = new TypeSheets([Sheet(type)]);
        return (new Page($"pin type {type.Name}: {type.Summary}",
            [
                Numbers(sheets.Types[0]),
                type.Levels.Length < 2 ? new Sentences([]) : new Table("",
                    [new("supply", ColumnKind.Number, "V"), new("reads low below", ColumnKind.Number, "V"),
                        new("reads high above", ColumnKind.Number, "V")],
                    [.. ((double[])[type.Supply.Low, type.Supply.High])
                        .Select(v => (ImmutableArray<Cell>)[v, type.LowBelow(v), type.HighAbove(v)])]),
                .. type.AboveSupplyVolts is { } above
                    ? [new Paragraph($"With its supply off it is rated for {Figures.Volts(above)}: what drives it then feeds it through "
                        + $"its clamps.")] : Array.Empty<Block>(),
                new Paragraph($"In a file, below a pin: type {type.Name} on RAIL. {Limits}"),
                new Paragraph($"Source: {type.Source}. The device's own data sheet goes before it."),
            ])
        { Data = Data(sheets) }, sheets);
    }

    /// <summary>Reverse and forward current against voltage at two temperatures, the current on a logarithmic axis, and the sheet's
    /// points.</summary>
    public static ImmutableArray<Panel> Panels(DiodeType type, IReadOnlyList<PartCurve> curves) =>
        [.. ((bool[])[true, false]).Where(r => curves.Any(c => c.IsReverse == r)).Select(reverse => Panel(type, curves, reverse))];

    private static Panel Panel(DiodeType type, IReadOnlyList<PartCurve> curves, bool reverse)
    {
        string way = reverse ? "reverse" : "forward";
        return new($"{type.Name}: {way} current, with the points of its data sheet", new Axis($"{way} voltage", "V"),
            new Axis($"{way} current", "A") { IsLogarithmic = true },
            [.. curves.Where(c => c.IsReverse == reverse)
                .Select((c, k) => new Curve(Figures.Of(c.Celsius, "°C"), c.Volts, c.Amps, k == 0 ? CurveLook.Simulated : CurveLook.Ideal))])
        {
            Notes =
            [
                .. type.Points.Select(p => p.Point).Where(p =>
                    p.Kind == DataPointKind.ForwardVoltage != reverse && p.Kind != DataPointKind.Impedance)
                    .Select(p => p.Kind == DataPointKind.Leakage ? new Note(p.ToString(), p.At, p.Value)
                        : new Note(p.ToString(), p.Value, p.At)),
            ],
        };
    }

    private static Table Fit(TypeSheet sheet) => new("",
        [new("data sheet"), new("given", ColumnKind.Number), new("model", ColumnKind.Number),
            new("residual", ColumnKind.Number), new("source")],
        [
            .. sheet.Numbers.Where(n => n.Fitted is not null).Select(n => (ImmutableArray<Cell>)
            [
                n.What, (n.IsLimit && !n.What.StartsWith("least", StringComparison.Ordinal)
                    && !n.What.StartsWith("largest", StringComparison.Ordinal) ? "at most " : "")
                    + Figures.Of(n.Value, n.Unit), new Cell { Number = n.Fitted, Unit = n.Unit }, Residual(n.Residual ?? 0), n.Source,
            ]),
        ]);

    private static Table Stated(TypeSheet sheet) => new("", [new("rating and law"), new("value", ColumnKind.Number)],
        [.. sheet.Numbers.Where(n => n.Fitted is null && double.IsFinite(n.Value)).Select(n => (ImmutableArray<Cell>)[n.What, Value(n)])]);

    private static Table Numbers(TypeSheet sheet) =>
        new("", [new("number"), new("value", ColumnKind.Number)], [.. sheet.Numbers.Select(n => (ImmutableArray<Cell>)[n.What, Value(n)])]);

    private static string Value(TypeNumber n) =>
        n.Unit == OfSupply ? $"{Figures.Percent(n.Value)} {OfSupply}" : Figures.Of(n.Value, n.Unit);

    private static string Residual(double residual) =>
        Math.Abs(residual) < 1e-4 ? "0" : (residual > 0 ? "+" : "") + Figures.Percent(residual, 2);

    private static string Rated(PinType t) => $"{Figures.Plain(-t.BelowGroundVolts, "V")} .. "
        + (t.AboveSupplyVolts is { } above ? $"supply + {Figures.Plain(above, "V")}" : Figures.Plain(t.HighestVolts!.Value, "V"));

    private static string Thresholds(PinType t) => t.Levels.IsEmpty ? "-"
        : $"{Figures.Plain(t.Levels[^1].LowBelow, "V")}, {Figures.Plain(t.Levels[^1].HighAbove, "V")}"
            + (t.Levels.Length == 1 ? "" : $" at {Figures.Plain(t.Levels[^1].SupplyVolts, "V")}");

    private static Table Data(TypeSheets sheets) => new("",
        [new("type"), new("kind"), new("what"), new("value", ColumnKind.Number), new("unit"),
            new("largest"), new("fitted", ColumnKind.Number), new("source")],
        [
            .. sheets.Types.SelectMany(t => t.Numbers.Select(n => (ImmutableArray<Cell>)
                [t.Name, t.Kind, n.What, n.Value, n.Unit, n.IsLimit ? "1" : "0", n.Fitted, n.Source])),
        ]);

    private static TypeSheet Sheet(PartType type) => new(type.Name, type.Kind, "",
        [.. type.Figures.Select(f => new TypeNumber(f.What, f.Value, f.Unit, type.Source) { IsLimit = f.IsLimit,
            Fitted = f.Fitted, Residual = f.Residual })], type.Source);

    private static TypeSheet Sheet(DiodeDataSheet sheet)
    {
        var type = PartCatalogue.Type(sheet);
        return new(sheet.Name, DiodeFit.Word(sheet.Kind), "",
            [
                .. type.Points.Select(p => new TypeNumber(p.Point.What, p.Point.Value, p.Point.Unit, p.Point.Source ?? sheet.Source)
                    { IsLimit = p.Point.IsLimit, Fitted = p.Fitted, Residual = p.Residual }),
                .. Ratings(sheet).Select(r => new TypeNumber(r.What, r.Value, r.Unit, sheet.Source) { IsLimit = r.IsLimit }),
            ], sheet.Source);
    }

    private static IEnumerable<(string What, double Value, string Unit, bool IsLimit)> Ratings(DiodeDataSheet sheet)
    {
        yield return ("rated power", sheet.RatedWatts, "W", true);
        if (double.IsFinite(sheet.RatedPeakAmps))
            yield return ("rated surge current", sheet.RatedPeakAmps, "A", true);
        if (double.IsFinite(sheet.ReverseVolts))
            yield return ("rated reverse voltage", sheet.ReverseVolts, "V", true);
        if (sheet.Tolerance > 0)
            yield return ("tolerance of the zener voltage", sheet.Tolerance, "%", true);
        if (sheet.Kind == DiodeKind.Zener)
            yield return ("temperature coefficient", sheet.TempCo, "1/K", false);
        else
            yield return ("leakage doubles every", sheet.LeakageDoublingKelvin, "K", false);
        if (sheet.Farads > 0)
            yield return ("capacitance at 0 V", sheet.Farads, "F", false);
    }

    private static TypeSheet Sheet(OpAmpType type) => new(type.Name, "opamp", "",
        [
            .. new[]
            {
                ("open-loop gain", type.Model.OpenLoopGain, ""), ("gain-bandwidth product", type.Model.GainBandwidthHertz, "Hz"),
                ("slew rate", type.Model.SlewVoltsPerSecond, "V/s"),
                ("input voltage noise density", type.Model.NoiseVolts, "V/√Hz"),
                    ("input current noise density", type.Model.NoiseAmps, "A/√Hz"),
                ("largest offset voltage", type.OffsetVoltsSpread, "V"),
                ("bias current", type.Model.BiasAmps, "A"), ("largest bias current", type.BiasAmpsSpread, "A"),
                ("largest offset current", type.OffsetAmpsSpread, "A"),
                    ("output drop from the positive rail", type.Model.DropHighVolts, "V"),
                ("output drop from the negative rail", type.Model.DropLowVolts, "V"),
                    ("output current limit", type.Model.OutputLimitAmps, "A"),
                ("capacitance of an input", type.InputFarads, "F"), ("capacitance between the inputs", type.BetweenFarads, "F"),
                ("supply current", type.Model.SupplyAmps, "A"), ("lowest supply", type.LowestSupplyVolts, "V"),
                    ("highest supply", type.HighestSupplyVolts, "V"),
            }.Select(n => new TypeNumber(n.Item1, n.Item2, n.Item3, type.Source)),
        ], type.Source);

    private static TypeSheet Sheet(PinType type) => new(type.Name, "pin", type.Summary,
        [.. PinNumbers(type).Select(n => new TypeNumber(n.What, n.Value, n.Unit,
            type.Source) { IsLimit = n.What.Contains("at most", StringComparison.Ordinal) })], type.Source);

    private static ImmutableArray<(string What, double Value, string Unit)> PinNumbers(PinType type)
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
        foreach (var level in type.Levels)
        {
            string at = type.Levels.Length == 1 ? "" : $" at a supply of {Figures.Volts(level.SupplyVolts)}";
            found.Add(("reads low below" + at, level.LowBelow, "V"));
            found.Add(("reads high above" + at, level.HighAbove, "V"));
        }
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

        void Threshold(string what, double share, double volts) => found.Add(share > 0 ? (what, share, OfSupply) : (what, volts, "V"));

        void Add(string what, double? value, string unit)
        {
            if (value is { } given)
                found.Add((what, given, unit));
        }
    }
}
