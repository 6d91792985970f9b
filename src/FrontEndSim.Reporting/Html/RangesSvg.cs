using System.Xml.Linq;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Plots;
using static FrontEndSim.Reporting.Html.SvgShapes;

namespace FrontEndSim.Reporting.Html;

/// <summary>Ranges as bars, lines and marks on one scale, as an inline drawing.</summary>
internal static class RangesSvg
{
    private const double Width = 440, Left = 96, Right = 20, Top = 10, RowHeight = 22, Bottom = 42;

    /// <summary>The drawing.</summary>
    /// <param name="ranges">What is drawn.</param>
    /// <param name="id">An id, unique in the document, that its title and description hang on.</param>
    public static XElement Draw(Ranges ranges, string id)
    {
        double height = Top + RowHeight * ranges.Rows.Length + Bottom;
        var (low, high) = PanelAxes.Range(ranges.Rows.SelectMany(r => new[] { r.Low, r.High, r.MostLow, r.MostHigh }).Append(0), 0.04);
        var scale = AxisScale.For(low, high, ranges.Axis);
        double X(double value) => Left + (Width - Left - Right) * (value - low) / (high - low);
        return Picture("plot budget", Width, height, id, ranges.Caption, string.Join(" ", ranges.Rows.Select(r => r.Sentence)),
            PanelAxes.Ticks(ranges.Axis, low, high, scale, 5).Select(t => new[]
            {
                Line(X(t.Place), Top, X(t.Place), height - Bottom, t.Place == 0 ? "grid zero" : "grid"),
                Lettering(t.Words, X(t.Place), height - Bottom + 16, "tick", "middle"),
            }),
            ranges.Rows.Select(Row),
            Lettering(PanelAxes.Caption(ranges.Axis, scale), (Left + Width - Right) / 2, height - 8, "caption", "middle"));

        XElement Row(RangeRow row, int k)
        {
            double middle = Top + RowHeight * (k + 0.5);
            return new XElement("g", new XAttribute("class", "range"),
                new XElement("title", row.Sentence),
                Lettering(row.Label, Left - 8, middle + 4, "tick", "end"),
                Line(X(row.Low), middle, X(row.High), middle, "reach"),
                Line(X(row.Low), middle - 4, X(row.Low), middle + 4, "reach"),
                Line(X(row.High), middle - 4, X(row.High), middle + 4, "reach"),
                new XElement("rect", new XAttribute("class", "most"), new XAttribute("x", N(X(row.MostLow))),
                    new XAttribute("y", N(middle - 5)),
                    new XAttribute("width", N(Math.Max(1, X(row.MostHigh) - X(row.MostLow)))), new XAttribute("height", "10")),
                Line(X(row.Mark), middle - 8, X(row.Mark), middle + 8, "nominal"));
        }
    }
}
