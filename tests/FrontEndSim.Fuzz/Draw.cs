namespace FrontEndSim.Fuzz;

/// <summary>Random values as circuits have them.</summary>
internal static class Draw
{
    private static readonly double[] Series = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2];

    private static readonly (double Scale, string Prefix)[] Prefixes =
        [(1e-15, "f"), (1e-12, "p"), (1e-9, "n"), (1e-6, "u"), (1e-3, "m"), (1, ""), (1e3, "k"), (1e6, "M"), (1e9, "G")];

    /// <summary>One of some.</summary>
    public static string Of(Random random, params string[] of) => of[random.Next(of.Length)];

    /// <summary>A value between two, alike in each decade.</summary>
    public static double Decades(Random random, double low, double high) => low * Math.Pow(high / low, random.NextDouble());

    /// <summary>A value of the E12 series between two.</summary>
    public static string Preferred(Random random, double low, double high, string unit)
    {
        double decade = Math.Pow(10, Math.Floor(Math.Log10(Decades(random, low, high))));
        return Text(decade * Series[random.Next(Series.Length)], unit);
    }

    /// <summary>A value with its unit, as a person writes it.</summary>
    public static string Text(double value, string unit)
    {
        double size = Math.Abs(value);
        var (scale, prefix) = unit.Contains('/') || size == 0 ? (1, "") : Prefixes.LastOrDefault(p => p.Scale <= size, Prefixes[0]);
        return FormattableString.Invariant($"{value / scale:G4} {prefix}{unit}");
    }
}
