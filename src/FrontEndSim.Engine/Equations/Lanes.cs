using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The number that the equations are written in: one circuit (<see cref="Scalar"/>) or several trials of the same
/// circuit side by side in a vector register (<see cref="Octet"/>). Every formula is written once for both.
/// </summary>
internal interface ILane<L> :
    IAdditionOperators<L, L, L>, ISubtractionOperators<L, L, L>, IMultiplyOperators<L, L, L>, IDivisionOperators<L, L, L>,
    IUnaryNegationOperators<L, L>
    where L : struct, ILane<L>
{
    /// <summary>How many trials lie side by side.</summary>
    static abstract int Width { get; }

    /// <summary>The same value in every lane.</summary>
    static abstract L Of(double value);

    static abstract L Exp(L x);

    static abstract L Log(L x);

    static abstract L Sqrt(L x);

    static abstract L Abs(L x);

    /// <summary>sum − a·b with one rounding: the inner operation of elimination.</summary>
    static abstract L TakeProduct(L sum, L a, L b);

    /// <summary>
    /// Zero for what is below 1e-150: far ends of long networks would otherwise sink into denormal numbers, on which
    /// processors are a hundred times slower.
    /// </summary>
    static abstract L FlushTiny(L x);

    static abstract L Max(L a, L b);

    static abstract L Min(L a, L b);

    /// <summary>In each lane, <paramref name="then"/> where a &lt; b, else <paramref name="otherwise"/>.</summary>
    static abstract L Less(L a, L b, L then, L otherwise);

    /// <summary>Whether every lane is below a limit; false if any lane is not a number.</summary>
    static abstract bool AllBelow(L x, double limit);

    /// <summary>Whether two values agree in every lane.</summary>
    static abstract bool Same(L a, L b);

    /// <summary>The value in one lane.</summary>
    double Get(int lane);

    /// <summary>A copy with another value in one lane.</summary>
    L With(int lane, double value);
}

/// <summary>One circuit.</summary>
internal readonly struct Scalar(double value) : ILane<Scalar>
{
    public readonly double Value = value;

    public static int Width => 1;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Of(double value) => new(value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar operator +(Scalar a, Scalar b) => new(a.Value + b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar operator -(Scalar a, Scalar b) => new(a.Value - b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar operator *(Scalar a, Scalar b) => new(a.Value * b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar operator /(Scalar a, Scalar b) => new(a.Value / b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar operator -(Scalar a) => new(-a.Value);

    public static Scalar Exp(Scalar x) => new(Math.Exp(x.Value));

    public static Scalar Log(Scalar x) => new(Math.Log(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Sqrt(Scalar x) => new(Math.Sqrt(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Abs(Scalar x) => new(Math.Abs(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar TakeProduct(Scalar sum, Scalar a, Scalar b) => new(Math.FusedMultiplyAdd(-a.Value, b.Value, sum.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar FlushTiny(Scalar x) => Math.Abs(x.Value) < 1e-150 ? default : x;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Max(Scalar a, Scalar b) => new(Math.Max(a.Value, b.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Min(Scalar a, Scalar b) => new(Math.Min(a.Value, b.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Scalar Less(Scalar a, Scalar b, Scalar then, Scalar otherwise) => a.Value < b.Value ? then : otherwise;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllBelow(Scalar x, double limit) => x.Value < limit;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Same(Scalar a, Scalar b) => a.Value == b.Value;

    public double Get(int lane) => Value;

    public Scalar With(int lane, double value) => new(value);
}

/// <summary>Eight trials of one circuit side by side.</summary>
internal readonly struct Octet(Vector512<double> value) : ILane<Octet>
{
    public readonly Vector512<double> Value = value;

    public static int Width => 8;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Of(double value) => new(Vector512.Create(value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet operator +(Octet a, Octet b) => new(a.Value + b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet operator -(Octet a, Octet b) => new(a.Value - b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet operator *(Octet a, Octet b) => new(a.Value * b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet operator /(Octet a, Octet b) => new(a.Value / b.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet operator -(Octet a) => new(-a.Value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Exp(Octet x) => new(OctetFunctions.Exp(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Log(Octet x) => new(OctetFunctions.Log(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Sqrt(Octet x) => new(Vector512.Sqrt(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Abs(Octet x) => new(Vector512.Abs(x.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet TakeProduct(Octet sum, Octet a, Octet b) => new(Vector512.FusedMultiplyAdd(-a.Value, b.Value, sum.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet FlushTiny(Octet x) => x; // trials are for circuits of tens of nodes

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Max(Octet a, Octet b) => new(Vector512.Max(a.Value, b.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Min(Octet a, Octet b) => new(Vector512.Min(a.Value, b.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Octet Less(Octet a, Octet b, Octet then, Octet otherwise) =>
        new(Vector512.ConditionalSelect(Vector512.LessThan(a.Value, b.Value), then.Value, otherwise.Value));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool AllBelow(Octet x, double limit) => Vector512.LessThanAll(x.Value, Vector512.Create(limit));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Same(Octet a, Octet b) => Vector512.EqualsAll(a.Value, b.Value);

    public double Get(int lane) => Value.GetElement(lane);

    public Octet With(int lane, double value) => new(Value.WithElement(lane, value));
}
