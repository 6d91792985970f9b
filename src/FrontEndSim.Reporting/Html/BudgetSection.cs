using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;

namespace FrontEndSim.Reporting.Html;

/// <summary>How far readings may be off, as read and after a calibration, and what makes them so.</summary>
internal static class BudgetSection
{
    private const int MostSources = 14;

    public static XElement? Of(ReportInput input) => input.Budgets.IsEmpty ? null : Tag.Section("budget", "Error budget", input.Budgets.Select((b, k) => One(b, k, input.FrontEnd.Celsius)));

    private static XElement One(BudgetResult budget, int number, double celsius)
    {
        var (low, high) = budget.Settings.Calibration;
        string calibrated = $"after a calibration at {SiText.Format(low, "%")} and {SiText.Format(high, "%")} of the span";
        var (before, after) = (budget.Worst(calibrated: false), budget.Worst(calibrated: true));
        string probability = SiText.Format(before.Drawn.Probability, "%");
        return new XElement("div", new XAttribute("class", "block"),
            new XElement("h3", $"Sensor {budget.Sensor} onto pin {budget.Pin}"),
            budget.Warnings.Select(w => Tag.Paragraph("⚠ " + w)),
            Tag.Facts(
                ($"as read, {probability} of boards", Interval(before.Drawn.Interval.Low, before.Drawn.Interval.High, budget.Unit)),
                ("as read, worst case", Interval(budget.Points.Where(p => !p.IsCalibrated).Min(p => p.Worst.Low), budget.Points.Where(p => !p.IsCalibrated).Max(p => p.Worst.High), budget.Unit)),
                ($"calibrated, {probability} of boards", Interval(after.Drawn.Interval.Low, after.Drawn.Interval.High, budget.Unit)),
                ("calibrated, worst case", Interval(budget.Points.Where(p => p.IsCalibrated).Min(p => p.Worst.Low), budget.Points.Where(p => p.IsCalibrated).Max(p => p.Worst.High), budget.Unit))),
            Tag.Paragraph($"The heavy bar holds {probability} of boards (JCGM 101, {before.Drawn.Draws} draws, seed {budget.Settings.MonteCarlo.Seed}), the thin line reaches to the worst case, "
                + $"the mark is a board with every part at its best estimate. Calibration means the line through two readings of the same board, taken at {SiText.Format(celsius, "°C")} and used at every temperature."),
            new XElement("div", new XAttribute("class", "plots"), new[] { false, true }.Select(c => new XElement("figure",
                BudgetBars.Draw(budget, c, $"budget{number}-{(c ? "cal" : "read")}"), new XElement("figcaption", c ? "Error " + calibrated : "Error as read")))),
            Sources(budget, before, after),
            Ranges(budget, probability),
            Tag.Paragraph("Taken for granted:"), new XElement("ul", budget.Assumptions.Select(a => new XElement("li", a))));
    }

    /// <summary>Sources as read and calibrated side by side, on one scale, so that what a calibration removes is seen.</summary>
    private static XElement Sources(BudgetResult budget, BudgetPoint before, BudgetPoint after)
    {
        var asRead = before.Ranked.ToDictionary(r => r.Source);
        var corrected = after.Ranked.ToDictionary(r => r.Source);
        double Effect(string source, Dictionary<string, BudgetShare> among) => Math.Abs(among.GetValueOrDefault(source)?.Effect ?? 0);
        string[] names = [.. asRead.Keys.Union(corrected.Keys).OrderByDescending(n => Math.Max(Effect(n, asRead), Effect(n, corrected)))];
        double largest = names.Length == 0 ? 1 : names.Max(n => Math.Max(Effect(n, asRead), Effect(n, corrected)));
        object[] Row(string name, double first, double firstShare, double second, double secondShare) =>
        [
            name, Tag.Bar(first / largest, Number(first)), SiText.Format(firstShare, "%", 2), Tag.Bar(second / largest, Number(second)), SiText.Format(secondShare, "%", 2),
        ];
        var rows = names.Take(MostSources).Select(n => Row(n, Effect(n, asRead), asRead.GetValueOrDefault(n)?.Share ?? 0, Effect(n, corrected), corrected.GetValueOrDefault(n)?.Share ?? 0));
        string[] rest = [.. names.Skip(MostSources)];
        if (rest.Length > 0)
        {
            rows = rows.Append(Row($"{rest.Length} more together", Root(rest, asRead), rest.Sum(n => asRead.GetValueOrDefault(n)?.Share ?? 0),
                Root(rest, corrected), rest.Sum(n => corrected.GetValueOrDefault(n)?.Share ?? 0)));
        }
        return Tag.Table($"What makes the error, the largest first: standard uncertainty in {budget.Unit}, where it is worst (as read: {Where(before)}; calibrated: {Where(after)})",
            ["source", "as read", "of variance", "calibrated", "of variance"], rows);

        double Root(string[] among, Dictionary<string, BudgetShare> shares) => Math.Sqrt(among.Sum(n => Math.Pow(Effect(n, shares), 2)));
    }

    private static XElement Ranges(BudgetResult budget, string probability) => Tag.Table($"Error at each place of the span and temperature, {budget.Unit}",
        ["temperature and place", "sensor", "calibrated", "nominal", $"{probability} of boards", "worst case"],
        budget.Points.OrderBy(p => p.IsCalibrated).Select(p => new object[]
        {
            Where(p), SiText.Format(p.Volts, "V"), p.IsCalibrated ? "yes" : "no", SiText.Signed(p.Linear.Estimate),
            Interval(p.Drawn.Interval.Low, p.Drawn.Interval.High, ""), Interval(p.Worst.Low, p.Worst.High, "") + (p.Worst.IsExact ? "" : " (a bound)"),
        }));

    /// <summary>"25 °C, full".</summary>
    public static string Where(BudgetPoint point) => $"{SiText.Format(point.Celsius, "°C")}, {point.Place}";

    private static string Interval(double low, double high, string unit) => $"{SiText.Signed(low)} .. {SiText.Signed(high)}{(unit == "" ? "" : " " + unit)}";

    private static string Number(double value) => SiText.Plain(Math.Abs(value) < 1e-3 ? 0 : value, "", 3);
}
