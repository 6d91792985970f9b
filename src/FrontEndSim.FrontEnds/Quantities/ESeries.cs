using System.Diagnostics;

namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>A series of preferred numbers after IEC 60063. Its values repeat in every decade.</summary>
public sealed record ESeries
{
    // E24 and below are tabulated by the standard and depart from the rounded geometric series (2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2).
    private static readonly double[] TwentyFour =
        [1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1];

    private ESeries(string name, double tolerance, IEnumerable<double> mantissas) =>
        (Name, UsualTolerance, Mantissas) = (name, tolerance, [.. mantissas]);

    /// <summary>E3: 1, 2.2, 4.7.</summary>
    public static ESeries E3 { get; } = new("E3", 0.4, Every(8));

    /// <summary>E6, usual tolerance 20 %.</summary>
    public static ESeries E6 { get; } = new("E6", 0.2, Every(4));

    /// <summary>E12, usual tolerance 10 %.</summary>
    public static ESeries E12 { get; } = new("E12", 0.1, Every(2));

    /// <summary>E24, usual tolerance 5 %.</summary>
    public static ESeries E24 { get; } = new("E24", 0.05, Every(1));

    /// <summary>E48, usual tolerance 2 %.</summary>
    public static ESeries E48 { get; } = new("E48", 0.02, Geometric(48));

    /// <summary>E96, usual tolerance 1 %.</summary>
    public static ESeries E96 { get; } = new("E96", 0.01, Geometric(96));

    /// <summary>E192, usual tolerance 0.5 %.</summary>
    public static ESeries E192 { get; } = new("E192", 0.005, Geometric(192));

    /// <summary>All series, coarsest first.</summary>
    public static ImmutableArray<ESeries> All { get; } = [E3, E6, E12, E24, E48, E96, E192];

    /// <summary>"E24".</summary>
    public string Name { get; }

    /// <summary>The tolerance that parts of this series usually have, a fraction.</summary>
    public double UsualTolerance { get; }

    /// <summary>Values of one decade, ascending, 1 included and 10 excluded.</summary>
    public ImmutableArray<double> Mantissas { get; }

    /// <summary>The series of that name without regard to case, or null.</summary>
    public static ESeries? Find(string name) => All.FirstOrDefault(s => s.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>The series' values from <paramref name="low"/> to <paramref name="high"/>, both included, ascending.</summary>
    public IEnumerable<double> Between(double low, double high)
    {
        if (!(low > 0) || !double.IsFinite(high))
            yield break;
        for (int decade = (int)Math.Floor(Math.Log10(low)) - 1; Math.Pow(10, decade) <= high; decade++)
        {
            foreach (double mantissa in Mantissas)
            {
                double value = Scale(mantissa, decade);
                if (value >= low * (1 - 1e-12) && value <= high * (1 + 1e-12))
                    yield return value;
            }
        }
    }

    /// <summary>The value of the series whose ratio to <paramref name="value"/> is nearest to one.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite and above zero.</exception>
    public double Nearest(double value) => Neighbours(value).MinBy(v => Math.Abs(Math.Log(v / value)));

    /// <summary>The values of the series on either side of <paramref name="value"/>, below and above (the same twice if it is in the
    /// series).</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite and above zero.</exception>
    public double[] Neighbours(double value)
    {
        if (!(value > 0) || !double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, "A preferred number can only be near a value above zero.");
        int decade = (int)Math.Floor(Math.Log10(value));
        // From the last value of the decade below to the first of the one above, so that rounding cannot lose a neighbour.
        double below = Scale(Mantissas[^1], decade - 1);
        foreach (double mantissa in Mantissas.Append(10).Append(10 * Mantissas[1]))
        {
            double above = Scale(mantissa, decade);
            if (above >= value * (1 - 1e-12))
                return above <= value * (1 + 1e-12) ? [above, above] : [below, above];
            below = above;
        }
        throw new UnreachableException();
    }

    // Dividing by a power of ten keeps values such as 0.47 correctly rounded, as multiplying by 0.1 would not.
    private static double Scale(double mantissa, int decade) =>
        decade >= 0 ? Math.Round(mantissa * 100) * Math.Pow(10, decade) / 100 : mantissa / Math.Pow(10, -decade);

    private static IEnumerable<double> Every(int step) => TwentyFour.Where((_, k) => k % step == 0);

    // Three significant digits of 10^(k/n); the standard has 9.20 where the rule gives 9.19 (E192).
    private static IEnumerable<double> Geometric(int n) => Enumerable.Range(0, n)
        .Select(k => Math.Round(Math.Pow(10, (double)k / n), 2)).Select(v => v == 9.19 ? 9.20 : v);
}
