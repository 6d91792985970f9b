using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A diode's direct current against voltage, both above zero, in one direction and at one temperature, as the engine solves
/// it.</summary>
/// <param name="IsReverse">Whether the voltage is from cathode to anode.</param>
/// <param name="Celsius">Temperature, °C.</param>
/// <param name="Volts">Voltages, V, ascending.</param>
/// <param name="Amps">The current at each, A.</param>
public sealed record PartCurve(bool IsReverse, double Celsius, ImmutableArray<double> Volts, ImmutableArray<double> Amps)
{
    private const int PerDecade = 12;
    private const double LeastAmps = 1e-9;

    /// <summary>
    /// Forward and reverse curves at 25 °C and 85 °C: from a nanoampere to the rated surge current (at most 10 A), and in
    /// reverse up to the rated voltage for a diode that is not used in breakdown.
    /// </summary>
    /// <exception cref="SolveException">The model has no solution at some point.</exception>
    public static ImmutableArray<PartCurve> Of(DiodeType type, CancellationToken cancel = default)
    {
        double most = Math.Min(10, type.RatedPeakAmps);
        double reverseVolts = type.Sheet is { ReverseVolts: var v } && double.IsFinite(v) ? v : type.Model.BreakdownVolts;
        return
        [
            .. ((double[])[25, 85]).SelectMany(celsius => (PartCurve[])
            [
                Driven(type, isReverse: false, celsius, most, cancel),
                type.Kind == DiodeKind.Zener ? Driven(type, isReverse: true, celsius, most, cancel)
                    : Applied(type, celsius, reverseVolts, cancel),
            ]),
        ];
    }

    private static PartCurve Driven(DiodeType type, bool isReverse, double celsius, double most, CancellationToken cancel)
    {
        double[] amps = [.. Logarithmic(LeastAmps, most)];
        var circuit = new Circuit([new CurrentSource("I", Circuit.Ground, "A", 0.0), isReverse
            ? new Diode("D", Circuit.Ground, "A", type.Model) : new Diode("D", "A", Circuit.Ground, type.Model)], celsius);
        return new(isReverse, celsius, [.. circuit.Compile().Sweep("I", amps, cancel: cancel).Voltage("A")], [.. amps]);
    }

    private static PartCurve Applied(DiodeType type, double celsius, double most, CancellationToken cancel)
    {
        double[] volts = [.. Logarithmic(0.01, Math.Min(most, 1000))];
        var circuit = new Circuit([new VoltageSource("V", "K", Circuit.Ground, 0.0), new Diode("D", Circuit.Ground, "K", type.Model)],
            celsius);
        return new(true, celsius, [.. volts], [.. circuit.Compile().Sweep("V", volts, cancel: cancel)
            .Points.Select(p => -p.Parts["D"].Amps)]);
    }

    private static IEnumerable<double> Logarithmic(double low, double high)
    {
        int count = (int)Math.Ceiling(PerDecade * Math.Log10(high / low));
        return Enumerable.Range(0, count + 1).Select(k => low * Math.Pow(high / low, (double)k / count));
    }
}
