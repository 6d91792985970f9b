using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Benchmarks;

/// <summary>What a processor is asked for.</summary>
internal enum Operation
{
    Sum,
    Product,
    Fused,
    Comparison,
    Quotient,
    Root,
    Exponential,
    Logarithm,
}

/// <summary>
/// A number for the engine's equations that counts what is done with it, and carries the time of the longest chain of dependent
/// operations that led to it: what a processor of any width, whose operations take as long, would need.
/// </summary>
internal readonly struct Counted(double value, double path) : ILane<Counted>
{
    private readonly double _value = value, _path = path;

    /// <summary>Operations of each kind.</summary>
    public static long[] Counts { get; } = new long[Enum.GetValues<Operation>().Length];

    /// <summary>What each kind takes in a chain.</summary>
    public static double[] Latencies { get; set; } = new double[Counts.Length];

    /// <summary>The longest chains in all, each up to where it was ended.</summary>
    public static double Chains { get; private set; }

    private static double Longest { get; set; }

    public static int Width => 1;

    /// <summary>Starts counting anew.</summary>
    public static void Clear()
    {
        Array.Clear(Counts);
        (Longest, Chains) = (0, 0);
    }

    /// <summary>Ends a chain: what follows does not wait for it.</summary>
    public static void EndChain() => (Longest, Chains) = (0, Chains + Longest);

    private static Counted Do(Operation operation, double value, Counted a, Counted b = default, Counted c = default)
    {
        Counts[(int)operation]++;
        double path = Math.Max(a._path, Math.Max(b._path, c._path)) + Latencies[(int)operation];
        Longest = Math.Max(Longest, path);
        return new(value, path);
    }

    public static Counted Of(double value) => new(value, 0);

    public static Counted operator +(Counted a, Counted b) => Do(Operation.Sum, a._value + b._value, a, b);

    public static Counted operator -(Counted a, Counted b) => Do(Operation.Sum, a._value - b._value, a, b);

    public static Counted operator *(Counted a, Counted b) => Do(Operation.Product, a._value * b._value, a, b);

    public static Counted operator /(Counted a, Counted b) => Do(Operation.Quotient, a._value / b._value, a, b);

    public static Counted operator -(Counted a) => new(-a._value, a._path);

    public static Counted Exp(Counted x) => Do(Operation.Exponential, Math.Exp(x._value), x);

    public static Counted Log(Counted x) => Do(Operation.Logarithm, Math.Log(x._value), x);

    public static Counted Sqrt(Counted x) => Do(Operation.Root, Math.Sqrt(x._value), x);

    public static Counted Abs(Counted x) => new(Math.Abs(x._value), x._path);

    public static Counted TakeProduct(Counted sum, Counted a, Counted b) =>
        Do(Operation.Fused, Math.FusedMultiplyAdd(-a._value, b._value, sum._value), sum, a, b);

    // A comparison that a processor foresees.
    public static Counted FlushTiny(Counted x) => Math.Abs(x._value) < 1e-150 ? default : x;

    public static Counted Max(Counted a, Counted b) => Do(Operation.Comparison, Math.Max(a._value, b._value), a, b);

    public static Counted Min(Counted a, Counted b) => Do(Operation.Comparison, Math.Min(a._value, b._value), a, b);

    public static Counted Less(Counted a, Counted b, Counted then, Counted otherwise) =>
        Do(Operation.Comparison, a._value < b._value ? then._value : otherwise._value, then, otherwise);

    public static bool AllBelow(Counted x, double limit) => x._value < limit;

    public static bool Same(Counted a, Counted b) => a._value == b._value;

    public double Get(int lane) => _value;

    public Counted With(int lane, double value) => new(value, 0);
}
