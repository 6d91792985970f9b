using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>How far readings may be off, and what makes them so, the largest first.</summary>
internal static class BudgetScreen
{
    private const int MostSources = 12, BarWidth = 24;

    /// <summary>Tables before and after calibration, bars for the worst place of each, and what was taken for granted.</summary>
    public static IEnumerable<IRenderable> Of(string title, BudgetResult budget)
    {
        yield return Blocks.Title(title);
        var wanted = budget.Wanted;
        yield return new Text($"Sensor {budget.Sensor}, {Blocks.Volts(wanted.Input.Low)} .. {Blocks.Volts(wanted.Input.High)}, onto pin {budget.Pin}, "
            + $"{Blocks.Volts(wanted.Output.Low)} .. {Blocks.Volts(wanted.Output.High)}: {SiText.Plain(budget.SpanCounts, budget.Unit)}\n\n");
        foreach (string warning in budget.Warnings)
            yield return Blocks.Margin([(Blocks.Warning("Warning"), Blocks.Warning(warning + "\n"))]);
        foreach (bool calibrated in (bool[])[false, true])
        {
            var (low, high) = budget.Settings.Calibration;
            yield return Blocks.Title(!calibrated ? $"Error as read ({budget.Unit})"
                : $"Error after a calibration at {SiText.Format(low, "%")} and {SiText.Format(high, "%")} of the span ({budget.Unit})");
            yield return Table(budget, calibrated);
            yield return Blocks.Blank;
        }
        foreach (bool calibrated in (bool[])[false, true])
        {
            var worst = budget.Worst(calibrated);
            yield return Blocks.Title($"What makes it so at {worst.Place}, {SiText.Format(worst.Celsius, "°C")}, {(calibrated ? "after calibration" : "as read")}: "
                + $"standard uncertainty {SiText.Plain(worst.Linear.StandardUncertainty, budget.Unit, 3)}");
            yield return Bars(worst);
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin([.. Notes(budget)]);
    }

    private static IEnumerable<(IRenderable, IRenderable)> Notes(BudgetResult budget)
    {
        var drawn = budget.Points.MaxBy(p => p.Drawn.Spread / Math.Max(p.Drawn.StandardUncertainty, 1e-12))!.Drawn;
        yield return (Blocks.Word("Columns"), new Text("nominal: all parts at their best estimate. ±U: linear propagation (JCGM 100), "
            + $"{SiText.Format(drawn.Probability, "%")}. {SiText.Format(drawn.Probability, "%")} of boards: {drawn.Draws} draws (JCGM 101), seed {budget.Settings.MonteCarlo.Seed}. "
            + $"worst: {(budget.Points.All(p => p.Worst.IsExact) ? "every corner" : $"a bound: {budget.Points.Max(p => p.Worst.Corners)} corners of the largest sources, the rest added to first order")}. "
            + "Where ±U and the draws disagree the error is no straight line in its sources: the draws hold."));
        yield return (Blocks.Word("Draws"), new Text("Ends may be off by "
            + $"{SiText.Plain(budget.Points.Max(p => p.Drawn.Spread), budget.Unit, 2)} at most, by the scatter between batches; --draws takes more."));
        foreach (string assumption in budget.Assumptions)
            yield return (Blocks.Word(assumption == budget.Assumptions[0] ? "Assumed" : ""), new Text(assumption));
    }

    private static Table Table(BudgetResult budget, bool calibrated) => Blocks.Table(
        ["", "at", "nominal", "±U", $"{SiText.Format(budget.Settings.MonteCarlo.Probability, "%")} of boards", "worst", "of span", "sensor"],
        [0, 2, 3, 4, 5, 6, 7],
        budget.Points.Where(p => p.IsCalibrated == calibrated).Select(p =>
        {
            double largest = Math.Max(Math.Abs(p.Drawn.Interval.Low), Math.Abs(p.Drawn.Interval.High));
            return (string[])
            [
                SiText.Format(p.Celsius, "°C"), p.Place, SiText.Signed(p.Linear.Estimate),
                SiText.Plain(p.Linear.ExpandedUncertainty(p.Drawn.Probability), "", 3),
                $"{SiText.Signed(p.Drawn.Interval.Low)} .. {SiText.Signed(p.Drawn.Interval.High)}",
                $"{SiText.Signed(p.Worst.Low)} .. {SiText.Signed(p.Worst.High)}",
                SiText.Format(budget.OfSpan(largest), "%", 2), SiText.Format(Math.Abs(budget.SensorVolts(largest)), "V", 2),
            ];
        }));

    private static Table Bars(BudgetPoint point)
    {
        var ranked = point.Ranked.ToArray();
        double largest = ranked.Length == 0 ? 1 : Math.Abs(ranked[0].Effect);
        var rows = ranked.Take(MostSources).Select(r => (string[])
            [r.Source, SiText.Signed(r.Effect), SiText.Format(r.Share, "%", 2), new string('#', (int)Math.Round(BarWidth * Math.Abs(r.Effect) / largest))]).ToList();
        if (ranked.Length > MostSources)
        {
            var rest = ranked.Skip(MostSources).ToArray();
            double effect = Math.Sqrt(rest.Sum(r => r.Effect * r.Effect));
            rows.Add([$"{rest.Length} more", SiText.Plain(effect, "", 3), SiText.Format(rest.Sum(r => r.Share), "%", 2),
                new string('#', (int)Math.Round(BarWidth * effect / largest))]);
        }
        return Blocks.Table(["source", "u", "of variance", ""], [1, 2], rows);
    }
}
