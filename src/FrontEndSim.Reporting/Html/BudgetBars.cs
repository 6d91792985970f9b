using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Budget;

namespace FrontEndSim.Reporting.Html;

/// <summary>The error at each temperature and place as a bar, a line and a mark: most boards, worst case, nominal parts.</summary>
internal static class BudgetBars
{
    private const double Width = 440, Left = 96, Right = 20, Top = 10, RowHeight = 22, Bottom = 42;

    public static XElement Draw(BudgetResult budget, bool calibrated, string id)
    {
        BudgetPoint[] points = [.. budget.Points.Where(p => p.IsCalibrated == calibrated)];
        double height = Top + RowHeight * points.Length + Bottom;
        double low = Math.Min(0, points.Min(p => Math.Min(p.Worst.Low, p.Drawn.Interval.Low))), high = Math.Max(0, points.Max(p => Math.Max(p.Worst.High, p.Drawn.Interval.High)));
        double room = 0.04 * Math.Max(high - low, 1e-6);
        (low, high) = (low - room, high + room);
        double X(double value) => Left + (Width - Left - Right) * (value - low) / (high - low);
        return new XElement("svg",
            new XAttribute("class", "plot budget"), new XAttribute("viewBox", $"0 0 {N(Width)} {N(height)}"), new XAttribute("role", "img"),
            new XAttribute("aria-labelledby", $"{id}-t {id}-d"),
            new XElement("title", new XAttribute("id", id + "-t"), calibrated ? "Error after calibration" : "Error as read"),
            new XElement("desc", new XAttribute("id", id + "-d"), string.Join(" ", points.Select(p => Sentence(p, budget.Unit)))),
            PlotSvg.Ticks(low, high, 1, 5).Select(t => new[]
            {
                PlotSvg.Line(X(t), Top, X(t), height - Bottom, t == 0 ? "grid zero" : "grid"),
                PlotSvg.Words(PlotSvg.Number(t), X(t), height - Bottom + 16, "tick", "middle"),
            }),
            points.Select(Row),
            PlotSvg.Words($"error ({budget.Unit})", (Left + Width - Right) / 2, height - 8, "caption", "middle"));

        XElement Row(BudgetPoint point, int k)
        {
            double middle = Top + RowHeight * (k + 0.5);
            var (from, to) = (point.Drawn.Interval.Low, point.Drawn.Interval.High);
            return new XElement("g", new XAttribute("class", "range"),
                new XElement("title", Sentence(point, budget.Unit)),
                PlotSvg.Words(BudgetSection.Where(point), Left - 8, middle + 4, "tick", "end"),
                PlotSvg.Line(X(point.Worst.Low), middle, X(point.Worst.High), middle, "reach"),
                PlotSvg.Line(X(point.Worst.Low), middle - 4, X(point.Worst.Low), middle + 4, "reach"),
                PlotSvg.Line(X(point.Worst.High), middle - 4, X(point.Worst.High), middle + 4, "reach"),
                new XElement("rect", new XAttribute("class", "most"), new XAttribute("x", N(X(from))), new XAttribute("y", N(middle - 5)),
                    new XAttribute("width", N(Math.Max(1, X(to) - X(from)))), new XAttribute("height", "10")),
                PlotSvg.Line(X(point.Linear.Estimate), middle - 8, X(point.Linear.Estimate), middle + 8, "nominal"));
        }
    }

    private static string Sentence(BudgetPoint p, string unit) => $"{BudgetSection.Where(p)}: nominal {SiText.Plain(p.Linear.Estimate, unit, 3)}, "
        + $"{SiText.Format(p.Drawn.Probability, "%")} of boards from {SiText.Plain(p.Drawn.Interval.Low, unit, 3)} to {SiText.Plain(p.Drawn.Interval.High, unit, 3)}, "
        + $"worst case from {SiText.Plain(p.Worst.Low, unit, 3)} to {SiText.Plain(p.Worst.High, unit, 3)}.";

    private static string N(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
}
