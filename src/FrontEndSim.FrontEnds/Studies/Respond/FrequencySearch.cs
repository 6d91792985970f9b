namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>Frequencies at which a response changes over. Many are asked for at once: each asking solves the operating point.</summary>
internal static class FrequencySearch
{
    // Places looked at between two frequencies at a time, and how near the two come.
    private const int Places = 15;
    private const double Near = 1e-9;

    /// <summary>Where a gain is down by √2 for the first time, Hz; infinity if nowhere, or from the first frequency on.</summary>
    /// <param name="hertz">Frequencies, Hz, ascending, dense enough that no corner lies between two of them.</param>
    /// <param name="gains">The gain at frequencies over the DC gain.</param>
    public static double Corner(IReadOnlyList<double> hertz, Func<double[], double[]> gains)
    {
        bool[] IsBelow(double[] at) => [.. gains(at).Select(g => g < 1 / Math.Sqrt(2))];
        int first = Array.IndexOf(IsBelow([.. hertz]), true);
        return first > 0 ? Change(hertz[first - 1], hertz[first], IsBelow) : double.PositiveInfinity;
    }

    /// <summary>Where something changes from false to true, Hz.</summary>
    /// <param name="low">A frequency at which it is false, Hz, above zero.</param>
    /// <param name="high">A higher one at which it is true, Hz.</param>
    /// <param name="is">Whether it is, at frequencies.</param>
    public static double Change(double low, double high, Func<double[], bool[]> @is)
    {
        while (high / low > 1 + Near)
        {
            double from = low, ratio = high / low;
            double[] between = [.. Enumerable.Range(1, Places).Select(k => from * Math.Pow(ratio, (double)k / (Places + 1)))];
            int first = Array.IndexOf(@is(between), true);
            (low, high) = (first == 0 ? low : between[first < 0 ? ^1 : first - 1], first < 0 ? high : between[first]);
        }
        return Math.Sqrt(low * high);
    }
}
