namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// result = Offset ± (code · |Factor| + Rounding) / 2^Shift with the sign of the factor, in whole numbers; nothing negative is shifted.
/// Every product and every result fits its width at every code of the converter: computed exactly, not estimated.
/// </summary>
/// <param name="Factor">Factor of the code.</param>
/// <param name="Shift">How many bits the product is shifted to the right.</param>
/// <param name="Offset">What is added, in the result's unit.</param>
/// <param name="ResultUnit">The result's unit, V: 1e-6 for microvolts; coarser where microvolts would not fit.</param>
/// <param name="ProductBits">Width of a signed integer that holds every product with its rounding: 32 or 64.</param>
/// <param name="ResultBits">Width of a signed integer that holds every result: 32 or 64.</param>
/// <param name="RoundingError">Largest difference to the line in floating point over all codes, V; evaluated, not estimated.</param>
public sealed record WholeNumberLine(long Factor, int Shift, long Offset, double ResultUnit,
    int ProductBits, int ResultBits, double RoundingError)
{
    /// <summary>Half of what the division drops.</summary>
    public long Rounding => Shift == 0 ? 0 : 1L << (Shift - 1);

    /// <summary>The value for a code, in the result's unit.</summary>
    public long At(long code) => Offset + Math.Sign(Factor) * ((code * Math.Abs(Factor) + Rounding) >> Shift);

    // Codes beyond this are sampled when the rounding is evaluated.
    private const int MostCodes = 1 << 20;

    // Rounding that costs less than this share of a count is not worth wider numbers.
    private const double WorthLessCounts = 0.05;

    /// <summary>
    /// The line in whole numbers: products of 32 bits where they cost less than a microvolt or a twentieth of a count, else of 64;
    /// microvolts, or the first thousandfold of them in which every result fits 64 bits.
    /// </summary>
    /// <param name="slope">Value for one count, V.</param>
    /// <param name="offset">Value at code 0, V.</param>
    /// <param name="bits">Resolution of the converter, 1 to 32.</param>
    /// <exception cref="StudyProblemException">No unit is coarse enough.</exception>
    public static WholeNumberLine For(double slope, double offset, int bits)
    {
        for (double unit = 1e-6; unit < 1e12; unit *= 1000)
        {
            if (Fit(slope, offset, bits, unit, 32) is { } narrow
                && narrow.RoundingError <= Math.Max(unit, WorthLessCounts * Math.Abs(slope)))
                return narrow;
            if (Fit(slope, offset, bits, unit, 64) is { } wide)
                return wide;
        }
        throw new StudyProblemException(new(ProblemKind.TooWideForWholeNumbers));
    }

    /// <summary>The line with the most bits after the binary point whose products fit the width; null where none does.</summary>
    private static WholeNumberLine? Fit(double slope, double offset, int bits, double unit, int width)
    {
        double perCode = Math.Abs(slope) / unit;
        long last = (1L << bits) - 1;
        Int128 room = width == 32 ? int.MaxValue : long.MaxValue;
        int shift = Math.Clamp((int)Math.Floor(width - 1 - bits - Math.Log2(Math.Max(perCode, 1e-9))), 0, 40);
        // Rounding of the factor, and half of what the shift drops, may take a bit more than the logarithms say.
        for (; shift >= 0; shift--)
        {
            double factor = Math.Round(perCode * Math.Pow(2, shift)), constant = Math.Round(offset / unit);
            if (!(factor <= long.MaxValue / 2.0) || !(Math.Abs(constant) <= long.MaxValue / 2.0))
                continue;
            var line = new WholeNumberLine(Math.Sign(slope) * (long)factor, shift, (long)constant, unit, width, 0, 0);
            Int128 product = (Int128)last * (Int128)factor + line.Rounding;
            // The line is monotonic: its ends bound every result, and the ends before the offset is added bound the terms.
            Int128 term = product >> shift, end = line.Offset + (slope < 0 ? -term : term);
            Int128 largest = Int128.Max(Int128.Max(Int128.Abs(end), Int128.Abs(line.Offset)), term);
            if (product > room || largest > long.MaxValue)
                continue;
            return line with { ResultBits = largest <= int.MaxValue ? 32 : 64, RoundingError = RoundingOf(line, slope, offset, last) };
        }
        return null;
    }

    /// <summary>Largest difference between the two lines, V.</summary>
    private static double RoundingOf(WholeNumberLine line, double slope, double offset, long last)
    {
        long stride = Math.Max(1, (last + 1) / MostCodes);
        double Off(long code) => Math.Abs(line.At(code) * line.ResultUnit - (offset + slope * code));
        double worst = Off(last);
        for (long code = 0; code < last; code += stride)
            worst = Math.Max(worst, Off(code));
        return worst;
    }
}
