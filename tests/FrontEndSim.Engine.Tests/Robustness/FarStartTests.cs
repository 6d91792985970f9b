using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Equations;
using FrontEndSim.Engine.Solving;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>Newton's method from where it has no business to be says that it did not settle, or ends at the solution.</summary>
public class FarStartTests
{
    /// <summary>
    /// Far beyond a knee the exponential is so steep that every step is small beside where it is taken: that once passed for a solution,
    /// at minus 86 megavolts. And a step from there, along laws that are straight, leaves its own rounding: once some microvolts.
    /// </summary>
    [Theory]
    [InlineData(3e-6, 2.7e-5, 1.3)]
    [InlineData(2e-5, 1e-6, 1)]
    public void What_is_taken_for_a_solution_of_a_clamped_node_balances_wherever_the_search_began(double high, double low, double exponent)
    {
        DiodeModel Clamp(double amps) => Junctions.Silicon with
        {
            SaturationAmps = amps,
            LeakageSiemens = 0.8 * amps,
            LeakageExponent = exponent,
            JunctionVolts = 0.3,
            SeriesOhms = 0.05,
        };
        var compiled = new Circuit(
        [
            new VoltageSource("VDD", "VDD", "GND", 3.3), new VoltageSource("S", "IN", "GND", 1) { SeriesOhms = 250 },
            new Resistor("RB", "IN", "LOOP", 150), new Resistor("R", "LOOP", "PIN", 4e3),
            new Diode("DH", "PIN", "VDD", Clamp(high)), new Diode("DL", "GND", "PIN", Clamp(low)),
        ]).Compile();
        var kernel = new Kernel<Scalar>(compiled.Topology);
        int first = kernel.Topology.Wiring.FirstUnknown, pin = kernel.Topology.Wiring.Node("PIN"), settled = 0;
        double expected = compiled.SolveOperatingPoint().Voltage("PIN");
        var random = new Random(3);
        for (int trial = 0; trial < 5000; trial++)
        {
            kernel.StartOver();
            kernel.SetTime(0);
            kernel.Prepare(0);
            double reach = Math.Pow(10, 10 * random.NextDouble());
            for (int r = first; r < kernel.At.X.Length; r++)
                kernel.At.X[r] = new Scalar(reach * (2 * random.NextDouble() - 1));
            kernel.Evaluate(exact: true);
            if (!Newton.SolveStatic(kernel, 40, TestContext.Current.CancellationToken))
                continue;
            settled++;
            Assert.True(Math.Abs(kernel.At.X[pin].Value - expected) < 1e-6,
                $"trial {trial} from {reach:g3} V: {kernel.At.X[pin].Value} V instead of {expected} V");
        }
        Assert.True(settled > 100, $"{settled} settled");
    }
}
