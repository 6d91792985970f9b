using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>How far readings may be off, as read and after a calibration, and what makes them so, the largest first.</summary>
public static class BudgetPage
{
    private const int MostSources = 12;

    /// <summary>The page.</summary>
    /// <param name="title">Title of the front end.</param>
    /// <param name="budget">The budget.</param>
    public static Page Of(string title, BudgetResult budget) => new(title, Blocks(budget)) { Data = Data(budget) };

    /// <summary>One budget of several.</summary>
    /// <param name="budget">The budget.</param>
    /// <param name="number">Which it is, from 0.</param>
    public static Section Section(BudgetResult budget, int number) =>
        new($"{number}", budget.IsOfReading ? $"Reading {budget.Pin} of sensor {budget.Sensor}"
            : $"Sensor {budget.Sensor} onto pin {budget.Pin}", Blocks(budget));

    /// <summary>The blocks of a budget.</summary>
    public static ImmutableArray<Block> Blocks(BudgetResult budget)
    {
        budget = Shown(budget);
        var (wanted, unit) = (budget.Wanted, budget.Unit);
        string coverage = Figures.Percent(budget.Settings.MonteCarlo.Probability);
        return
        [
            new Paragraph((budget.IsOfReading ? $"Reading {budget.Pin} of sensor {budget.Sensor}, " : $"Sensor {budget.Sensor}, ")
                + Figures.Range(budget.Points.Min(p => p.SensorValue), budget.Points.Max(p => p.SensorValue), budget.SensorUnit)
                + (budget.IsOfReading ? ""
                    : $", onto pin {budget.Pin}, {Figures.Range(wanted.Output)}: {Figures.Plain(budget.SpanCounts, unit)}")),
            new Lines(!budget.IsBent ? []
                : [new("Warning",
                $"Between the two readings of the calibration pin {budget.Pin} rises by {Figures.Percent(budget.CalibrationRise, 3)} "
                + "of what is wanted: it is bent, or bounded by an op amp's swing or a clamp, and a straight line does not put that "
                    + "right.") { Standing = Standing.Warning }]),
            new Facts([.. States(budget).SelectMany(calibrated => Key(budget, calibrated, coverage))]) { Media = Media.Paper },
            .. States(budget).Select(calibrated => new Ranges(Heading(budget, calibrated), new Axis("error", unit),
                [.. Points(budget, calibrated).Select(p => Range(p, unit, coverage))])),
            .. States(budget).Select(calibrated => Table(budget, calibrated, coverage)),
            .. States(budget).Select(calibrated => Sources(budget, calibrated)),
            new Lines([.. Notes(budget, coverage)]),
        ];
    }

    /// <summary>Errors in the sensor's unit in parts of it that are neither large nor small: milliamperes, or hundredths.</summary>
    private static BudgetResult Shown(BudgetResult budget)
    {
        var (factor, unit) = budget.IsOfReading ? Scale(budget) : (1, budget.Unit);
        return factor == 1 ? budget : budget with
        {
            Unit = unit,
            SpanCounts = factor * budget.SpanCounts,
            Points =
            [
                .. budget.Points.Select(p => new BudgetPoint(p.Celsius, p.Place, p.SensorValue, p.IsCalibrated,
                    new(factor * p.Linear.Estimate, [.. p.Linear.Contributions.Select(c => c with { Effect = factor * c.Effect })]),
                    p.Drawn with
                    {
                        Mean = factor * p.Drawn.Mean,
                        StandardUncertainty = factor * p.Drawn.StandardUncertainty,
                        Interval = new(factor * p.Drawn.Interval.Low, factor * p.Drawn.Interval.High),
                        Shortest = new(factor * p.Drawn.Shortest.Low, factor * p.Drawn.Shortest.High),
                        Spread = factor * p.Drawn.Spread,
                    },
                    p.Worst with { Low = factor * p.Worst.Low, High = factor * p.Worst.High }) { ValuePerCount = 1 / factor }),
            ],
        };
    }

    private static (double Factor, string Unit) Scale(BudgetResult budget)
    {
        if (budget.Unit == "%")
            return (100, "%");
        double largest = budget.Points.Max(p => Math.Max(Math.Abs(p.Worst.Low), Math.Abs(p.Worst.High)));
        if (!SiText.TakesPrefix(budget.Unit) || !(largest > 0))
            return (1, budget.Unit);
        double factor = Math.Pow(1000, -Math.Clamp(Math.Floor(Math.Log10(largest) / 3), -4, 0));
        return (factor, Figures.Of(1 / factor, budget.Unit, 1)["1 ".Length..]);
    }

    // As read, and as calibrated where that was looked at.
    private static bool[] States(BudgetResult budget) => budget.IsOfReading ? [false] : [false, true];

    private static IEnumerable<BudgetPoint> Points(BudgetResult budget, bool calibrated) =>
        budget.Points.Where(p => p.IsCalibrated == calibrated);

    private static string Heading(BudgetResult budget, bool calibrated) => calibrated
        ? $"Error after a calibration at {Figures.Percent(budget.Settings.Calibration.Low)} and "
            + $"{Figures.Percent(budget.Settings.Calibration.High)} of the span"
        : "Error as read";

    private static IEnumerable<Fact> Key(BudgetResult budget, bool calibrated, string coverage)
    {
        string state = calibrated ? "calibrated" : "as read";
        var interval = budget.Worst(calibrated).Drawn.Interval;
        yield return new($"{state}, {coverage} coverage interval", Figures.Interval(interval.Low, interval.High, budget.Unit));
        yield return new($"{state}, worst case",
            Figures.Interval(Points(budget, calibrated).Min(p => p.Worst.Low), Points(budget, calibrated)
                .Max(p => p.Worst.High), budget.Unit));
    }

    private static RangeRow Range(BudgetPoint p, string unit, string coverage) =>
        new(Where(p), p.Worst.Low, p.Worst.High, p.Drawn.Interval.Low, p.Drawn.Interval.High,
        p.Linear.Estimate,
            $"{Where(p)}: nominal {Figures.Plain(p.Linear.Estimate, unit, 3)}, {coverage} coverage interval from "
            + $"{Figures.Plain(p.Drawn.Interval.Low, unit, 3)} "
            + $"to {Figures.Plain(p.Drawn.Interval.High, unit, 3)}, worst case from {Figures.Plain(p.Worst.Low, unit, 3)} to "
                + $"{Figures.Plain(p.Worst.High, unit, 3)}.");

    private static string Where(BudgetPoint p) => $"{Figures.Of(p.Celsius, "°C")}, {p.Place}";

    private static Table Table(BudgetResult budget, bool calibrated, string coverage) =>
        new($"{Heading(budget, calibrated)} ({budget.Unit})",
        [
            new("", ColumnKind.Number, "°C"), new("at"), new("nominal", ColumnKind.Signed), new("±U", ColumnKind.Plain) { Digits = 3 },
            new($"{coverage} interval", ColumnKind.Number), new("worst case", ColumnKind.Number),
                new("of span", ColumnKind.Plain, "%") { Digits = 2 },
            new("sensor", ColumnKind.Number, budget.SensorUnit) { Digits = 2 },
        ],
        [
            .. Points(budget, calibrated).Select(p =>
            {
                double largest = Math.Max(Math.Abs(p.Drawn.Interval.Low), Math.Abs(p.Drawn.Interval.High));
                return (ImmutableArray<Cell>)
                [
                    p.Celsius, p.Place, p.Linear.Estimate, p.ExpandedUncertainty,
                        Figures.Interval(p.Drawn.Interval.Low, p.Drawn.Interval.High, ""),
                    Figures.Interval(p.Worst.Low, p.Worst.High, ""), 100 * budget.OfSpan(largest), largest * p.ValuePerCount,
                ];
            }),
        ]);

    private static Table Sources(BudgetResult budget, bool calibrated)
    {
        var worst = budget.Worst(calibrated);
        var ranked = worst.Ranked.ToArray();
        double largest = ranked.Length == 0 ? 1 : Math.Abs(ranked[0].Effect);
        var rest = ranked.Skip(MostSources).ToArray();
        double together = Math.Sqrt(rest.Sum(r => r.Effect * r.Effect));
        ImmutableArray<Cell> Row(string source, double effect, double share) =>
            [source, effect, 100 * share, new Cell { Words = "", Share = Math.Abs(effect) / largest }];
        return new(
            $"What makes it so at {worst.Place}, {Figures.Of(worst.Celsius, "°C")}, {(calibrated ? "after calibration" : "as read")}: "
            + $"standard uncertainty {Figures.Plain(worst.Linear.StandardUncertainty, budget.Unit, 3)}",
            [new("source"), new("u", ColumnKind.Signed), new("of variance", ColumnKind.Plain, "%") { Digits = 2 }, new("", ColumnKind.Bar)],
            [
                .. ranked.Take(MostSources).Select(r => Row(Name(r), r.Effect, r.Share)),
                .. rest.Length == 0 ? [] : new[] { Row($"{rest.Length} more", together, rest.Sum(r => r.Share)) },
            ]);
    }

    private static string Name(BudgetShare share) => share.Reading switch
    {
        CalibrationReading.Lower => "lower calibration reading, " + share.Source,
        CalibrationReading.Upper => "upper calibration reading, " + share.Source,
        _ => share.Source,
    };

    private static IEnumerable<Line> Notes(BudgetResult budget, string coverage)
    {
        var drawn = budget.Points.MaxBy(p => p.Drawn.Spread / Math.Max(p.Drawn.StandardUncertainty, 1e-12))!.Drawn;
        yield return new("Columns", $"nominal: all parts at their best estimate. ±U: linear propagation (JCGM 100), {coverage}. "
            + $"{coverage} interval: the coverage interval that holds {coverage} of all boards, by {drawn.Trials} trials (JCGM 101), seed "
                + $"{budget.Settings.MonteCarlo.Seed}. "
            + "worst case: " + (budget.Points.All(p => p.Worst.IsExact) ? "every corner"
                : $"a bound: {budget.Points.Max(p => p.Worst.Corners)} corners of the largest sources, the rest added to first order")
            + ". "
            + "Where ±U and the trials disagree the error is no straight line in its sources: the trials hold.");
        yield return new("Trials", $"Ends may be off by {Figures.Plain(budget.Points.Max(p => p.Drawn.Spread), budget.Unit, 2)} at most, "
            + "by the scatter between batches; --trials takes more.");
        bool first = true;
        foreach (string assumption in Assumptions(budget.Assumptions, budget.IsOfReading))
        {
            yield return new(first ? "Assumed" : "", assumption);
            first = false;
        }
    }

    private static IEnumerable<string> Assumptions(BudgetAssumptions a, bool isOfReading)
    {
        string[] drifts =
        [
            .. a.ResistorTempCo is { } r ? [$"resistors ±{Figures.Of(r, "1/K")}"] : Array.Empty<string>(),
            .. a.RailTempCo is { } v ? [$"rails ±{Figures.Of(v, "1/K")}"] : Array.Empty<string>(),
        ];
        if (drifts.Length > 0)
            yield return $"Temperature coefficients that the file does not give (drift): {string.Join(", ", drifts)}, each part on its "
                + $"own (common practice, no source).";
        if (a.GainFactor is { } gain)
        {
            yield return "Op amps: offset, drift and bias between the limits of their class; bias above its typical value as likely as "
                + "below; "
                + $"open-loop gain from its typical value over {Figures.Plain(gain, "")} to {Figures.Plain(gain, "")} times it.";
        }
        if (a.LeakageFactor is { } leakage)
        {
            string zeners = string.Join(", ", a.Zeners.Select(z =>
                $"{z.Type} ±{Figures.Percent(z.Tolerance)}{(z.IsAssumed ? " (assumed: the A and C suffixes, from memory)" : "")}"));
            yield return $"Clamps: leakage from its typical value over {Figures.Plain(leakage, "")} to the largest that its data sheet "
                + $"states, "
                + $"or {Figures.Plain(leakage, "")} times the typical value where none is"
                + $"{(zeners == "" ? "" : "; zener voltage " + zeners)}.";
        }
        yield return "Limits are taken as rectangular distributions (JCGM 100:2008, 4.3.7); parts do not depend on each other.";
        yield return $"Not counted, because the file does not give them: {(a.HasSensorError ? "" : "the sensor's own error, ")}ageing"
            + (a.NotGiven.IsEmpty ? "." : $", and the converter's {string.Join(", ", a.NotGiven.Select(Word))}.");
        if (a.IsQuantised)
        {
            yield return "A reading stands for the middle of its step"
                + (isOfReading ? "." : "; the two calibration readings are single readings.");
        }
        if (a.HasLinearity)
            yield return "Linearity of the converter: any value between its limits at each place, on its own; its offset and gain do not "
                + "drift.";
        if (a.IsFollowedInTime)
            yield return "The circuit is followed in time with each source at either of its limits and half way to them; what they do adds "
                + "up.";
        if (a.NoiseVolts > 0)
        {
            yield return $"Noise of one reading: {Figures.Volts(a.NoiseVolts, 3)} rms at {Figures.Of(a.Celsius, "°C")}, all of its band "
                + $"up to {Figures.Of(PinNoise.HighestHertz, "Hz")}, which sampling folds in; at corners three times that.";
        }
        if (a.Samples)
            yield return "The sampling capacitor may hold any voltage of the converter's range from the sample before (another channel), "
                + "the same in the calibration.";
    }

    private static string Word(ConverterError error) => error switch
    {
        ConverterError.Offset => "offset-error",
        ConverterError.Gain => "gain-error",
        _ => "linearity",
    };

    private static Table Data(BudgetResult budget) => new("",
        [
            new("temperature", ColumnKind.Number, "°C"), new("at"), new(budget.Sensor, ColumnKind.Number, budget.SensorUnit),
                new("calibrated"),
            .. new[] { "nominal", "standard uncertainty", "expanded uncertainty", "low", "high", "worst low", "worst high" }.Select(h =>
                new Column(h, ColumnKind.Number, budget.Unit)),
            new("worst is exact"),
        ],
        [
            .. budget.Points.Select(p => (ImmutableArray<Cell>)
            [
                p.Celsius, p.Place, p.SensorValue, p.IsCalibrated ? "yes"
                    : "no", p.Linear.Estimate, p.Linear.StandardUncertainty, p.ExpandedUncertainty,
                p.Drawn.Interval.Low, p.Drawn.Interval.High, p.Worst.Low, p.Worst.High, p.Worst.IsExact ? "yes" : "no",
            ]),
        ]);
}
