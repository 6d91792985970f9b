using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Quantities;
using MathNet.Numerics.LinearAlgebra;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>
/// Saturation current, emission coefficient and series resistance from points of forward voltage against current:
/// v = n·Vt·ln(i/Is) + i·Rs, which is linear in n·Vt·ln Is, n·Vt and Rs. (Shockley's −1 is left out: i is far above Is.)
/// </summary>
internal static class ForwardFit
{
    private static readonly double ThermalVolts = Constants.ThermalVolts(Constants.ReferenceKelvin);

    // Ideal diffusion and thermionic emission are n = 1, recombination n = 2 (Sze); a little either way for numbers that were
    // rounded. A Schottky diode stays near 1: a steeper rise comes of its resistance.
    private const double LeastEmission = 0.95;

    private static double MostEmission(DiodeKind kind) => kind == DiodeKind.Schottky ? 1.25 : 2.2;

    /// <summary>The usual emission coefficient where the points do not settle it (typical of the kinds, from memory).</summary>
    private static double UsualEmission(DiodeKind kind) => kind switch
    {
        DiodeKind.Schottky => 1.05,
        DiodeKind.Zener => 1.1,
        _ => 1.8,
    };

    /// <summary>The three numbers put into a model.</summary>
    /// <exception cref="DataSheetException">Two points contradict each other.</exception>
    public static DiodeModel Into(DiodeModel model, DiodeDataSheet sheet, IReadOnlyList<DataPoint> points)
    {
        for (int k = 1; k < points.Count; k++)
        {
            if (points[k].Value <= points[k - 1].Value)
                throw DataSheetException.Contradiction(sheet.Name, points[k - 1], points[k], "a forward voltage rises with the current");
            double emission = (points[k].Value - points[k - 1].Value) / ThermalVolts / Math.Log(points[k].At / points[k - 1].At);
            if (emission < LeastEmission)
            {
                throw DataSheetException.Contradiction(sheet.Name, points[k - 1], points[k],
                    $"between them any junction rises by at least {SiText.Format(ThermalVolts * Math.Log(points[k].At / points[k - 1].At), "V", 3)}");
            }
        }
        var (slope, ohms) = SlopeAndOhms(sheet, points);
        // The height of the curve: the points' mean distance from it.
        double height = points.Average(p => p.Value - slope * Math.Log(p.At) - ohms * p.At);
        return model with { SaturationAmps = Math.Exp(-height / slope), EmissionCoefficient = slope / ThermalVolts, SeriesOhms = ohms };
    }

    private static (double Slope, double Ohms) SlopeAndOhms(DiodeDataSheet sheet, IReadOnlyList<DataPoint> points)
    {
        double usual = UsualEmission(sheet.Kind) * ThermalVolts;
        if (points.Count == 1)
            return (usual, 0);
        var volts = Vector<double>.Build.DenseOfEnumerable(points.Select(p => p.Value));
        if (points.Count > 2)
        {
            var free = Matrix<double>.Build.DenseOfRows(points.Select(p => new[] { 1, Math.Log(p.At), p.At })).QR().Solve(volts);
            double emission = free[1] / ThermalVolts;
            if (free[2] >= 0 && emission >= LeastEmission && emission <= MostEmission(sheet.Kind))
                return (free[1], free[2]);
        }
        // The points do not settle both: the usual slope, and as resistance what is left over; else a slope without resistance.
        var rest = volts - usual * Vector<double>.Build.DenseOfEnumerable(points.Select(p => Math.Log(p.At)));
        double ohms = Matrix<double>.Build.DenseOfRows(points.Select(p => new[] { 1, p.At })).QR().Solve(rest)[1];
        return ohms >= 0 ? (usual, ohms) : ((points[^1].Value - points[0].Value) / Math.Log(points[^1].At / points[0].At), 0);
    }
}
