using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Equations;
using FrontEndSim.Engine.Solving;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Speed;

public class AllocationTests
{
    private static readonly DiodeModel Zener = Junctions.Zener(3.6, 0.2) with
    {
        SeriesOhms = 5,
        JunctionFarads = 1e-10,
        JunctionVolts = 0.7,
        Grading = 0.5,
    };

    private static Circuit Guard(Waveform source) => new([
        new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9), new VoltageSource("S", "IN", "GND", source),
        new Resistor("R1", "IN", "SUM", 10e3), new Resistor("RF", "SUM", "OUT", 10e3),
            new OpAmp("U", "GND", "SUM", "OUT", "VP", "VN", new OpAmpModel()),
        new Resistor("RG", "OUT", "PIN", 4700), new Capacitor("C", "PIN", "GND", 1e-8), new Diode("Z", "GND", "PIN", Zener),
        new SensingResistor("RT", "PIN", "GND", 20, new Falling())]);

    /// <summary>A resistance that falls with what is measured.</summary>
    private sealed record Falling : Characteristic
    {
        public override double Of(double quantity, double celsius, ReadOnlySpan<double> errors) => 1e6 / (1 + quantity);
    }

    [Fact]
    public void The_Newton_loop_allocates_nothing()
    {
        var compiled = Guard(1).Compile();
        var kernel = new Kernel<Scalar>(compiled.Topology);
        new OperatingPointSolver(kernel, compiled.Settings, default).Solve(0);
        var source = (IDrive<Scalar>)kernel.Devices[2];
        Iterate(1);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Iterate(1000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Iterate(int points)
        {
            for (int k = 0; k < points; k++)
            {
                source.Hold(new Scalar(-5 + 0.01 * k));
                kernel.SourcesChanged();
                kernel.SetTime(0);
                if (!kernel.Prepare(0) || !Newton.SolveStatic(kernel, 100, default))
                    throw new InvalidOperationException("did not settle");
            }
        }
    }

    [Fact]
    public void The_time_loop_allocates_only_the_blocks_that_keep_its_steps()
    {
        // Keeping one node: four times and four values a step, 8 bytes a number, in blocks; then the result's own copies of
        // times, step ends and values. Two runs of one circuit differ by their steps alone.
        var compiled = Guard(new Sine(0, 5, 1e3)).Compile(new SolverSettings { Keep = ["PIN"], SolvesEveryPeriod = true });
        Run(1e-3);
        var (shortSteps, shortBytes) = Run(0.1);
        var (longSteps, longBytes) = Run(0.4);
        Assert.True(longSteps - shortSteps > 5000);
        Assert.InRange((longBytes - shortBytes) / (double)(longSteps - shortSteps), 0, (2 * 4 + 2 * 4 + 2) * 8);

        (int, long) Run(double until)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            var result = compiled.RunTransient(until);
            return (result.Audit.StepsTaken, GC.GetAllocatedBytesForCurrentThread() - before);
        }
    }
}
