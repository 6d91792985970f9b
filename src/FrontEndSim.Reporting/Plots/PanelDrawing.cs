using System.Globalization;
using FrontEndSim.FrontEnds;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace FrontEndSim.Reporting.Plots;

/// <summary>Draws a panel: the one place that knows the plotting library's axes, lines and labels.</summary>
internal static class PanelDrawing
{
    private static readonly Color Ink = Color.FromHex("#1f2933");
    private static readonly Color Trace = Color.FromHex("#2f7bd0");
    private static readonly Color BandFill = Color.FromHex("#dcebd7");
    private static readonly Color EdgeInk = Color.FromHex("#3f7d2f");

    /// <summary>A plot of the panel, ready to render.</summary>
    public static Plot Draw(Panel panel, string font)
    {
        panel = panel.Unrolled();
        var plot = new Plot();
        plot.Font.Set(font);
        var (left, right) = Range(panel.Curves.SelectMany(c => c.X));
        var (bottom, top) = Range(panel.Curves.SelectMany(c => c.Y).Concat(panel.Bands.SelectMany(b => (b.Low?.Y ?? []).Concat(b.High?.Y ?? []))));
        double room = 0.14 * (top - bottom);
        (bottom, top) = (bottom - room, top + room);
        double margin = 0.015 * (right - left); // so that a mark at either end is whole
        (left, right) = (left - margin, right + margin);
        var across = AxisScale.For(left, right, panel.Across);
        var up = AxisScale.For(bottom, top, panel.Up);

        foreach (var band in panel.Bands)
            DrawBand(plot, band, across, up, bottom, top);
        foreach (var curve in panel.Curves)
            DrawCurve(plot, curve, across, up);
        foreach (var band in panel.Bands)
            DrawBandLabels(plot, panel, band, across, up);
        DrawCurveLabels(plot, panel, across, up, (bottom + top) / 2);
        foreach (var note in panel.Notes)
            DrawNote(plot, note, across, up, NotePlace.Find(note, panel, left, right, bottom, top));

        plot.Axes.SetLimits(left / across.Factor, right / across.Factor, bottom / up.Factor, top / up.Factor);
        plot.Title(panel.Title, 15);
        plot.XLabel(Caption(panel.Across, across), 13);
        plot.YLabel(Caption(panel.Up, up), 13);
        plot.Axes.Color(Ink);
        plot.Axes.Bottom.TickGenerator = Ticks(panel.Across);
        plot.Axes.Left.TickGenerator = Ticks(panel.Up);
        plot.Axes.Bottom.TickLabelStyle.FontSize = plot.Axes.Left.TickLabelStyle.FontSize = 12;
        plot.Axes.Top.FrameLineStyle.Width = plot.Axes.Right.FrameLineStyle.Width = 0;
        plot.Grid.MajorLineColor = Color.FromHex("#e4e7eb");
        // Room at the right, so that the last tick's number is not cut.
        plot.Axes.Right.MinimumSize = 24;
        plot.Axes.Left.MinimumSize = 70;
        return plot;
    }

    /// <summary>Plain numbers: no thousands separators, and none of the last digits that spacing leaves (0.30000000000000004).</summary>
    private static NumericAutomatic Ticks(Axis axis) => axis.IsLogarithmic
        ? new() { IntegerTicksOnly = true, LabelFormatter = decade => SiText.Format(axis.Plain(decade), axis.Unit) }
        : new() { LabelFormatter = value => Math.Round(value, 10).ToString("G10", CultureInfo.InvariantCulture) };

    private static string Caption(Axis axis, AxisScale scale) => axis.Unit == "" || axis.IsLogarithmic ? axis.Name : $"{axis.Name} ({scale.Prefix}{axis.Unit})";

    private static void DrawBand(Plot plot, Band band, AxisScale across, AxisScale up, double bottom, double top)
    {
        double[] x = [.. band.X.Select(v => v / across.Factor)];
        double[] low = Heights(band.Low, bottom), high = Heights(band.High, top);
        var fill = plot.Add.FillY(x, low, high);
        fill.FillColor = BandFill;
        fill.LineWidth = 0;
        if (band.Low is not null)
            DrawEdge(low);
        if (band.High is not null)
            DrawEdge(high);

        double[] Heights(BandEdge? edge, double end) => [.. band.X.Select((_, k) => (edge?.Y[k] ?? end) / up.Factor)];

        void DrawEdge(double[] heights)
        {
            var line = plot.Add.ScatterLine(x, heights, EdgeInk);
            line.LinePattern = LinePattern.DenselyDashed;
            line.LineWidth = 1.2f;
        }
    }

    /// <summary>Labels outside the band, so that a band that is thin on this scale still has both, and where the curves leave most room.</summary>
    private static void DrawBandLabels(Plot plot, Panel panel, Band band, AxisScale across, AxisScale up)
    {
        double left = band.X[0], width = band.X[^1] - left;
        if (band.High is { } high)
            Label(high.Label, high.Y, above: true);
        if (band.Low is { } low)
            Label(low.Label, low.Y, above: false);

        void Label(string words, IReadOnlyList<double> edge, bool above)
        {
            // The first of the roomiest places; a label takes about a quarter of the width.
            double place = new[] { 1.0, 0.0, 0.5 }.MaxBy(Room);
            double x = left + place * width;
            var alignment = (place, above) switch
            {
                (1, true) => Alignment.LowerRight,
                (1, false) => Alignment.UpperRight,
                (0, true) => Alignment.LowerLeft,
                (0, false) => Alignment.UpperLeft,
                (_, true) => Alignment.LowerCenter,
                _ => Alignment.UpperCenter,
            };
            float right = place switch { 1 => -6, 0 => 6, _ => 0 };
            DrawText(plot, words, x / across.Factor, edge[NearestTo(band.X, x)] / up.Factor, alignment, right, above ? -3 : 3, EdgeInk);

            double Room(double at)
            {
                double from = left + 0.75 * at * width, to = from + 0.25 * width, level = edge[NearestTo(band.X, from)];
                double[] beyond = [.. panel.Curves.SelectMany(c => c.X.Zip(c.Y)).Where(p => p.First >= from && p.First <= to)
                    .Select(p => above ? p.Second - level : level - p.Second)];
                bool crosses = beyond.Any(d => d > 0) && beyond.Any(d => d <= 0);
                return crosses ? 0 : beyond.Where(d => d > 0).DefaultIfEmpty(double.PositiveInfinity).Min();
            }
        }
    }

    private static void DrawCurve(Plot plot, Curve curve, AxisScale across, AxisScale up)
    {
        bool simulated = curve.Look == CurveLook.Simulated;
        var line = plot.Add.ScatterLine(curve.X.Select(v => v / across.Factor).ToArray(), curve.Y.Select(v => v / up.Factor).ToArray(),
            simulated ? Trace : Ink);
        line.LineWidth = simulated ? 3f : 1.3f;
        line.LinePattern = simulated ? LinePattern.Solid : LinePattern.Dashed;
    }

    /// <summary>Labels at the curves, spread along them, on the side where a monotonic curve leaves room.</summary>
    private static void DrawCurveLabels(Plot plot, Panel panel, AxisScale across, AxisScale up, double middle)
    {
        for (int k = 0; k < panel.Curves.Length; k++)
        {
            var curve = panel.Curves[k];
            if (curve.Label == "" || curve.X.Length < 2)
                continue;
            double share = (k + 1.0) / (panel.Curves.Length + 1);
            int at = NearestTo(curve.X, curve.X[0] + share * (curve.X[^1] - curve.X[0]));
            bool rising = curve.Y[^1] >= curve.Y[0];
            bool above = panel.Curves.Length > 1 ? k % 2 == 1 : curve.Y[at] < middle;
            var alignment = (rising, above) switch
            {
                (true, true) => Alignment.LowerRight,
                (true, false) => Alignment.UpperLeft,
                (false, true) => Alignment.LowerLeft,
                (false, false) => Alignment.UpperRight,
            };
            bool toRight = alignment is Alignment.UpperLeft or Alignment.LowerLeft;
            DrawText(plot, curve.Label, curve.X[at] / across.Factor, curve.Y[at] / up.Factor, alignment, toRight ? 8 : -8, above ? -4 : 4,
                curve.Look == CurveLook.Simulated ? Trace : Ink);
        }
    }

    private static void DrawNote(Plot plot, Note note, AxisScale across, AxisScale up, NotePlace place)
    {
        double x = note.X / across.Factor, y = note.Y / up.Factor;
        var mark = plot.Add.Marker(x, y, MarkerShape.OpenCircle, 9, Ink);
        mark.MarkerLineWidth = 1.5f;
        var alignment = (place.Right, place.Above) switch
        {
            (true, true) => Alignment.LowerLeft,
            (true, false) => Alignment.UpperLeft,
            (false, true) => Alignment.LowerRight,
            (false, false) => Alignment.UpperRight,
        };
        DrawText(plot, note.Text, x, y, alignment, place.Right ? 8 : -8, place.Above ? -place.Distance : place.Distance, Ink);
    }

    private static void DrawText(Plot plot, string words, double x, double y, Alignment alignment, float right, float down, Color color)
    {
        var text = plot.Add.Text(words, x, y);
        text.LabelFontSize = 12;
        text.LabelFontColor = color;
        text.LabelAlignment = alignment;
        text.OffsetX = right;
        text.OffsetY = down;
        text.LabelBackgroundColor = Colors.White.WithAlpha(.75);
    }

    private static int NearestTo(IReadOnlyList<double> values, double wanted)
    {
        int best = 0;
        for (int k = 1; k < values.Count; k++)
        {
            if (Math.Abs(values[k] - wanted) < Math.Abs(values[best] - wanted))
                best = k;
        }
        return best;
    }

    /// <summary>Lowest and highest of the values; a span of some width even where all are equal.</summary>
    private static (double Low, double High) Range(IEnumerable<double> values)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double value in values)
        {
            if (double.IsFinite(value))
                (low, high) = (Math.Min(low, value), Math.Max(high, value));
        }
        if (low > high)
            return (0, 1);
        if (high - low > 1e-9 * Math.Max(Math.Abs(low), Math.Abs(high)))
            return (low, high);
        double half = Math.Max(Math.Abs(low) / 2, 1e-3);
        return (low - half, high + half);
    }
}
