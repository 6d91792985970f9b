namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Values that a person would choose.</summary>
internal static class RoundValues
{
    /// <summary>The multiples of 1, 2 or 5 times a power of ten inside a span, 5 to 12 of them, and both ends of the span;
    /// ascending.</summary>
    public static double[] In(Span span)
    {
        double step = Math.Pow(10, Math.Floor(Math.Log10(span.Width)));
        foreach (double finer in (double[])[1, 2, 5, 10])
        {
            if (span.Width / (step / finer) >= 5)
            {
                step /= finer;
                break;
            }
        }
        int first = (int)Math.Ceiling(span.Low / step - 1e-9), last = (int)Math.Floor(span.High / step + 1e-9);
        // A multiple that is an end but for rounding is the end.
        var inside = Enumerable.Range(first, last - first + 1).Select(k => Math.Round(k * step, 12))
            .Where(v => Math.Min(v - span.Low, span.High - v) > 1e-6 * span.Width);
        return [span.Low, .. inside, span.High];
    }
}
