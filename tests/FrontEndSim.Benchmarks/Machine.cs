using System.Diagnostics;
using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Benchmarks;

/// <summary>What this machine takes for each operation, ns: measured, least of many.</summary>
internal sealed class Machine
{
    private const int Times = 4096;
    private static double _sink;

    /// <summary>One after the other, each waiting for the one before, by <see cref="Operation"/>.</summary>
    public double[] InChain { get; } = All<Scalar>(inChain: true);

    /// <summary>Eight numbers at a time, one after the other.</summary>
    public double[] InChainOfEight { get; } = All<Octet>(inChain: true);

    /// <summary>Side by side, one number at a time.</summary>
    public double[] Single { get; } = All<Scalar>(inChain: false);

    /// <summary>Side by side, eight numbers at a time.</summary>
    public double[] Eight { get; } = All<Octet>(inChain: false);

    /// <summary>Reading a number that lies near.</summary>
    public double LoadOne { get; } = Load<Scalar>();

    /// <summary>Reading eight.</summary>
    public double LoadEight { get; } = Load<Octet>();

    /// <summary>A sum that goes through memory, each waiting for the one before.</summary>
    public double SumThroughMemory { get; } = ThroughMemory();

    /// <summary>One cycle.</summary>
    public double Cycle { get; } = OneCycle();

    /// <summary>The least time of a piece of work over seconds, ns. A short piece falls between what others do on the machine.</summary>
    public static double Least(Action work, double seconds)
    {
        // Compiled code first: it comes some time after the first calls.
        for (int n = 0; n < 40; n++)
            work();
        Thread.Sleep(200);
        double least = double.PositiveInfinity;
        for (var all = Stopwatch.StartNew(); all.Elapsed.TotalSeconds < seconds;)
        {
            long before = Stopwatch.GetTimestamp();
            work();
            least = Math.Min(least, Stopwatch.GetElapsedTime(before).TotalNanoseconds);
        }
        return least;
    }

    private static double[] All<L>(bool inChain) where L : struct, ILane<L> =>
    [
        Take<L, SumStep>(inChain), Take<L, ProductStep>(inChain), Take<L, FusedStep>(inChain), Take<L, ComparisonStep>(inChain),
        Take<L, QuotientStep>(inChain), Take<L, RootStep>(inChain), Take<L, ExponentialStep>(inChain), Take<L, LogarithmStep>(inChain),
    ];

    private interface IStep
    {
        static abstract L Do<L>(L a, L b) where L : struct, ILane<L>;
    }

    private static double Take<L, S>(bool inChain) where L : struct, ILane<L> where S : struct, IStep =>
        Least(inChain ? Chain<L, S> : SideBySide<L, S>, 0.3) / Times;

    private static void Chain<L, S>() where L : struct, ILane<L> where S : struct, IStep
    {
        L a = L.Of(0.5), b = L.Of(1.000001);
        for (int n = 0; n < Times; n += 4)
            a = S.Do(S.Do(S.Do(S.Do(a, b), b), b), b);
        _sink = a.Get(0);
    }

    private static void SideBySide<L, S>() where L : struct, ILane<L> where S : struct, IStep
    {
        L a = L.Of(0.1), b = L.Of(0.2), c = L.Of(0.3), d = L.Of(0.4), e = L.Of(0.5), f = L.Of(0.6), g = L.Of(0.7), h = L.Of(0.8),
            with = L.Of(1.000001);
        for (int n = 0; n < Times; n += 8)
        {
            (a, b, c, d) = (S.Do(a, with), S.Do(b, with), S.Do(c, with), S.Do(d, with));
            (e, f, g, h) = (S.Do(e, with), S.Do(f, with), S.Do(g, with), S.Do(h, with));
        }
        _sink = (a + b + c + d + e + f + g + h).Get(0);
    }

    private static double Load<L>() where L : struct, ILane<L>
    {
        var from = new L[64];
        return Least(() =>
        {
            L a = default, b = a, c = a, d = a, e = a, f = a, g = a, h = a;
            for (int n = 0; n < Times; n += 8)
            {
                var near = from.AsSpan(n & 56, 8);
                (a, b, c, d) = (a + near[0], b + near[1], c + near[2], d + near[3]);
                (e, f, g, h) = (e + near[4], f + near[5], g + near[6], h + near[7]);
            }
            _sink = (a + b + c + d + e + f + g + h).Get(0);
        }, 0.3) / Times;
    }

    private static double ThroughMemory()
    {
        var at = new double[2];
        return Least(() =>
        {
            // From place to place, so that no register stands for it.
            for (int n = 0; n < Times; n++)
                at[(n + 1) & 1] = at[n & 1] + 1e-9;
        }, 0.3) / Times;
    }

    private static double OneCycle() => Least(() =>
    {
        int a = 1;
        for (int n = 0; n < Times; n += 4)
            a = ((((a + n) ^ n) + n) ^ n);
        _sink = a;
    }, 0.3) / Times;

    private readonly struct SumStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => a + b;
    }

    private readonly struct ProductStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => a * b;
    }

    private readonly struct FusedStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => L.TakeProduct(a, b, b);
    }

    private readonly struct ComparisonStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => L.Max(a, b);
    }

    private readonly struct QuotientStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => a / b;
    }

    private readonly struct RootStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => L.Sqrt(a);
    }

    private readonly struct ExponentialStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => L.Exp(-a);
    }

    private readonly struct LogarithmStep : IStep
    {
        public static L Do<L>(L a, L b) where L : struct, ILane<L> => L.Log(a + b);
    }
}
