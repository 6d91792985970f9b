using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Plots;

/// <summary>The SI prefix that suits the numbers on an axis.</summary>
/// <param name="Prefix">Prefix, empty for none.</param>
/// <param name="Factor">One prefixed unit in plain units.</param>
internal readonly record struct AxisScale(string Prefix, double Factor)
{
    private static readonly (string Prefix, double Factor)[] Prefixes =
        [("p", 1e-12), ("n", 1e-9), ("µ", 1e-6), ("m", 1e-3), ("", 1), ("k", 1e3), ("M", 1e6), ("G", 1e9)];

    /// <summary>That of an axis; a logarithmic one has none, since each of its numbers carries its own.</summary>
    public static AxisScale For(double low, double high, Axis axis) => axis.IsLogarithmic ? new("", 1) : For(low, high, axis.Unit);

    /// <summary>The largest prefix of which the span of the axis holds at least two, so that ticks are short numbers.</summary>
    /// <param name="low">Lowest value, in plain units.</param>
    /// <param name="high">Highest value.</param>
    /// <param name="unit">The unit; one that takes no prefix, such as counts, dB or kg, gets none.</param>
    public static AxisScale For(double low, double high, string unit)
    {
        double reach = Math.Max(Math.Abs(low), Math.Abs(high));
        if (!SiText.TakesPrefix(unit) || !(reach > 0) || !double.IsFinite(reach))
            return new("", 1);
        var best = Prefixes[0];
        foreach (var candidate in Prefixes)
        {
            if (reach >= 1.5 * candidate.Factor)
                best = candidate;
        }
        return new(best.Prefix, best.Factor);
    }
}
