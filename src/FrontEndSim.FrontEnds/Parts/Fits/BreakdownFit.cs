using FrontEndSim.Engine.Elements;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>
/// Breakdown of a zener from its data sheet: two exponential terms, one steep and one soft, and a series resistance.
/// The zener voltage at test current is met exactly; slopes, share of the soft term and resistance are those that miss the
/// other points least (least squares of logarithms, Levenberg and Marquardt's method). A largest value is aimed at, as
/// a guard has to work with the worst piece, but to exceed it weighs ten times more than to stay below it.
/// </summary>
internal static class BreakdownFit
{
    // A misfit of a fifth in an impedance, a half in a leakage and 1 % in a voltage weigh alike: as exact as data sheets are.
    private const double ImpedanceShare = 0.2;
    private const double LeakageShare = 0.5;
    private const double VoltageShare = 0.01;
    private const double ExcessWeight = 10;

    // What the points leave open stays near a usual diode: these are how far (as factors, in logarithms) slope, share of the soft
    // term, its slope, and the resistance that bulk and contacts have stray from diode to diode. The resistance is held best:
    // at surge currents all hangs on it, and no point of a usual sheet settles it but the power of its pulses (judgement, no source).
    private static readonly double[] UsualSpread = [5, 5, 5, 1];

    /// <summary>The breakdown put into a model whose forward numbers are known; its series resistance is replaced.</summary>
    /// <exception cref="DataSheetException">Numbers are missing or contradict each other.</exception>
    public static DiodeModel Into(DiodeModel model, DiodeDataSheet sheet)
    {
        var test = sheet.First(DataPointKind.ZenerVoltage)
            ?? throw new DataSheetException($"The zener {sheet.Name} needs its zener voltage at a test current.");
        // A largest forward voltage bounds the resistance, which carries the current either way.
        DataPoint[] others = [.. sheet.Points.Where(p =>
            p != test && p.Celsius == 25 && (p.Kind != DataPointKind.ForwardVoltage || p.IsLimit))];
        if (others.All(p => p.Kind is DataPointKind.Leakage or DataPointKind.ForwardVoltage))
            throw new DataSheetException(
                $"The zener {sheet.Name} needs an impedance at a current, or its zener voltage at a second current.");
        Refuse(sheet, test, others);

        // An avalanche type's leakage is no early breakdown but made in its junction, and part of the model from the start.
        bool isAvalanche = sheet.TempCo > 0;
        if (isAvalanche && Cold(sheet) is { } cold)
            model = model with { LeakageSiemens = cold.Value / cold.At, LeakageExponent = 1 };

        // The unknowns are logarithms, so that any value of theirs is a possible diode.
        double slope = TypicalSlope(test, others), testOhms = slope / test.At;
        var start = Vector<double>.Build.DenseOfArray([Math.Log(slope), Math.Log(0.05), Math.Log(2),
            Math.Log(slope < MostSlope(test) ? Math.Min(0.1 * testOhms, BulkOhms(sheet, test, slope)) : 0.1 * testOhms)]);
        DiodeModel Made(Vector<double> x) =>
            Model(model, test, Math.Exp(x[0]), 1 / (1 + Math.Exp(-x[1])), 1 + Math.Exp(x[2]), Math.Exp(x[3]));

        var objective = ObjectiveFunction.NonlinearModel((x, _) =>
        {
            var made = Made(x);
            var miss = Vector<double>.Build.Dense(others.Length + 4);
            for (int k = 0; k < others.Length; k++)
                miss[k] = Miss(others[k], DiodeCurve.At(made, others[k]), isAvalanche);
            for (int k = 0; k < 4; k++)
                miss[others.Length + k] = (x[k] - start[k]) / UsualSpread[k];
            return miss;
        }, Vector<double>.Build.Dense(others.Length + 4, k => k), Vector<double>.Build.Dense(others.Length + 4), accuracyOrder: 2);
        var found = new LevenbergMarquardtMinimizer(gradientTolerance: 1e-6, stepTolerance: 1e-6,
            functionTolerance: 1e-8, maximumIterations: 100)
            .FindMinimum(objective, start);
        return Hot(Flooded(Made(found.MinimizingPoint), sheet), sheet);
    }

    // At the power of its pulse of 100 µs a breakdown junction stands a third above its test voltage: suppressors stand 1.31 to 1.40 times
    // their largest breakdown voltage at their rated pulse (SMAJ sheets of Socay and Diodes Inc.), and zeners of half a watt carry 6 A
    // (5.1 V) to 0.8 A (36 V) beside 40 W (BZX79 sheet, from memory). Those 40 W for half a watt: Silicon Standard BZX79.
    private const double PulsedRise = 1.0 / 3, PulseShare = 80, LeastBulkShare = 0.25;

    /// <summary>What is left to bulk and contacts of the rise to the pulse's voltage, once the slope of the breakdown is taken off,
    /// ohm.</summary>
    private static double BulkOhms(DiodeDataSheet sheet, DataPoint test, double slope)
    {
        double rise = PulsedRise * test.Value, amps = PulseShare * sheet.RatedWatts / (test.Value + rise);
        return Math.Max(rise - slope * Math.Log(amps / test.At), LeastBulkShare * rise) / amps;
    }

    // Forward, a zener of half a watt drops about 1.2 V at 1 A (typical, from memory): its bulk is flooded from a tenth of that on.
    private const double FloodedVolts = 1.2, FloodedAmpsPerWatt = 2;

    /// <summary>The series resistance that holds in reverse falls at high forward current.</summary>
    private static DiodeModel Flooded(DiodeModel model, DiodeDataSheet sheet)
    {
        double amps = FloodedAmpsPerWatt * sheet.RatedWatts, im = amps / 10;
        double left = FloodedVolts - DiodeCurve.ForwardVolts(model with { SeriesOhms = 0 }, amps);
        // left = amps·(R∞ + (Rs − R∞)/(1 + amps/Im)).
        double most = (left / amps - model.SeriesOhms / (1 + amps / im)) / (1 - 1 / (1 + amps / im));
        return model.SeriesOhms * amps <= left ? model
            : model with { HighCurrentOhms = Math.Max(most, LeastRemaining * model.SeriesOhms), ModulationAmps = im };
    }

    // What is left of the bulk's resistance once it is flooded: contacts (judgement, no source).
    private const double LeastRemaining = 0.02;

    private static DataPoint? Cold(DiodeDataSheet sheet) =>
        sheet.Points.Where(p => p.Kind == DataPointKind.Leakage && p.Celsius == 25).MaxBy(p => p.At);

    /// <summary>
    /// What the breakdown leaves over of a leakage stated hot is generated thermally. Of an avalanche type cold and hot limit say how it
    /// grows; the tunnelling of types of low voltage hardly knows temperature, and what is over hot doubles every
    /// <see cref="DiodeDataSheet.LeakageDoublingKelvin"/>.
    /// </summary>
    private static DiodeModel Hot(DiodeModel model, DiodeDataSheet sheet)
    {
        var hot = sheet.Points.Where(p => p.Kind == DataPointKind.Leakage && p.Celsius > 25).MaxBy(p => p.Celsius);
        var knee = model with { LeakageSiemens = 0 };
        double Over(DataPoint? leak) => leak is null ? 0
            : Math.Max(0, leak.Value - DiodeCurve.LeakageAmps(knee, leak.At, leak.Celsius)) / leak.At;
        double hotSiemens = Over(hot), doubling = sheet.LeakageDoublingKelvin, siemens;
        if (model.LeakageSiemens > 0)
        {
            siemens = Over(Cold(sheet));
            if (hot is not null && siemens > 0)
                doubling = hotSiemens > siemens ? (hot.Celsius - 25) / Math.Log2(hotSiemens / siemens) : double.PositiveInfinity;
        }
        else
        {
            siemens = hot is null ? 0 : hotSiemens / Math.Pow(2, (hot.Celsius - 25) / doubling);
        }
        // It takes its share of the test current, so that the zener voltage stays met.
        double amps = sheet.First(DataPointKind.ZenerVoltage)!.At;
        double left = (amps - siemens * model.BreakdownVolts) / (amps - model.LeakageSiemens * model.BreakdownVolts);
        return model with
        {
            BreakdownAmps = left * model.BreakdownAmps,
            SoftBreakdownAmps = left * model.SoftBreakdownAmps,
            LeakageSiemens = siemens,
            LeakageExponent = 1,
            LeakageDoublingKelvin = doubling,
        };
    }

    /// <summary>How far the model is off at a point, in the units of the weights above.</summary>
    private static double Miss(DataPoint point, double fitted, bool isAvalanche)
    {
        // What the breakdown adds to an avalanche type's leakage.
        if (point.Kind == DataPointKind.Leakage && isAvalanche)
            return ExcessWeight * Math.Max(0, Math.Log(fitted / point.Value)) / LeakageShare;
        double off = point.Kind switch
        {
            DataPointKind.ForwardVoltage => Math.Max(0, fitted / point.Value - 1) / VoltageShare,
            DataPointKind.ZenerVoltage => (fitted / point.Value - 1) / VoltageShare,
            DataPointKind.Impedance => Math.Log(fitted / point.Value) / ImpedanceShare,
            _ => Math.Log(Math.Max(fitted, 1e-15) / point.Value) / LeakageShare,
        };
        return point.IsLimit && off > 0 ? ExcessWeight * off : off;
    }

    private static DiodeModel Model(DiodeModel model, DataPoint test, double slope, double softShare, double softFactor, double ohms)
    {
        double knee = test.Value - test.At * ohms, soft = slope * softFactor, amps = test.At - model.LeakageSiemens * knee;
        // Both terms are counted from zero volts, where they carry nothing; together they carry the test current at the knee.
        return model with
        {
            BreakdownVolts = knee,
            BreakdownAmps = (1 - softShare) * amps / (1 - Math.Exp(-knee / slope)),
            BreakdownSlopeVolts = slope,
            SoftBreakdownAmps = softShare * amps / (1 - Math.Exp(-knee / soft)),
            SoftBreakdownSlopeVolts = soft,
            SeriesOhms = ohms,
        };
    }

    // An impedance that asks for a softer breakdown than any is made of resistance as well (judgement, no source).
    private static double MostSlope(DataPoint test) => 0.2 * test.Value;

    private static double TypicalSlope(DataPoint test, DataPoint[] others)
    {
        if (others.Where(p => p.Kind == DataPointKind.Impedance).MinBy(p => Math.Abs(Math.Log(p.At / test.At))) is { } impedance)
            return Math.Min(impedance.At * impedance.Value, MostSlope(test));
        var second = others.First(p => p.Kind == DataPointKind.ZenerVoltage);
        return (second.Value - test.Value) / Math.Log(second.At / test.At);
    }

    private static void Refuse(DiodeDataSheet sheet, DataPoint test, DataPoint[] others)
    {
        DataPoint[] volts = [.. sheet.Points.Where(p => p.Kind == DataPointKind.ZenerVoltage).OrderBy(p => p.At)];
        DataPoint[] ohms = [.. others.Where(p => p.Kind == DataPointKind.Impedance).OrderBy(p => p.At)];
        DataPoint[] leaks = [.. others.Where(p => p.Kind == DataPointKind.Leakage).OrderBy(p => p.At)];
        foreach (var (lower, higher) in volts.Zip(volts.Skip(1)).Where(p => p.Second.Value <= p.First.Value))
            throw DataSheetException.Contradiction(sheet.Name, lower, higher, "a zener voltage rises with the current");
        foreach (var (lower, higher) in ohms.Zip(ohms.Skip(1)).Where(p => p.Second.Value > p.First.Value))
            throw DataSheetException.Contradiction(sheet.Name, lower, higher, "the impedance of a zener falls as the current rises");
        foreach (var (lower, higher) in leaks.Zip(leaks.Skip(1)).Where(p => p.Second.Value < p.First.Value))
            throw DataSheetException.Contradiction(sheet.Name, lower, higher, "a leakage rises with the voltage");
        foreach (var leak in leaks.Where(l => l.At < test.Value && l.Value >= test.At))
            throw DataSheetException.Contradiction(sheet.Name, test, leak, "below the zener voltage less than the test current flows");
        foreach (var leak in leaks.Where(l => l.At >= test.Value && l.Value < test.At))
            throw DataSheetException.Contradiction(sheet.Name, test, leak, "at or above the zener voltage at least the test current flows");
        foreach (var z in ohms.Where(z => Math.Abs(z.At / test.At - 1) < 0.5 && z.Value * z.At > test.Value))
            throw DataSheetException.Contradiction(sheet.Name, test, z,
                "the impedance times its current is more than the zener voltage, so this is no knee");
    }
}
