using System.Xml.Linq;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;
using static FrontEndSim.Reporting.Html.SvgShapes;

namespace FrontEndSim.Reporting.Html;

/// <summary>
/// A panel as an inline drawing of the report: its colours come from the style sheet, so that it follows light, dark and
/// print, and pointing at a curve shows its values without any script.
/// </summary>
internal sealed class PlotSvg
{
    private const double Width = 440, LeastMargin = 62, Right = 14, Top = 12, Bottom = 44;

    // Of a label's words, in the units of the drawing; between the numbers of an axis and its line.
    private const double CharacterWidth = 6.8, LineHeight = 14, TickGap = 7;

    // What the words along the upright axis take, from the edge of the drawing to the numbers beside them.
    private const double UprightCaption = 22;

    /// <summary>Points of a curve that tell their value when pointed at.</summary>
    private const int Spots = 60;

    private readonly Panel _panel;
    private readonly double _height, _left, _right, _low, _high, _margin;
    private readonly AxisScale _across, _up;

    private PlotSvg(Panel panel)
    {
        _panel = panel.Unrolled();
        _height = 110 + 150 * _panel.Share;
        (_left, _right) = PanelAxes.Range(_panel.Curves.SelectMany(c => c.X), 0);
        (_low, _high) = PanelAxes.Range(_panel.Curves.SelectMany(c => c.Y).Concat(_panel.Bands.SelectMany(Edges)), 0.16);
        _across = AxisScale.For(_left, _right, _panel.Across);
        _up = AxisScale.For(_low, _high, _panel.Up);
        _margin = Math.Max(LeastMargin, UprightCaption + TickGap + CharacterWidth
            * UpTicks().Select(t => t.Words.Length).DefaultIfEmpty(0).Max());
    }

    private IEnumerable<(double Place, string Words)> UpTicks() => PanelAxes.Ticks(_panel.Up, _low, _high, _up, 5);

    /// <summary>The drawing.</summary>
    /// <param name="panel">What is drawn.</param>
    /// <param name="id">An id, unique in the document, that its title and description hang on.</param>
    public static XElement Draw(Panel panel, string id) => new PlotSvg(panel).Draw(id);

    private XElement Draw(string id)
    {
        double wide = Width - _margin - Right, tall = _height - Top - Bottom;
        return Picture("plot", Width, _height, id, _panel.Title, Description(_panel),
            _panel.Bands.SelectMany(BandShapes),
            Grid(),
            _panel.Curves.Select(CurveShape),
            _panel.Bands.Where(b => b.IsLimit).SelectMany(OutsideShapes),
            _panel.Curves.SelectMany(CurveSpots),
            _panel.Notes.Select(n => new XElement("circle", new XAttribute("class", "mark"),
                new XAttribute("cx", N(X(n.X))), new XAttribute("cy", N(Y(n.Y))), new XAttribute("r", "4"))),
            LabelPlaces.Find(_panel, new(_left, _right, _low, _high, wide, tall, CharacterWidth, LineHeight)).Select(Label),
            Lettering(PanelAxes.Caption(_panel.Across, _across), (_margin + Width - Right) / 2, _height - 8, "caption", "middle"),
            new XElement("text", new XAttribute("class", "caption"), new XAttribute("text-anchor", "middle"),
                new XAttribute("transform", $"translate(14 {N((Top + _height - Bottom) / 2)}) rotate(-90)"),
                    PanelAxes.Caption(_panel.Up, _up)));
    }

    private double X(double x) => _margin + (Width - _margin - Right) * (x - _left) / (_right - _left);

    private double Y(double y) => _height - Bottom - (_height - Top - Bottom) * (y - _low) / (_high - _low);

    // The corners of a line or shape.
    private XAttribute Points(IEnumerable<(double X, double Y)> corners) =>
        new("points", string.Join(" ", corners.Select(p => $"{N(X(p.X))},{N(Y(p.Y))}")));

    private IEnumerable<XElement> Grid()
    {
        foreach (var (x, number) in PanelAxes.Ticks(_panel.Across, _left, _right, _across, 6))
        {
            yield return Line(X(x), Top, X(x), _height - Bottom, "grid");
            // That of the last line moves to the left where it would be cut off.
            yield return Lettering(number, Math.Min(X(x), Width - 2 - number.Length * CharacterWidth / 2), _height - Bottom
                + 16, "tick", "middle");
        }
        foreach (var (y, number) in UpTicks())
        {
            yield return Line(_margin, Y(y), Width - Right, Y(y), y == 0 && !_panel.Up.IsLogarithmic ? "grid zero" : "grid");
            yield return Lettering(number, _margin - TickGap, Y(y) + 4, "tick", "end");
        }
    }

    private XElement CurveShape(Curve curve) =>
        new("polyline", new XAttribute("class", curve.Look == CurveLook.Simulated ? "simulated" : "ideal"),
        Points(curve.X.Zip(curve.Y)));

    // Spots evenly spread across the panel; each is wide enough to be hit with a finger.
    private IEnumerable<XElement> CurveSpots(Curve curve)
    {
        if (curve.Look != CurveLook.Simulated)
            yield break;
        double step = (_right - _left) / Spots, next = _left;
        for (int k = 0; k < curve.X.Length; k++)
        {
            if (curve.X[k] < next && k < curve.X.Length - 1)
                continue;
            next = curve.X[k] + step;
            string other = string.Concat(_panel.Curves.Where(c => !ReferenceEquals(c, curve) && c.X.Length == curve.X.Length)
                .Select(c => $", {c.Label} {Text(c.Y[k], _panel.Up)}"));
            yield return new XElement("circle", new XAttribute("class", "spot"), new XAttribute("cx", N(X(curve.X[k]))),
                new XAttribute("cy", N(Y(curve.Y[k]))), new XAttribute("r", "7"),
                new XElement("title",
                    $"{_panel.Across.Name} {Text(curve.X[k], _panel.Across)}: {_panel.Up.Name} {Text(curve.Y[k], _panel.Up)}{other}"));
        }
    }

    private IEnumerable<XElement> BandShapes(Band band)
    {
        var upper = band.High?.Y ?? [.. band.X.Select(_ => _high)];
        var lower = band.Low?.Y ?? [.. band.X.Select(_ => _low)];
        yield return new XElement("polygon", new XAttribute("class", "band"),
            Points([.. Thinned(band.X, upper), .. Thinned(band.X, lower).Reverse()]));
        foreach (var edge in new[] { band.Low, band.High })
        {
            if (edge is not null)
                yield return new XElement("polyline", new XAttribute("class", "edge"), Points(Thinned(band.X, edge.Y)));
        }
    }

    // Where a curve leaves the band: hatched down to the edge, so that it shows without colour too.
    private IEnumerable<XElement> OutsideShapes(Band band)
    {
        foreach (var curve in _panel.Curves.Where(c => c.Look == CurveLook.Simulated && c.X.SequenceEqual(band.X)))
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
                    yield return new XElement("polygon", new XAttribute("class", "outside"),
                        Points([.. span.Select(j => (curve.X[j], curve.Y[j])), .. span.Reverse().Select(j => (curve.X[j], edge.Y[j]))]),
                        new XElement("title",
                            $"outside its rating from {Text(curve.X[start], _panel.Across)} to {Text(curve.X[k - 1], _panel.Across)}"));
                    start = -1;
                }
            }
        }
    }

    private XElement Label(PlacedLabel label) => Lettering(label.Text, X(label.X) + label.Side * label.Aside,
        Y(label.Y) + (label.Above ? -label.Away - 3 : label.Away + LineHeight - 3),
        label.Of switch { LabelOf.Band => "label of-band", LabelOf.Simulated => "label of-simulated", _ => "label" },
        label.Side switch { > 0 => "start", < 0 => "end", _ => "middle" });

    private static IEnumerable<double> Edges(Band band) => [.. band.Low?.Y ?? [], .. band.High?.Y ?? []];

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
        [.. Enumerable.Range(0, x.Length).Where(k => k == 0 || k == x.Length - 1 || y[k] != y[k - 1] || y[k] != y[k + 1])
            .Select(k => (x[k], y[k]))];

    private static string Text(double value, Axis axis) => Figures.Of(axis.Plain(value), axis.Unit);
}
