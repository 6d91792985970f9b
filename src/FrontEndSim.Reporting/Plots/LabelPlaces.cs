namespace FrontEndSim.Reporting.Plots;

/// <summary>What a label belongs to.</summary>
internal enum LabelOf
{
    /// <summary>A marked point.</summary>
    Note,

    /// <summary>An edge of a band.</summary>
    Band,

    /// <summary>A curve of simulated values.</summary>
    Simulated,

    /// <summary>A curve that is compared with.</summary>
    Ideal,
}

/// <summary>A label and where its words stand.</summary>
/// <param name="Text">The words.</param>
/// <param name="Of">What it belongs to.</param>
/// <param name="X">Horizontal value of the point that it hangs on.</param>
/// <param name="Y">Vertical value of that point.</param>
/// <param name="Side">-1 where the words end left of the point, 0 where they stand over its middle, 1 where they begin right of it.</param>
/// <param name="Above">Above the point, or below.</param>
/// <param name="Aside">From the point to the words along the horizontal, in points of the picture.</param>
/// <param name="Away">From the point to the words along the vertical, in points of the picture.</param>
internal sealed record PlacedLabel(string Text, LabelOf Of, double X, double Y, int Side, bool Above, double Aside, double Away);

/// <summary>The inside of a panel's axes: what it shows, and how large it is drawn.</summary>
/// <param name="Left">Lowest horizontal value.</param>
/// <param name="Right">Highest horizontal value.</param>
/// <param name="Bottom">Lowest vertical value.</param>
/// <param name="Top">Highest vertical value.</param>
/// <param name="Width">Width in points of the picture.</param>
/// <param name="Height">Height in points of the picture.</param>
/// <param name="CharacterWidth">Width of a character at most, on average over a label.</param>
/// <param name="LineHeight">Height of a line of words.</param>
internal readonly record struct PanelFrame(double Left, double Right, double Bottom, double Top, double Width, double Height,
    double CharacterWidth, double LineHeight)
{
    /// <summary>Points from the left.</summary>
    public double X(double value) => (value - Left) / (Right - Left) * Width;

    /// <summary>Points from the top.</summary>
    public double Y(double value) => (Top - value) / (Top - Bottom) * Height;
}

/// <summary>Where the words of a panel stand, so that they stay inside of it and cover neither curves nor one another.</summary>
internal static class LabelPlaces
{
    // What weighs more than what: to leave the panel, to lie on other words, on a mark, by another curve, on a line.
    private const double Leaving = 1000, OnWords = 300, OnMark = 100, NearerToAnother = 60, OnLine = 4;
    private const double MarkRadius = 6, Apart = 8;

    // Half of the width of a drawn line, and the room that words have around them.
    private const double Around = 2.5;

    private readonly record struct Box(double Left, double Top, double Right, double Bottom)
    {
        public bool Meets(Box other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;
    }

    /// <summary>The labels of a panel whose axes are unrolled, notes first.</summary>
    public static ImmutableArray<PlacedLabel> Find(Panel panel, PanelFrame frame)
    {
        Box[] marks = [.. panel.Notes.Select(n =>
            new Box(frame.X(n.X) - MarkRadius, frame.Y(n.Y) - MarkRadius, frame.X(n.X) + MarkRadius, frame.Y(n.Y) + MarkRadius))];
        (double X, double Y)[][] lines =
        [
            .. panel.Curves.Select(c => c.X.Zip(c.Y))
                .Concat(panel.Bands.SelectMany(b => new[] { b.Low, b.High }.OfType<BandEdge>().Select(e => b.X.Zip(e.Y))))
                .Select(line => line.Where(p => double.IsFinite(p.Second)).Select(p => (frame.X(p.First), frame.Y(p.Second))).ToArray())
                    .Where(line => line.Length > 1),
        ];
        var taken = new List<Box>();
        var placed = ImmutableArray.CreateBuilder<PlacedLabel>();
        var wanted = panel.Notes.Select(AtNote)
            .Concat(panel.Bands.SelectMany(b => new[] { AtEdge(b, b.High, above: true), AtEdge(b, b.Low, above: false) }))
            .Concat(panel.Curves.Where(c => c.Label != "" && c.X.Length > 1).Select(c => AtCurve(c, frame)));
        foreach (var places in wanted)
        {
            // The first of several alike: candidates come in the order of preference.
            if (places.MinBy(Cost) is not { } best)
                continue;
            placed.Add(best);
            taken.Add(BoxOf(best));
        }
        return placed.ToImmutable();

        double Cost(PlacedLabel label)
        {
            var box = BoxOf(label);
            double outside = Math.Max(0, -box.Left) + Math.Max(0, box.Right - frame.Width)
                + Math.Max(0, -box.Top) + Math.Max(0, box.Bottom - frame.Height);
            return (outside > 0 ? Leaving + outside : 0) + OnWords * taken.Count(box.Meets) + OnMark * marks.Count(box.Meets)
                + OnLine * lines.Sum(line => Covered(line, box with { Top = box.Top - Around, Bottom = box.Bottom + Around }))
                + (IsNearerToAnother(label, box) ? NearerToAnother : 0) + label.Away / 20;
        }

        // The words at a curve name the one that they are clearly nearest to.
        bool IsNearerToAnother(PlacedLabel label, Box box)
        {
            if (label.Of is LabelOf.Note or LabelOf.Band)
                return false;
            double x = (box.Left + box.Right) / 2, y = (box.Top + box.Bottom) / 2;
            double Off(Curve curve)
            {
                double at = frame.Left + x / frame.Width * (frame.Right - frame.Left);
                return at < curve.X[0] || at > curve.X[^1] ? double.PositiveInfinity
                    : Math.Abs(frame.Y(HeightAt(curve, at)) - y);
            }
            var own = panel.Curves.First(c => c.Label == label.Text);
            return panel.Curves.Any(c => c != own && Off(c) < Off(own) + Apart);
        }

        Box BoxOf(PlacedLabel label)
        {
            double width = label.Text.Length * frame.CharacterWidth, x = frame.X(label.X) + label.Side * label.Aside, y = frame.Y(label.Y);
            double left = label.Side switch { > 0 => x, < 0 => x - width, _ => x - width / 2 };
            double top = label.Above ? y - label.Away - frame.LineHeight : y + label.Away;
            return new(left, top, left + width, top + frame.LineHeight);
        }
    }

    private static IEnumerable<PlacedLabel> AtNote(Note note) =>
        from away in new[] { 4.0, 14, 30, 48, 66, 84, 102 }
        from above in new[] { true, false }
        from side in new[] { 1, -1, 0 }
        select new PlacedLabel(note.Text, LabelOf.Note, note.X, note.Y, side, above, 8, away);

    /// <summary>Outside of the band rather than inside, so that a band that is thin on this scale still has both labels.</summary>
    private static IEnumerable<PlacedLabel> AtEdge(Band band, BandEdge? edge, bool above) => edge is null ? [] :
        from away in new[] { 3.0, 12, 24 }
        from side in new[] { above, !above }
        from place in new[] { 1.0, 0, 0.5 }
        let x = band.X[0] + place * (band.X[^1] - band.X[0])
        select new PlacedLabel(edge.Label, LabelOf.Band, x, edge.Y[NearestTo(band.X, x)],
            place switch { 1 => -1, 0 => 1, _ => 0 }, side, 6, away);

    private static IEnumerable<PlacedLabel> AtCurve(Curve curve, PanelFrame frame)
    {
        // The label of what is compared with is looked for from the other end.
        double[] shares = [0.3, 0.45, 0.6, 0.75, 0.15, 0.9, 0.03];
        foreach (var (away, isTurned) in new[] { (4.0, false), (4, true), (12, false), (12, true), (26, false), (26, true) })
        {
            foreach (double share in curve.Look == CurveLook.Simulated ? shares : shares.Select(s => 1 - s))
            {
                // Between its points as well: a curve at rest has few.
                double at = Math.Clamp(frame.Left + share * (frame.Right - frame.Left), curve.X[0], curve.X[^1]);
                bool rising = curve.Y[^1] >= curve.Y[0];
                foreach (bool above in (bool[])[curve.Look == CurveLook.Simulated, curve.Look != CurveLook.Simulated])
                    yield return new(curve.Label, curve.Look == CurveLook.Simulated ? LabelOf.Simulated
                        : LabelOf.Ideal, at, HeightAt(curve, at),
                        (above == rising) != isTurned ? -1 : 1, above, 8, away);
            }
        }
    }

    private static double HeightAt(Curve curve, double x)
    {
        int next = 1;
        while (next + 1 < curve.X.Length && curve.X[next] < x)
            next++;
        double run = curve.X[next] - curve.X[next - 1];
        return run > 0 ? curve.Y[next - 1] + (curve.Y[next] - curve.Y[next - 1]) * (x - curve.X[next - 1]) / run : curve.Y[next];
    }

    /// <summary>How many of a line's pieces pass through a box.</summary>
    private static int Covered((double X, double Y)[] line, Box box)
    {
        const int pieces = 24;
        int covered = 0, next = 0;
        double? before = null;
        for (int k = 0; k <= pieces; k++)
        {
            double at = box.Left + (box.Right - box.Left) * k / pieces;
            if (at < line[0].X || at > line[^1].X)
                continue;
            while (next + 2 < line.Length && line[next + 1].X < at)
                next++;
            double run = line[next + 1].X - line[next].X, now = run > 0
                ? line[next].Y + (line[next + 1].Y - line[next].Y) * (at - line[next].X) / run : line[next + 1].Y;
            if (Math.Max(now, before ?? now) >= box.Top && Math.Min(now, before ?? now) <= box.Bottom)
                covered++;
            before = now;
        }
        return covered;
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
}
