using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Plots;

/// <summary>What every drawing of a panel needs: ranges, ticks and captions of its axes.</summary>
internal static class PanelAxes
{
    /// <summary>Lowest and highest of the finite values with some room beyond; a span of some width even where all are equal.</summary>
    /// <param name="values">The values.</param>
    /// <param name="room">Room at either end, as a share of the span.</param>
    public static (double Low, double High) Range(IEnumerable<double> values, double room)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double value in values.Where(double.IsFinite))
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
        if (low > high)
            return (0, 1);
        double width = high - low;
        // Less than a millionth is the rounding of solutions, and no shape to look at.
        if (width > 1e-6 * Math.Max(Math.Abs(low), Math.Abs(high)))
            return (low - room * width, high + room * width);
        double half = Math.Max(Math.Abs(low) / 2, 5e-3);
        return (low - half, high + half);
    }

    /// <summary>"time (ms)"; an axis without unit, or a logarithmic one, whose numbers carry theirs, by its name alone.</summary>
    public static string Caption(Axis axis, AxisScale scale) =>
        axis.Unit == "" || axis.IsLogarithmic ? axis.Name : $"{axis.Name} ({scale.Prefix}{axis.Unit})";

    /// <summary>Where ticks stand, with their words: round numbers of the axis's own unit, or decades.</summary>
    /// <param name="axis">The axis.</param>
    /// <param name="low">Lowest place.</param>
    /// <param name="high">Highest place.</param>
    /// <param name="scale">Its prefix.</param>
    /// <param name="about">About how many.</param>
    public static IEnumerable<(double Place, string Words)> Ticks(Axis axis, double low, double high, AxisScale scale, int about)
    {
        if (!axis.IsLogarithmic)
            return Round(low, high, scale.Factor, about).Select(place => (place, Number(place / scale.Factor)));
        // Whole decades, fewer where they would crowd.
        int every = Math.Max(1, (int)Math.Ceiling((high - low) / (about + 1))), first = (int)Math.Ceiling(low),
            last = (int)Math.Floor(high);
        return Enumerable.Range(first, Math.Max(0, last - first + 1)).Where(d => d % every == 0)
            .Select(d => ((double)d, Figures.Of(axis.Plain(d), axis.Unit, 3)));
    }

    /// <summary>Round numbers inside a range: steps of 1, 2 or 5 times a power of ten.</summary>
    private static IEnumerable<double> Round(double low, double high, double factor, int about)
    {
        double rough = (high - low) / factor / about, power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * (rough / power < 1.5 ? 1 : rough / power < 3.5 ? 2 : rough / power < 7.5 ? 5 : 10);
        for (double k = Math.Ceiling(low / factor / step - 1e-9); k * step <= high / factor + 1e-9 * step; k++)
            yield return k * step * factor;
    }

    private static string Number(double value) => Figures.Plain(Math.Abs(value) < 1e-12 ? 0 : value, "", 6);
}
