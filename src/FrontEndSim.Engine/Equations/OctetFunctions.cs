using System.Runtime.Intrinsics;

namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The exponential and the logarithm of eight numbers, in operations whose rounding is known: those of the library may be fused or not,
/// as the code about them was compiled, and differ in the last digit from one call to a later one.
/// </summary>
internal static class OctetFunctions
{
    private const double PerLn2 = 1.4426950408889634;

    // ln 2 in two parts, the first with zeros at its end, so that its products with small whole numbers are exact (Cody and Waite).
    private const double Ln2High = 6.93147180369123816490e-01, Ln2Low = 1.90821492927058770002e-10;

    // Added and taken away, it rounds to a whole number, which then stands in its last digits.
    private const double Rounder = 6755399441055744.0;

    // Beyond, the exponential or its power of two leaves the range of numbers.
    private const double Most = 709, Least = -708;

    /// <summary>e to a power: zero below −708, and no more than at 709.</summary>
    public static Vector512<double> Exp(Vector512<double> x)
    {
        var within = Vector512.Max(Vector512.Create(Least), Vector512.Min(Vector512.Create(Most), x));
        var shifted = Vector512.FusedMultiplyAdd(within, Vector512.Create(PerLn2), Vector512.Create(Rounder));
        var n = shifted - Vector512.Create(Rounder);
        var r = Vector512.FusedMultiplyAdd(n, Vector512.Create(-Ln2High), within);
        r = Vector512.FusedMultiplyAdd(n, Vector512.Create(-Ln2Low), r);
        // The series of e^r, |r| < 0.35, to r^13/13!: 5e-18.
        var sum = Vector512.Create(1.0 / 6227020800);
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 479001600));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 39916800));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 3628800));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 362880));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 40320));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 5040));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 720));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 120));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 24));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(1.0 / 6));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512.Create(0.5));
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512<double>.One);
        sum = Vector512.FusedMultiplyAdd(sum, r, Vector512<double>.One);
        // Times 2^n: n is added to the exponent. Not a number stays so.
        var scaled = (sum.AsInt64() + Vector512.ShiftLeft(shifted.AsInt64(), 52)).AsDouble();
        scaled = Vector512.ConditionalSelect(Vector512.LessThan(x, Vector512.Create(Least)), Vector512<double>.Zero, scaled);
        return Vector512.ConditionalSelect(Vector512.Equals(x, x), scaled, x);
    }

    /// <summary>The natural logarithm of numbers above zero that are not denormal; not a number of others, but for infinity.</summary>
    public static Vector512<double> Log(Vector512<double> x)
    {
        // x = 2^n·m with m from √½ to √2.
        var bits = x.AsInt64();
        var raised = Vector512.ShiftRightLogical(bits + Vector512.Create((1024L << 52) - 0x3FE6A09E667F3BCDL), 52); // n + 1024
        var m = (bits + Vector512.Create(1024L << 52) - Vector512.ShiftLeft(raised, 52)).AsDouble();
        var n = (raised + Vector512.Create(Rounder).AsInt64()).AsDouble() - Vector512.Create(Rounder + 1024);
        // ln m = 2·artanh s, s = (m − 1)/(m + 1), by its series to s^23/23: 1e-18.
        var f = m - Vector512<double>.One;
        var s = f / (m + Vector512<double>.One);
        var z = s * s;
        var sum = Vector512.Create(2.0 / 23);
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 21));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 19));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 17));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 15));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 13));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 11));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 9));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 7));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 5));
        sum = Vector512.FusedMultiplyAdd(sum, z, Vector512.Create(2.0 / 3));
        // 2·s = f − s·f exactly enough: what is added to f is small beside it (after the usual form of the C library's logarithm).
        var rest = Vector512.FusedMultiplyAdd(n, Vector512.Create(Ln2Low), s * (z * sum - f));
        var log = Vector512.FusedMultiplyAdd(n, Vector512.Create(Ln2High), f + rest);
        var valid = Vector512.GreaterThan(x, Vector512<double>.Zero) & Vector512.LessThan(x, Vector512.Create(double.PositiveInfinity));
        var other = Vector512.ConditionalSelect(Vector512.Equals(x, Vector512.Create(double.PositiveInfinity)), x,
            Vector512.Create(double.NaN));
        other = Vector512.ConditionalSelect(Vector512.Equals(x, Vector512<double>.Zero), Vector512.Create(double.NegativeInfinity), other);
        return Vector512.ConditionalSelect(valid, log, other);
    }
}
