namespace FrontEndSim.FrontEnds.Stages.Filtering;

/// <summary>A low-pass of second order, 1/(1 + s/(Q·ω0) + (s/ω0)²).</summary>
/// <param name="PoleHertz">Its pole frequency, ω0/2π, Hz, above zero.</param>
/// <param name="Quality">Its quality Q, above zero.</param>
internal sealed record SecondOrder(double PoleHertz, double Quality)
{
    /// <summary>Quality of a Butterworth low-pass of second order: maximally flat.</summary>
    public static readonly double Butterworth = 1 / Math.Sqrt(2);

    /// <summary>Quality of a Bessel low-pass of second order: s² + 3s + 3 has Q = √3/3.</summary>
    public static readonly double Bessel = 1 / Math.Sqrt(3);

    /// <summary>
    /// Quality of a Chebyshev low-pass of second order: its poles are −sinh u·sin 45° ± j·cosh u·cos 45° with u = asinh(1/ε)/2 and
    /// ε² = 10^(r/10) − 1 (Zverev, Handbook of Filter Synthesis, 1967, from memory).
    /// </summary>
    /// <param name="decibels">The ripple r in the pass band, dB, above zero.</param>
    public static double Chebyshev(double decibels)
    {
        double u = Math.Asinh(1 / Math.Sqrt(Math.Pow(10, decibels / 10) - 1)) / 2;
        return Math.Sqrt(Math.Cosh(2 * u)) / (2 * Math.Sinh(u));
    }

    /// <summary>The low-pass of a quality whose gain is down by √2 at a frequency.</summary>
    /// <param name="cornerHertz">That frequency, Hz.</param>
    /// <param name="quality">The quality.</param>
    public static SecondOrder WithCorner(double cornerHertz, double quality) => new(cornerHertz / CornerShare(quality), quality);

    /// <summary>Where its gain is down by √2 from the DC gain, Hz.</summary>
    public double CornerHertz => PoleHertz * CornerShare(Quality);

    /// <summary>Its gain at a frequency, over the DC gain.</summary>
    public double Gain(double hertz)
    {
        double x = hertz / PoleHertz;
        return 1 / Math.Sqrt(Math.Pow(1 - x * x, 2) + Math.Pow(x / Quality, 2));
    }

    // (1 − x²)² + (x/Q)² = 2, a quadratic in x².
    private static double CornerShare(double quality)
    {
        double b = 1 - 1 / (2 * quality * quality);
        return Math.Sqrt(b + Math.Sqrt(b * b + 1));
    }
}
