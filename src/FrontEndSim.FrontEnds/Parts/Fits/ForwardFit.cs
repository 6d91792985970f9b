using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;
using MathNet.Numerics.LinearAlgebra;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>
/// Saturation current, emission coefficient and series resistance from points of forward voltage against current:
/// v = n·Vt·ln(i/Is) + i·Rs, which is linear in n·Vt·ln Is, n·Vt and Rs. (Shockley's −1 is left out: i is far above Is.)
/// Where three points or more lie on no such curve, the resistance moves from Rs to R∞ with the current, i·R∞ + i·(Rs − R∞)/(1 + i/Im):
/// linear again in Rs and R∞ for each Im, and the Im is taken that misses the points least.
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
                    $"between them any junction rises by at least "
                        + $"{SiText.Format(ThermalVolts * Math.Log(points[k].At / points[k - 1].At), "V", 3)}");
            }
        }
        var (slope, ohms) = SlopeAndOhms(sheet, points);
        // The height of the curve: the points' mean distance from it.
        double height = points.Average(p => p.Value - slope * Math.Log(p.At) - ohms * p.At);
        var straight = model with
        {
            SaturationAmps = Math.Exp(-height / slope),
            EmissionCoefficient = slope / ThermalVolts,
            SeriesOhms = ohms
        };
        double miss = points.Max(p => Math.Abs(height + slope * Math.Log(p.At) + ohms * p.At - p.Value) / p.Value);
        return points.Count < 3 || miss < StraightEnough ? straight
            : Modulated(straight, points, UsualEmission(sheet.Kind) * ThermalVolts) is { } bent && bent.Miss < miss ? bent.Model : straight;
    }

    // Within this share of every point a straight resistance is as good as data sheets are.
    private const double StraightEnough = 0.01;

    // The resistance at high current is never less than this share of that at low current: contacts remain (judgement, no source).
    private const double LeastRemaining = 0.002;

    private static (DiodeModel Model, double Miss)? Modulated(DiodeModel model, IReadOnlyList<DataPoint> points, double slope)
    {
        (DiodeModel Model, double Miss)? best = null;
        var rest = Vector<double>.Build.DenseOfEnumerable(points.Select(p => p.Value - slope * Math.Log(p.At)));
        double lowest = Math.Log(points[0].At), highest = Math.Log(points[^1].At);
        const int places = 60;
        for (int k = 0; k <= places; k++)
        {
            double im = Math.Exp(lowest + (highest - lowest) * k / places);
            // Height, R∞ and Rs − R∞; where R∞ comes out too small it is held at its least share.
            var found = Matrix<double>.Build.DenseOfRows(points.Select(p => new[] { 1, p.At, p.At / (1 + p.At / im) })).QR().Solve(rest);
            double last = found[1], first = found[1] + found[2], height = found[0];
            if (last < LeastRemaining * first)
            {
                var held = Matrix<double>.Build.DenseOfRows(points.Select(p =>
                    new[] { 1, p.At * (LeastRemaining + (1 - LeastRemaining) / (1 + p.At / im)) })).QR().Solve(rest);
                (height, first, last) = (held[0], held[1], LeastRemaining * held[1]);
            }
            if (!(first > 0 && last > 0))
                continue;
            var made = model with
            {
                SaturationAmps = Math.Exp(-height / slope),
                EmissionCoefficient = slope / ThermalVolts,
                SeriesOhms = first,
                HighCurrentOhms = last,
                ModulationAmps = im,
            };
            double miss = points.Max(p => Math.Abs(DiodeCurve.ForwardVolts(made, p.At) / p.Value - 1));
            if (best is null || miss < best.Value.Miss - 1e-9)
                best = (made, miss);
        }
        return best;
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
