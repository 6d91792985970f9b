namespace FrontEndSim.Reporting.Plots;

/// <summary>Where a note's words stand against its point, so that they cover neither curves nor edges and stay in the panel.</summary>
/// <param name="Right">To the right of the point, or to the left.</param>
/// <param name="Above">Above the point, or below.</param>
/// <param name="Distance">Up or down from the point, in points of the picture.</param>
internal readonly record struct NotePlace(bool Right, bool Above, float Distance)
{
    // What a panel measures inside its axes, and a character of its words, in points of the picture.
    private const double Width = 820, Height = 280, CharacterWidth = 7.2, CharacterHeight = 15, Aside = 8;

    /// <summary>The place that covers least; the first of several alike.</summary>
    public static NotePlace Find(Note note, Panel panel, double left, double right, double bottom, double top)
    {
        NotePlace[] places =
        [
            .. new[] { 4f, 14f, 30f }.SelectMany(d => new NotePlace[] { new(true, true, d), new(false, true, d), new(true, false, d), new(false, false, d) }),
        ];
        double xPoint = (right - left) / Width, yPoint = (top - bottom) / Height;
        return places.MinBy(place =>
        {
            double nearX = note.X + Aside * xPoint * (place.Right ? 1 : -1), farX = nearX + note.Text.Length * CharacterWidth * xPoint * (place.Right ? 1 : -1);
            double nearY = note.Y + place.Distance * yPoint * (place.Above ? 1 : -1), farY = nearY + CharacterHeight * yPoint * (place.Above ? 1 : -1);
            double fromX = Math.Min(nearX, farX), toX = Math.Max(nearX, farX), fromY = Math.Min(nearY, farY), toY = Math.Max(nearY, farY);
            bool leaves = fromX < left || toX > right || fromY < bottom || toY > top;
            var lines = panel.Curves.Select(c => (c.X, c.Y))
                .Concat(panel.Bands.SelectMany(b => new[] { b.Low, b.High }.OfType<BandEdge>().Select(e => (b.X, e.Y))));
            return (leaves ? 1000 : 0) + lines.Sum(line => Covered(line.X, line.Y, fromX, toX, fromY, toY));
        });
    }

    /// <summary>How many of the line's pieces pass through the box.</summary>
    private static int Covered(IReadOnlyList<double> x, IReadOnlyList<double> y, double fromX, double toX, double fromY, double toY)
    {
        const int pieces = 24;
        int covered = 0, next = 0;
        double? before = null;
        for (int k = 0; k <= pieces; k++)
        {
            double at = fromX + (toX - fromX) * k / pieces;
            if (at < x[0] || at > x[^1])
                continue;
            while (next + 2 < x.Count && x[next + 1] < at)
                next++;
            double run = x[next + 1] - x[next], now = run > 0 ? y[next] + (y[next + 1] - y[next]) * (at - x[next]) / run : y[next + 1];
            if (Math.Max(now, before ?? now) >= fromY && Math.Min(now, before ?? now) <= toY)
                covered++;
            before = now;
        }
        return covered;
    }
}
