using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// A panel as an inline drawing of the report: its colours come from the style sheet, so that it follows light, dark and
/// print, and pointing at a curve shows its values without any script.
/// </summary>
internal static class PlotSvg
{
    private const double Width = 440, Left = 62, Right = 14, Top = 12, Bottom = 44;

    // Of a label's words, in the units of the drawing.
    private const double CharacterWidth = 6.8, LineHeight = 14;

    /// <summary>Points of a curve that tell their value when pointed at.</summary>
    private const int Spots = 60;

    /// <summary>The drawing.</summary>
    /// <param name="panel">What is drawn.</param>
    /// <param name="id">An id, unique in the document, that its title and description hang on.</param>
    public static XElement Draw(Panel panel, string id)
    {
        panel = panel.Unrolled();
        double height = 110 + 150 * panel.Share;
        var (left, right) = Range(panel.Curves.SelectMany(c => c.X), 0);
        var (low, high) = Range(panel.Curves.SelectMany(c => c.Y).Concat(panel.Bands.SelectMany(Edges)), 0.16);
        var across = AxisScale.For(left, right, panel.Across);
        var up = AxisScale.For(low, high, panel.Up);
        double X(double x) => Left + (Width - Left - Right) * (x - left) / (right - left);
        double Y(double y) => height - Bottom - (height - Top - Bottom) * (y - low) / (high - low);

        return new XElement("svg",
            new XAttribute("class", "plot"), new XAttribute("viewBox", $"0 0 {N(Width)} {N(height)}"), new XAttribute("role", "img"),
            new XAttribute("aria-labelledby", $"{id}-t {id}-d"),
            new XElement("title", new XAttribute("id", id + "-t"), panel.Title),
            new XElement("desc", new XAttribute("id", id + "-d"), Description(panel)),
            panel.Bands.SelectMany(b => BandShapes(b)),
            Grid(),
            panel.Curves.Select(CurveShape),
            panel.Bands.Where(b => b.IsLimit).SelectMany(b => OutsideShapes(b, panel.Curves)),
            panel.Curves.SelectMany(CurveSpots),
            panel.Notes.Select(n => new XElement("circle", new XAttribute("class", "mark"), new XAttribute("cx", N(X(n.X))), new XAttribute("cy", N(Y(n.Y))), new XAttribute("r", "4"))),
            LabelPlaces.Find(panel, new(left, right, low, high, Width - Left - Right, height - Top - Bottom, CharacterWidth, LineHeight)).Select(Label),
            Words(Caption(panel.Across, across), (Left + Width - Right) / 2, height - 8, "caption", "middle"),
            new XElement("text", new XAttribute("class", "caption"), new XAttribute("text-anchor", "middle"),
                new XAttribute("transform", $"translate(14 {N((Top + height - Bottom) / 2)}) rotate(-90)"), Caption(panel.Up, up)));

        IEnumerable<XElement> Grid()
        {
            foreach (double x in Ticks(panel.Across, left, right, across.Factor, 6))
            {
                yield return Line(X(x), Top, X(x), height - Bottom, "grid");
                string number = TickText(panel.Across, x, across);
                // That of the last line moves to the left where it would be cut off.
                yield return Words(number, Math.Min(X(x), Width - 2 - number.Length * CharacterWidth / 2), height - Bottom + 16, "tick", "middle");
            }
            foreach (double y in Ticks(panel.Up, low, high, up.Factor, 5))
            {
                yield return Line(Left, Y(y), Width - Right, Y(y), y == 0 && !panel.Up.IsLogarithmic ? "grid zero" : "grid");
                yield return Words(TickText(panel.Up, y, up), Left - 7, Y(y) + 4, "tick", "end");
            }
        }

        XElement CurveShape(Curve curve) => new("polyline", new XAttribute("class", curve.Look == CurveLook.Simulated ? "simulated" : "ideal"),
            new XAttribute("points", string.Join(" ", curve.X.Zip(curve.Y, (x, y) => $"{N(X(x))},{N(Y(y))}"))));

        // Spots evenly spread across the panel; each is wide enough to be hit with a finger.
        IEnumerable<XElement> CurveSpots(Curve curve)
        {
            if (curve.Look != CurveLook.Simulated)
                yield break;
            double step = (right - left) / Spots, next = left;
            for (int k = 0; k < curve.X.Length; k++)
            {
                if (curve.X[k] < next && k < curve.X.Length - 1)
                    continue;
                next = curve.X[k] + step;
                string other = string.Concat(panel.Curves.Where(c => !ReferenceEquals(c, curve) && c.X.Length == curve.X.Length)
                    .Select(c => $", {c.Label} {Text(c.Y[k], panel.Up)}"));
                yield return new XElement("circle", new XAttribute("class", "spot"), new XAttribute("cx", N(X(curve.X[k]))),
                    new XAttribute("cy", N(Y(curve.Y[k]))), new XAttribute("r", "7"),
                    new XElement("title", $"{panel.Across.Name} {Text(curve.X[k], panel.Across)}: {panel.Up.Name} {Text(curve.Y[k], panel.Up)}{other}"));
            }
        }

        IEnumerable<XElement> BandShapes(Band band)
        {
            var upper = band.High?.Y ?? [.. band.X.Select(_ => high)];
            var lower = band.Low?.Y ?? [.. band.X.Select(_ => low)];
            yield return new XElement("polygon", new XAttribute("class", "band"), new XAttribute("points",
                string.Join(" ", Thinned(band.X, upper).Select(p => $"{N(X(p.X))},{N(Y(p.Y))}")
                    .Concat(Thinned(band.X, lower).Reverse().Select(p => $"{N(X(p.X))},{N(Y(p.Y))}")))));
            foreach (var edge in new[] { band.Low, band.High })
            {
                if (edge is not null)
                    yield return new XElement("polyline", new XAttribute("class", "edge"), new XAttribute("points",
                        string.Join(" ", Thinned(band.X, edge.Y).Select(p => $"{N(X(p.X))},{N(Y(p.Y))}"))));
            }
        }

        // Where a curve leaves the band: hatched down to the edge, so that it shows without colour too.
        IEnumerable<XElement> OutsideShapes(Band band, ImmutableArray<Curve> curves)
        {
            foreach (var curve in curves.Where(c => c.Look == CurveLook.Simulated && c.X.SequenceEqual(band.X)))
            {
                foreach (var (edge, sign) in new[] { (band.High, 1), (band.Low, -1) })
                {
                    if (edge is null)
                        continue;
                    int start = -1;
                    for (int k = 0; k <= curve.X.Length; k++)
                    {
                        bool outside = k < curve.X.Length && sign * (curve.Y[k] - edge.Y[k]) > 0;
                        if (outside && start < 0)
                            start = k;
                        if (outside || start < 0)
                            continue;
                        var span = Enumerable.Range(start, k - start);
                        yield return new XElement("polygon", new XAttribute("class", "outside"), new XAttribute("points", string.Join(" ",
                            span.Select(j => $"{N(X(curve.X[j]))},{N(Y(curve.Y[j]))}").Concat(span.Reverse().Select(j => $"{N(X(curve.X[j]))},{N(Y(edge.Y[j]))}")))),
                            new XElement("title", $"outside its rating from {Text(curve.X[start], panel.Across)} to {Text(curve.X[k - 1], panel.Across)}"));
                        start = -1;
                    }
                }
            }
        }

        XElement Label(PlacedLabel label) => Words(label.Text, X(label.X) + label.Side * label.Aside,
            Y(label.Y) + (label.Above ? -label.Away - 3 : label.Away + LineHeight - 3),
            label.Of switch { LabelOf.Band => "label of-band", LabelOf.Simulated => "label of-simulated", _ => "label" },
            label.Side switch { > 0 => "start", < 0 => "end", _ => "middle" });

        IEnumerable<double> Edges(Band band) => [.. band.Low?.Y ?? [], .. band.High?.Y ?? []];
    }

    /// <summary>The panel in a sentence or two, for those who do not see it.</summary>
    private static string Description(Panel panel)
    {
        var words = new List<string>();
        foreach (var curve in panel.Curves.Where(c => c.X.Length > 0))
        {
            words.Add($"{(curve.Label == "" ? panel.Up.Name : curve.Label)}: from {Text(curve.Y[0], panel.Up)} at {panel.Across.Name} "
                + $"{Text(curve.X[0], panel.Across)} to {Text(curve.Y[^1], panel.Up)} at {Text(curve.X[^1], panel.Across)}, "
                + $"lowest {Text(curve.Y.Min(), panel.Up)}, highest {Text(curve.Y.Max(), panel.Up)}.");
        }
        words.AddRange(panel.Notes.Select(n => n.Text + "."));
        words.AddRange(panel.Bands.SelectMany(b => new[] { b.Low?.Label, b.High?.Label }).OfType<string>().Select(l => l + "."));
        return string.Join(" ", words);
    }

    /// <summary>The corners of a line with those left out that lie on it: a level edge needs two points, not a thousand.</summary>
    private static (double X, double Y)[] Thinned(ImmutableArray<double> x, ImmutableArray<double> y) =>
        [.. Enumerable.Range(0, x.Length).Where(k => k == 0 || k == x.Length - 1 || y[k] != y[k - 1] || y[k] != y[k + 1]).Select(k => (x[k], y[k]))];

    private static string Text(double value, Axis axis) => SiText.Format(axis.Plain(value), axis.Unit);

    private static string Caption(Axis axis, AxisScale scale) => axis.Unit == "" || axis.IsLogarithmic ? axis.Name : $"{axis.Name} ({scale.Prefix}{axis.Unit})";

    private static string TickText(Axis axis, double value, AxisScale scale) =>
        axis.IsLogarithmic ? SiText.Format(axis.Plain(value), axis.Unit, 3) : Number(value / scale.Factor);

    private static IEnumerable<double> Ticks(Axis axis, double low, double high, double factor, int about)
    {
        if (!axis.IsLogarithmic)
            return Ticks(low, high, factor, about);
        // Whole decades, fewer where they would crowd.
        int every = (int)Math.Ceiling((high - low) / (about + 1));
        return Enumerable.Range((int)Math.Ceiling(low), Math.Max(0, (int)Math.Floor(high) - (int)Math.Ceiling(low) + 1)).Where(d => d % every == 0).Select(d => (double)d);
    }

    /// <summary>Round numbers of the axis's own unit inside a range: steps of 1, 2 or 5 times a power of ten.</summary>
    internal static IEnumerable<double> Ticks(double low, double high, double factor, int about)
    {
        double rough = (high - low) / factor / about, power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * (rough / power < 1.5 ? 1 : rough / power < 3.5 ? 2 : rough / power < 7.5 ? 5 : 10);
        for (double k = Math.Ceiling(low / factor / step - 1e-9); k * step <= high / factor + 1e-9 * step; k++)
            yield return k * step * factor;
    }

    internal static string Number(double value) => SiText.Plain(Math.Abs(value) < 1e-12 ? 0 : value, "", 6);

    private static (double Low, double High) Range(IEnumerable<double> values, double room)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double value in values.Where(double.IsFinite))
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
        if (low > high)
            return (0, 1);
        double width = high - low;
        if (width <= 1e-9 * Math.Max(Math.Abs(low), Math.Abs(high)) || width == 0)
            return (low - Math.Max(Math.Abs(low) / 2, 1e-3), high + Math.Max(Math.Abs(high) / 2, 1e-3));
        return (low - room * width, high + room * width);
    }

    internal static XElement Line(double x1, double y1, double x2, double y2, string look) => new("line", new XAttribute("class", look),
        new XAttribute("x1", N(x1)), new XAttribute("y1", N(y1)), new XAttribute("x2", N(x2)), new XAttribute("y2", N(y2)));

    internal static XElement Words(string words, double x, double y, string look, string anchor) => new("text", new XAttribute("class", look),
        new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("text-anchor", anchor), words);

    private static string N(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
}
