using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace FrontEndSim.Engine.Solving;

/// <summary>Sums over whole vectors of unknowns, several at a time in vector registers.</summary>
internal static class Vectors
{
    /// <summary>The same memory as numbers.</summary>
    public static Span<double> Numbers(Scalar[] x) => MemoryMarshal.Cast<Scalar, double>(x.AsSpan());

    /// <summary>
    /// result = start + scale · Σ weight[j] · term[j] over the first <paramref name="count"/> terms, one to six, in one pass; from zero
    /// where start is null. The result is none of the others.
    /// </summary>
    public static void Sum(Scalar[] result, Scalar[]? start, double scale, double[] weight, Scalar[][] term, int count)
    {
        int size = result.Length, width = Vector<double>.Count, k = 0;
        ref double into = ref First(result), from = ref First(start ?? result);
        ref double t0 = ref First(term[0]), t1 = ref First(Term(1)), t2 = ref First(Term(2));
        ref double t3 = ref First(Term(3)), t4 = ref First(Term(4)), t5 = ref First(Term(5));
        double f0 = scale * weight[0], f1 = Factor(1), f2 = Factor(2), f3 = Factor(3), f4 = Factor(4), f5 = Factor(5);
        for (; k <= size - width; k += width)
        {
            var sum = (start is null ? Vector<double>.Zero : At(ref from, k)) + f0 * At(ref t0, k);
            if (count > 1)
                sum += f1 * At(ref t1, k);
            if (count > 2)
                sum += f2 * At(ref t2, k);
            if (count > 3)
                sum += f3 * At(ref t3, k);
            if (count > 4)
                sum += f4 * At(ref t4, k);
            if (count > 5)
                sum += f5 * At(ref t5, k);
            Unsafe.As<double, Vector<double>>(ref Unsafe.Add(ref into, k)) = sum;
        }
        for (; k < size; k++)
        {
            double sum = (start is null ? 0 : Unsafe.Add(ref from, k)) + f0 * Unsafe.Add(ref t0, k);
            if (count > 1)
                sum += f1 * Unsafe.Add(ref t1, k);
            if (count > 2)
                sum += f2 * Unsafe.Add(ref t2, k);
            if (count > 3)
                sum += f3 * Unsafe.Add(ref t3, k);
            if (count > 4)
                sum += f4 * Unsafe.Add(ref t4, k);
            if (count > 5)
                sum += f5 * Unsafe.Add(ref t5, k);
            Unsafe.Add(ref into, k) = sum;
        }

        Scalar[] Term(int j) => term[j < count ? j : 0];

        double Factor(int j) => j < count ? scale * weight[j] : 0;
    }

    private static ref double First(Scalar[] x) => ref Unsafe.As<Scalar, double>(ref MemoryMarshal.GetArrayDataReference(x));

    private static Vector<double> At(ref double first, int k) => Unsafe.As<double, Vector<double>>(ref Unsafe.Add(ref first, k));

    /// <summary>result += factor · term.</summary>
    public static void AddScaled(Span<double> result, double factor, ReadOnlySpan<double> term)
    {
        if (factor == 0)
            return;
        var f = new Vector<double>(factor);
        int k = 0, width = Vector<double>.Count;
        for (; k <= result.Length - width; k += width)
            (new Vector<double>(result[k..]) + f * new Vector<double>(term[k..])).CopyTo(result[k..]);
        for (; k < result.Length; k++)
            result[k] += factor * term[k];
    }

    /// <summary>result = factor · (a − b).</summary>
    public static void ScaledDifference(Span<double> result, double factor, ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var f = new Vector<double>(factor);
        int k = 0, width = Vector<double>.Count;
        for (; k <= result.Length - width; k += width)
            (f * (new Vector<double>(a[k..]) - new Vector<double>(b[k..]))).CopyTo(result[k..]);
        for (; k < result.Length; k++)
            result[k] = factor * (a[k] - b[k]);
    }

    /// <summary>result = w0·a + w1·b + w2·c + w3·d − e.</summary>
    public static void CubicError(Span<double> result, double[] weights, ReadOnlySpan<double> a, ReadOnlySpan<double> b,
        ReadOnlySpan<double> c, ReadOnlySpan<double> d, ReadOnlySpan<double> e)
    {
        Vector<double> w0 = new(weights[0]), w1 = new(weights[1]), w2 = new(weights[2]), w3 = new(weights[3]);
        int k = 0, width = Vector<double>.Count;
        for (; k <= result.Length - width; k += width)
        {
            (w0 * new Vector<double>(a[k..]) + w1 * new Vector<double>(b[k..]) + w2 * new Vector<double>(c[k..])
                + w3 * new Vector<double>(d[k..]) - new Vector<double>(e[k..])).CopyTo(result[k..]);
        }
        for (; k < result.Length; k++)
            result[k] = weights[0] * a[k] + weights[1] * b[k] + weights[2] * c[k] + weights[3] * d[k] - e[k];
    }

    /// <summary>peak = max(peak, |x|).</summary>
    public static void RaiseToMagnitude(Span<double> peak, ReadOnlySpan<double> x)
    {
        int k = 0, width = Vector<double>.Count;
        for (; k <= peak.Length - width; k += width)
            Vector.Max(new Vector<double>(peak[k..]), Vector.Abs(new Vector<double>(x[k..]))).CopyTo(peak[k..]);
        for (; k < peak.Length; k++)
            peak[k] = Math.Max(peak[k], Math.Abs(x[k]));
    }

    /// <summary>The largest of numbers of at least zero.</summary>
    public static double Largest(ReadOnlySpan<double> a)
    {
        double largest = 0;
        int k = 0, width = Vector<double>.Count;
        var most = Vector<double>.Zero;
        for (; k <= a.Length - width; k += width)
            most = Vector.Max(most, new Vector<double>(a[k..]));
        for (int lane = 0; lane < width; lane++)
            largest = Math.Max(largest, most[lane]);
        for (; k < a.Length; k++)
            largest = Math.Max(largest, a[k]);
        return largest;
    }

    /// <summary>result = max(share·peak + least, floor) + extra.</summary>
    public static void Allow(Span<double> result, double share, ReadOnlySpan<double> peak, double least, double floor,
        ReadOnlySpan<double> extra)
    {
        Vector<double> s = new(share), l = new(least), f = new(floor);
        int k = 0, width = Vector<double>.Count;
        for (; k <= result.Length - width; k += width)
            (Vector.Max(s * new Vector<double>(peak[k..]) + l, f) + new Vector<double>(extra[k..])).CopyTo(result[k..]);
        for (; k < result.Length; k++)
            result[k] = Math.Max(share * peak[k] + least, floor) + extra[k];
    }

    /// <summary>The largest |a| / max(b, share·|x|) over all entries; infinity if some a is not a number.</summary>
    public static double LargestRatio(ReadOnlySpan<double> a, ReadOnlySpan<double> b, double share, ReadOnlySpan<double> x)
    {
        double largest = 0;
        int k = 0, width = Vector<double>.Count;
        var most = Vector<double>.Zero;
        var s = new Vector<double>(share);
        bool finite = true;
        for (; k <= a.Length - width; k += width)
        {
            var ratio = Vector.Abs(new Vector<double>(a[k..]))
                / Vector.Max(new Vector<double>(b[k..]), s * Vector.Abs(new Vector<double>(x[k..])));
            finite &= Vector.EqualsAll(ratio, ratio);
            most = Vector.Max(most, ratio);
        }
        for (int lane = 0; lane < width; lane++)
            largest = Math.Max(largest, most[lane]);
        for (; k < a.Length; k++)
            largest = Math.Max(largest, Math.Abs(a[k]) / Math.Max(b[k], share * Math.Abs(x[k])));
        return finite && !double.IsNaN(largest) ? largest : double.PositiveInfinity;
    }
}
