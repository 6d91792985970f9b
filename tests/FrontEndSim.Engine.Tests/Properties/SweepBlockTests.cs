using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Equations;
using FrontEndSim.Engine.Solving;
using FrontEndSim.Engine.Tests.Robustness;

namespace FrontEndSim.Engine.Tests.Properties;

/// <summary>Points of a sweep solved side by side are those of the sweep that goes from one to the next.</summary>
public class SweepBlockTests(ITestOutputHelper output)
{
    // Newton's method accepts a step of 1 µV and 1e-9 of the value, and what it leaves is polished to the rounding of the currents, which
    // moves a node that next to nothing holds by more.
    private const double Volts = 1e-6, Share = 1e-6, RoundingAmps = 1e-13;

    private static double[] Grid(double from, double to, int points) =>
        [.. Enumerable.Range(0, points).Select(k => from + (to - from) * k / (points - 1))];

    /// <summary>Where two solutions at the same values differ; null if nowhere by more than a solution may.</summary>
    private static string? Difference(CompiledCircuit compiled, double[] values, double[][] a, double[][] b)
    {
        var wiring = compiled.Topology.Wiring;
        for (int n = 0; n < a.Length; n++)
        {
            for (int r = 0; r < wiring.NodeCount; r++)
            {
                // A node that nothing holds to the rounding of currents lies anywhere between: the middle solves it as well.
                if (!(Math.Abs(a[n][r] - b[n][r]) <= Volts + Share * Math.Abs(b[n][r])) && !(LeftBetween(n) <= RoundingAmps))
                    return $"{wiring.Names[r]} at {values[n]:g4}: {a[n][r]:g9} and {b[n][r]:g9}";
            }
        }
        return null;

        double LeftBetween(int n)
        {
            var kernel = new Kernel<Scalar>(compiled.Topology);
            ((IDrive<Scalar>)kernel.Devices[compiled.SourceIndex("SENSOR")]).Hold(new Scalar(values[n]));
            kernel.SetTime(0);
            for (int r = wiring.FirstUnknown; r < wiring.Size; r++)
                kernel.At.X[r] = new Scalar(0.5 * (a[n][r] + b[n][r]));
            kernel.EvaluateAll();
            return kernel.At.F.Skip(wiring.FirstUnknown).Max(f => Math.Abs(f.Value));
        }
    }

    [Fact]
    public void Sweeps_of_random_front_ends_both_ways_are_those_of_one_point_after_the_other()
    {
        var failures = new List<string>();
        int swept = 0;
        Parallel.For(0, 300, seed =>
        {
            var drawn = new RandomFrontEnd(seed);
            var circuit = new Circuit(drawn.Parts, drawn.Celsius);
            if (!circuit.Problems.IsEmpty)
                return;
            var compiled = circuit.Compile();
            foreach (double[] values in new[] { Grid(-10, 10, 401), Grid(10, -10, 401) })
            {
                double[][] alone;
                try
                {
                    alone = new SweepRun(compiled, "SENSOR", default).Solutions(values, inBlocksFrom: int.MaxValue);
                }
                catch (SolveException)
                {
                    continue;
                }
                double[][] together = new SweepRun(compiled, "SENSOR", default).Solutions(values, inBlocksFrom: 1);
                Interlocked.Increment(ref swept);
                if (Difference(compiled, values, together, alone) is { } difference)
                {
                    lock (failures)
                        failures.Add($"seed {seed} from {values[0]}: {difference}");
                }
            }
        });
        output.WriteLine($"{swept} sweeps");
        Assert.True(failures.Count == 0, string.Join(Environment.NewLine, failures.Order()));
        Assert.True(swept > 400, $"only {swept} sweeps");
    }

    private static Circuit Stage(string plus, string minus) => new(
    [
        new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9), new VoltageSource("S", "IN", "GND", 0),
        new Resistor("R1", "IN", "SUM", 10e3), new Resistor("RF", "SUM", "OUT", 33e3),
        new OpAmp("U", plus, minus, "OUT", "VP", "VN", new OpAmpModel { OutputOhms = 1 }),
        new Resistor("RG", "OUT", "PIN", 4700), new Diode("Z", "GND", "PIN", Junctions.Zener(3.6, 0.2) with { SeriesOhms = 5 }),
    ]);

    [Fact]
    public void A_trigger_swept_up_and_down_stays_on_its_branch_until_that_ends()
    {
        // Positive feedback: it goes over where the input brings the plus pin to zero against the output, ±7.5 V·10/33.
        var compiled = Stage("SUM", "GND").Compile();
        double[] up = Grid(-5, 5, 2001), down = Grid(5, -5, 2001);
        double[] rising = compiled.Sweep("S", up).Voltage("OUT"), falling = compiled.Sweep("S", down).Voltage("OUT");
        Assert.Equal(7.5 * 10 / 33, up[Array.FindIndex(rising, v => v > 0)], 0.01);
        Assert.Equal(-7.5 * 10 / 33, down[Array.FindIndex(falling, v => v < 0)], 0.01);
        Assert.Equal(1, rising.Zip(rising.Skip(1)).Count(p => p.First < 0 != p.Second < 0));
    }

    [Fact]
    public void A_gate_with_hysteresis_changes_over_where_it_does_one_point_after_the_other()
    {
        var compiled = new Circuit(
        [
            new VoltageSource("VDD", "VDD", "GND", 5), new VoltageSource("SENSOR", "IN", "GND", 0) { SeriesOhms = 100 },
            new LogicGate("G", "IN", "Q", "VDD", "GND", new LogicGateModel { RisingShare = 0.6, FallingShare = 0.4 }),
            new Resistor("RQ", "Q", "GND", 1e4),
        ]).Compile();
        foreach (double[] values in new[] { Grid(0, 5, 1001), Grid(5, 0, 1001), [.. Grid(0, 5, 501), .. Grid(5, 0, 501)] })
        {
            double[][] alone = new SweepRun(compiled, "SENSOR", default).Solutions(values, inBlocksFrom: int.MaxValue);
            Assert.Null(Difference(compiled, values, new SweepRun(compiled, "SENSOR", default).Solutions(values, inBlocksFrom: 1), alone));
        }
    }

    [Fact]
    public void Most_points_of_a_stage_that_clips_are_solved_side_by_side()
    {
        var compiled = Stage("GND", "SUM").Compile();
        double[] values = Grid(-10, 10, 2001);
        var run = new SweepBlock(compiled, compiled.SourceIndex("S"));
        double[][] alone = new SweepRun(compiled, "S", default).Solutions(values, inBlocksFrom: int.MaxValue);
        int solved = 0;
        for (int n = SweepBlock.Before; n + SweepBlock.Points <= values.Length; n += SweepBlock.Points)
            solved += run.TrySolve(values, [.. alone], n, SweepBlock.Points) ? 1 : 0;
        output.WriteLine($"{solved} of {values.Length / SweepBlock.Points} blocks");
        Assert.True(solved > 0.9 * values.Length / SweepBlock.Points, $"only {solved} blocks");
    }

    [Fact]
    public void A_block_allocates_its_results_only()
    {
        var compiled = Stage("GND", "SUM").Compile();
        double[] values = Grid(-1, 1, 2001);
        double[][] solutions = new SweepRun(compiled, "S", default).Solutions(values, inBlocksFrom: int.MaxValue);
        var run = new SweepBlock(compiled, compiled.SourceIndex("S"));
        Assert.True(run.TrySolve(values, solutions, 100, SweepBlock.Points));
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int n = 200; n < 1000; n += SweepBlock.Points)
            Assert.True(run.TrySolve(values, solutions, n, SweepBlock.Points));
        long each = (GC.GetAllocatedBytesForCurrentThread() - before) / 800;
        Assert.InRange(each, 0, 8 * compiled.Topology.Wiring.Size + 24);
    }

    [Fact]
    public void A_sweep_is_the_same_to_the_last_bit_whatever_was_solved_before()
    {
        var compiled = Stage("GND", "SUM").Compile();
        double[] values = Grid(-10, 10, 1201);
        double[] first = compiled.Sweep("S", values).Voltage("PIN");
        compiled.Sweep("S", [5, -5, 3]);
        compiled.RunTransient(1e-5);
        Assert.Equal(first, compiled.Sweep("S", values).Voltage("PIN"));
        Assert.Equal(first, Stage("GND", "SUM").Compile().Sweep("S", values).Voltage("PIN"));
    }
}
