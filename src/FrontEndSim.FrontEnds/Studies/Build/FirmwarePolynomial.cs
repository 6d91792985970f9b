using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// What is measured as a polynomial in the code: in z = (2·code + 1 − Middle)/2^Shift, which lies between −1 and 1 over the span, by
/// Horner's rule. Code k stands for k + 1/2 counts. Codes beyond the span are read as its nearer end, as a polynomial says nothing there.
/// It is the Chebyshev series of the nominal circuit, cut off: within a factor of two or so of the best polynomial of its degree (common
/// practice in numerics, no source).
/// </summary>
/// <param name="FirstCode">The lowest code of the span.</param>
/// <param name="LastCode">The highest.</param>
/// <param name="Middle">What is taken from 2·code + 1.</param>
/// <param name="Shift">The power of two that this is divided by.</param>
/// <param name="Coefficients">The coefficients, lowest power first, in the sensor's unit.</param>
/// <param name="WholeCoefficients">The same in whole numbers of <paramref name="ResultUnit"/> over
/// 2^<paramref name="FractionBits"/>.</param>
/// <param name="FractionBits">Bits after the binary point of what is summed.</param>
/// <param name="ResultUnit">What a whole result is worth, in the sensor's unit: 1, 0.1, 0.01, and so on.</param>
/// <param name="ProductBits">Width of a signed integer that holds every product: 32 or 64.</param>
/// <param name="Residual">Largest departure of the nominal circuit from it over the span, in the sensor's unit.</param>
/// <param name="Rounding">Largest difference between whole numbers and floating point over all codes, in the sensor's unit; evaluated, not
/// estimated.</param>
public sealed record FirmwarePolynomial(long FirstCode, long LastCode, long Middle, int Shift, ImmutableArray<double> Coefficients,
    ImmutableArray<long> WholeCoefficients, int FractionBits, double ResultUnit, int ProductBits, double Residual, double Rounding)
{
    // Higher powers in a code of some bits gain nothing over a table.
    private const int LowestDegree = 2, HighestDegree = 9;

    // Places at which the curve is taken; a polynomial over fewer codes than this is worth nothing.
    private const int Nodes = 64, LeastCodes = 16;

    // Rounding that costs less than this share of a count is not worth wider numbers.
    private const double WorthLessSteps = 0.05;

    private const int MostFractionBits = 16, MostCodes = 1 << 20;

    /// <summary>The polynomial as C writes it, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    /// <summary>Its degree.</summary>
    public int Degree => Coefficients.Length - 1;

    /// <summary>What it gives for a code in floating point, in the sensor's unit.</summary>
    public double Value(long code) => At(Math.Clamp(code, FirstCode, LastCode) + 0.5, Coefficients);

    /// <summary>What it gives for a code in whole numbers of <see cref="ResultUnit"/>, as the C does it: quotients go towards
    /// zero.</summary>
    public long At(long code)
    {
        long at = 2 * Math.Clamp(code, FirstCode, LastCode) + 1 - Middle, sum = WholeCoefficients[^1];
        for (int k = WholeCoefficients.Length - 2; k >= 0; k--)
            sum = sum * at / (1L << Shift) + WholeCoefficients[k];
        long half = (1L << FractionBits) / 2;
        return (sum + (sum < 0 ? -half : half)) / (1L << FractionBits);
    }

    /// <summary>The value at counts without rounding.</summary>
    private double At(double counts, ImmutableArray<double> coefficients)
    {
        double z = (2 * counts - Middle) / (1L << Shift), sum = 0;
        for (int k = coefficients.Length - 1; k >= 0; k--)
            sum = sum * z + coefficients[k];
        return sum;
    }

    /// <summary>The polynomial of least degree that is as good as half a count, else the best; null where the span covers too few
    /// codes.</summary>
    internal static FirmwarePolynomial? Of(ReadBack back, Converter converter, double coarsestStep)
    {
        long first = (long)converter.Code(back.SpanCounts.Low), last = (long)converter.Code(back.SpanCounts.High);
        if (last - first < LeastCodes || back.Curve is not { } curve)
            return null;
        double middle = 0.5 * (first + last + 1), half = 0.5 * (last - first);
        double[] series = Chebyshev(t => curve.At(Math.Clamp(middle + half * t, back.SpanCounts.Low, back.SpanCounts.High)));
        int shift = (int)Math.Ceiling(Math.Log2(last - first));
        var empty = new FirmwarePolynomial(first, last, first + last + 1, shift, [], [], 0, FirmwareTable.UnitFor(coarsestStep), 64, 0, 0);
        FirmwarePolynomial? best = null;
        for (int degree = LowestDegree; degree <= HighestDegree; degree++)
        {
            double scale = (1L << shift) / (2 * half);
            var made = empty with { Coefficients = [.. Powers(series[..(degree + 1)]).Select((c, k) => c * Math.Pow(scale, k))] };
            made = made with
            {
                Residual = back.Points.Max(p =>
                    Math.Abs(made.At(Math.Clamp(p.Counts, first, last + 1), made.Coefficients) - p.Value)),
            };
            if (best is null || made.Residual < 0.8 * best.Residual)
                best = made;
            if (best.Residual <= 0.5 * coarsestStep)
                break;
        }
        return InWholeNumbers(best!, coarsestStep);
    }

    private static FirmwarePolynomial InWholeNumbers(FirmwarePolynomial p, double coarsestStep)
    {
        double sum = p.Coefficients.Sum(c => Math.Abs(c / p.ResultUnit)) + p.Coefficients.Length;
        FirmwarePolynomial? Fit(int width)
        {
            // A product is at most the sum of all coefficients by 2^Shift; one bit is the sign, one is to spare.
            int bits = Math.Min(MostFractionBits, (int)Math.Floor(width - 2 - p.Shift - Math.Log2(sum)));
            if (bits < 0)
                return null;
            var made = p with
            {
                ProductBits = width,
                FractionBits = bits,
                WholeCoefficients = [.. p.Coefficients.Select(c => (long)Math.Round(c / p.ResultUnit * (1L << bits)))],
            };
            long stride = Math.Max(1, (p.LastCode - p.FirstCode) / MostCodes);
            double rounding = 0;
            for (long code = p.FirstCode; code <= p.LastCode; code += stride)
                rounding = Math.Max(rounding, Math.Abs(made.At(code) * made.ResultUnit - made.Value(code)));
            return made with { Rounding = rounding };
        }
        return Fit(32) is { } narrow && narrow.Rounding <= Math.Max(p.ResultUnit, WorthLessSteps * coarsestStep) ? narrow
            : Fit(64) ?? throw new StudyProblemException(new(ProblemKind.TooWideForWholeNumbers));
    }

    /// <summary>The coefficients of a function's Chebyshev series on −1 .. 1, by its values at the nodes.</summary>
    internal static double[] Chebyshev(Func<double, double> function)
    {
        double[] values = [.. Enumerable.Range(0, Nodes).Select(k => function(Math.Cos(Math.PI * (k + 0.5) / Nodes)))];
        return [.. Enumerable.Range(0, HighestDegree + 1).Select(j => (j == 0 ? 1.0 : 2.0) / Nodes
            * values.Select((v, k) => v * Math.Cos(j * Math.PI * (k + 0.5) / Nodes)).Sum())];
    }

    /// <summary>A Chebyshev series as powers: T0 = 1, T1 = t, T(k+1) = 2·t·T(k) − T(k−1).</summary>
    internal static double[] Powers(double[] series)
    {
        double[] sum = new double[series.Length], before = new double[series.Length], now = new double[series.Length];
        (before[0], now[1]) = (1, 1);
        sum[0] = series[0];
        for (int k = 1; k < series.Length; k++)
        {
            for (int j = 0; j < sum.Length; j++)
                sum[j] += series[k] * now[j];
            var next = new double[series.Length];
            for (int j = 0; j < next.Length; j++)
                next[j] = (j > 0 ? 2 * now[j - 1] : 0) - before[j];
            (before, now) = (now, next);
        }
        return sum;
    }
}
