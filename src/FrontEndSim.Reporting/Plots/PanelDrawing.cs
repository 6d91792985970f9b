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

    // What a panel of share 1 measures inside its axes, and what its words take, in points of the picture.
    private const double Width = 820, Height = 373, TitleAndAxis = 95, CharacterWidth = 7.2, LineHeight = 15;

    // The longest title at 9 points; a bold character is at most 0.68 of its size wide on average.
    private const int LongestTitle = 145;
    private const float TitleWidth = 900 / 0.68f;

    /// <summary>A plot of the panel, ready to render.</summary>
    public static Plot Draw(Panel panel, string font)
    {
        panel = panel.Unrolled();
        var plot = new Plot();
        plot.Font.Set(font);
        var (left, right) = PanelAxes.Range(panel.Curves.SelectMany(c => c.X), 0.015); // so that a mark at either end is whole
        var (bottom, top) = PanelAxes.Range(panel.Curves.SelectMany(c => c.Y)
            .Concat(panel.Bands.SelectMany(b => (b.Low?.Y ?? []).Concat(b.High?.Y ?? []))), 0.14);
        var across = AxisScale.For(left, right, panel.Across);
        var up = AxisScale.For(bottom, top, panel.Up);

        foreach (var band in panel.Bands)
            DrawBand(plot, band, across, up, bottom, top);
        foreach (var curve in panel.Curves)
            DrawCurve(plot, curve, across, up);
        foreach (var note in panel.Notes)
            plot.Add.Marker(note.X / across.Factor, note.Y / up.Factor, MarkerShape.OpenCircle, 9, Ink).MarkerLineWidth = 1.5f;
        foreach (var label in LabelPlaces.Find(panel,
            new(left, right, bottom, top, Width, Height * panel.Share - TitleAndAxis, CharacterWidth, LineHeight)))
            DrawLabel(plot, label, across, up);

        plot.Axes.SetLimits(left / across.Factor, right / across.Factor, bottom / up.Factor, top / up.Factor);
        // A long title, as an event's may be, is written smaller and then cut short rather than off.
        string title = panel.Title.Length <= LongestTitle ? panel.Title : panel.Title[..(LongestTitle - 1)] + "…";
        plot.Title(title, Math.Min(15, TitleWidth / title.Length));
        plot.XLabel(PanelAxes.Caption(panel.Across, across), 13);
        plot.YLabel(PanelAxes.Caption(panel.Up, up), 13);
        plot.Axes.Color(Ink);
        plot.Axes.Bottom.TickGenerator = Ticks(panel.Across, left, right, across, 8);
        plot.Axes.Left.TickGenerator = Ticks(panel.Up, bottom, top, up, panel.Share < 0.7 ? 5 : 7);
        plot.Axes.Bottom.TickLabelStyle.FontSize = plot.Axes.Left.TickLabelStyle.FontSize = 12;
        plot.Axes.Top.FrameLineStyle.Width = plot.Axes.Right.FrameLineStyle.Width = 0;
        plot.Grid.MajorLineColor = Color.FromHex("#e4e7eb");
        // Room at the right, so that the last tick's number is not cut.
        plot.Axes.Right.MinimumSize = 24;
        plot.Axes.Left.MinimumSize = 70;
        return plot;
    }

    private static NumericManual Ticks(Axis axis, double low, double high, AxisScale scale, int about)
    {
        var ticks = PanelAxes.Ticks(axis, low, high, scale, about).ToArray();
        return new([.. ticks.Select(t => t.Place / scale.Factor)], [.. ticks.Select(t => t.Words)]);
    }

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

    private static void DrawCurve(Plot plot, Curve curve, AxisScale across, AxisScale up)
    {
        bool simulated = curve.Look == CurveLook.Simulated;
        var line = plot.Add.ScatterLine(curve.X.Select(v => v / across.Factor).ToArray(), curve.Y.Select(v => v / up.Factor).ToArray(),
            simulated ? Trace : Ink);
        line.LineWidth = simulated ? 3f : 1.3f;
        line.LinePattern = simulated ? LinePattern.Solid : LinePattern.Dashed;
    }

    private static void DrawLabel(Plot plot, PlacedLabel label, AxisScale across, AxisScale up)
    {
        var text = plot.Add.Text(label.Text, label.X / across.Factor, label.Y / up.Factor);
        text.LabelFontSize = 12;
        text.LabelFontColor = label.Of switch { LabelOf.Band => EdgeInk, LabelOf.Simulated => Trace, _ => Ink };
        text.LabelAlignment = (label.Side, label.Above) switch
        {
            ( > 0, true) => Alignment.LowerLeft,
            ( > 0, false) => Alignment.UpperLeft,
            ( < 0, true) => Alignment.LowerRight,
            ( < 0, false) => Alignment.UpperRight,
            (_, true) => Alignment.LowerCenter,
            _ => Alignment.UpperCenter,
        };
        text.OffsetX = (float)(label.Side * label.Aside);
        text.OffsetY = (float)(label.Above ? -label.Away : label.Away);
        text.LabelBackgroundColor = Colors.White.WithAlpha(.75);
    }
}
