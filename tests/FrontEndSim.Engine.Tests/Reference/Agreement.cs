namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>Measures how far the engine is from a reference, says so in the test's output, and holds it to the limit.</summary>
internal static class Agreement
{
    /// <summary>At rest: the larger of a relative limit and an absolute one, at each point.</summary>
    public static void AtEachPoint(string what, IReadOnlyList<double> expected, IReadOnlyList<double> actual, double relative,
        double absolute)
    {
        Assert.Equal(expected.Count, actual.Count);
        double worst = 0;
        int where = 0, outside = 0;
        for (int k = 0; k < expected.Count; k++)
        {
            double share = Math.Abs(actual[k] - expected[k]) / Math.Max(relative * Math.Abs(expected[k]), absolute);
            outside += share <= 1 ? 0 : 1;
            if (!(share <= worst))
                (worst, where) = (share, k);
        }
        string told = $"{what}: at worst {worst:g3} of the limit, at point {where}: {actual[where]:r} for {expected[where]:r}; "
            + $"{outside} of {expected.Count} points outside";
        Tell(told);
        Assert.True(worst <= 1, told);
    }

    /// <summary>Against time: no point off by more than a share of the largest value of the reference.</summary>
    public static void OfPeak(string what, IReadOnlyList<double> times, IReadOnlyList<double> expected, IReadOnlyList<double> actual,
        double limit)
    {
        double peak = expected.Max(Math.Abs), worst = 0;
        int where = 0;
        for (int k = 0; k < expected.Count; k++)
        {
            double share = Math.Abs(actual[k] - expected[k]) / peak;
            if (!(share <= worst))
                (worst, where) = (share, k);
        }
        string told = $"{what}: at worst {worst:e2} of the peak {peak:g6}, at {times[where]:g6} s: "
            + $"{actual[where]:g9} for {expected[where]:g9}";
        Tell(told);
        Assert.True(worst <= limit, told);
    }

    /// <summary>A single number, relative to a scale.</summary>
    public static void OfScale(string what, double expected, double actual, double scale, double limit)
    {
        double share = Math.Abs(actual - expected) / Math.Abs(scale);
        string told = $"{what}: off by {share:e2} of {Math.Abs(scale):g6}: {actual:g9} for {expected:g9}";
        Tell(told);
        Assert.True(share <= limit, told);
    }

    private static void Tell(string text) => TestContext.Current.TestOutputHelper?.WriteLine(text);
}
