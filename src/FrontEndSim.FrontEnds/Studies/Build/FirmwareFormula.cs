using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;
using MathNet.Numerics.LinearAlgebra;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// The inverse of a sensor's own formula behind its resistance, which follows from the code: of any network of resistors and sources with
/// one resistance that moves, R = (Constant + Slope·u)/(1 + Lower·u) for u = code + 1/2 − Middle. Codes beyond the span are read as its
/// nearer end.
/// </summary>
/// <param name="FirstCode">The lowest code of the span.</param>
/// <param name="LastCode">The highest.</param>
/// <param name="Middle">What is taken from the counts.</param>
/// <param name="Constant">Resistance in the middle, ohm.</param>
/// <param name="Slope">What a count adds above the line, ohm.</param>
/// <param name="Lower">What a count adds below it.</param>
/// <param name="Inverse">The formula that follows.</param>
/// <param name="Residual">Largest departure of the nominal circuit from it over the span, in the sensor's unit.</param>
public sealed record FirmwareFormula(long FirstCode, long LastCode, double Middle, double Constant, double Slope, double Lower,
    InverseFormula Inverse, double Residual)
{
    // A circuit that bends its codes otherwise (a diode in the way, an amplifier that clips) is not served by it.
    private const double MostOfSpan = 0.02;

    /// <summary>The formula as C writes it, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    /// <summary>What it gives for a code, in the sensor's unit.</summary>
    public double Value(long code) => At(Math.Clamp(code, FirstCode, LastCode) + 0.5);

    private double At(double counts)
    {
        double u = counts - Middle;
        return Inverse.Celsius((Constant + Slope * u) / (1 + Lower * u));
    }

    /// <summary>The formula; null where the law has none, or the circuit is another.</summary>
    internal static FirmwareFormula? Of(ReadBack back, Converter converter, Sensor sensor)
    {
        if (sensor.Law is not { WayBack: { } inverse } law)
            return null;
        var points = back.Points.Where(p => p.Counts >= 0 && p.Counts <= converter.Codes).ToArray();
        long first = (long)converter.Code(back.SpanCounts.Low), last = (long)converter.Code(back.SpanCounts.High);
        if (points.Length < 3 || last - first < 3)
            return null;
        double middle = 0.5 * (first + last + 1), half = 0.5 * (last + 1 - first);
        // n0 + n1·u − d1·u·R = R in its least squares, each point weighed by what an ohm is there in the sensor's unit.
        var rows = Matrix<double>.Build.Dense(points.Length, 3);
        var right = Vector<double>.Build.Dense(points.Length);
        for (int k = 0; k < points.Length; k++)
        {
            var (value, counts) = points[k];
            double ohms = law.At(value), u = (counts - middle) / half, step = 1e-3 * sensor.Span.Width;
            double weight = Math.Abs(2 * step / (law.At(value + step) - law.At(value - step)));
            rows.SetRow(k, [weight, weight * u, -weight * u * ohms]);
            right[k] = weight * ohms;
        }
        var found = rows.QR().Solve(right);
        var made = new FirmwareFormula(first, last, middle, found[0], found[1] / half, found[2] / half, inverse, 0);
        double residual = points.Max(p => Math.Abs(made.At(p.Counts) - p.Value));
        return residual <= MostOfSpan * sensor.Span.Width ? made with { Residual = residual } : null;
    }
}
