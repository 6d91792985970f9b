using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>What a law says that a step leaves over its tangent, held against the law itself evaluated at both ends of the step.</summary>
public class RemainderTests
{
    private static readonly DiodeModel Schottky = Junctions.Silicon with
    {
        SaturationAmps = 1e-6,
        SeriesOhms = 2,
        HighCurrentOhms = 0.3,
        ModulationAmps = 0.05,
        JunctionFarads = 1e-10,
        JunctionVolts = 0.4,
        Grading = 0.4,
        LeakageSiemens = 1e-6,
        LeakageExponent = 1.7,
    };

    private static readonly DiodeModel Zener = Junctions.Zener(5.1, 0.1) with
    {
        SoftBreakdownAmps = 1e-4,
        SoftBreakdownSlopeVolts = 0.4,
        JunctionFarads = 2e-10,
        JunctionVolts = 0.7,
        Grading = 0.5,
        TransitSeconds = 1e-8,
    };

    private static Element Part(string name) => name switch
    {
        "Schottky diode" => new Diode("X", "A", "B", Schottky),
        "zener diode" => new Diode("X", "A", "B", Zener),
        "op amp" => new OpAmp("X", "A", "B", "C", "P", "N", new OpAmpModel { PhaseMarginDegrees = 60 }),
        "op amp that reverses" => new OpAmp("X", "A", "B", "C", "P", "N", new OpAmpModel { ReversesBelowVolts = 1 }),
        "comparator" => new Comparator("X", "A", "B", "C", "P", "N", new ComparatorModel { SourceAmps = 20e-3, HysteresisVolts = 0.01 }),
        "gate" => new LogicGate("X", "A", "C", "P", "N", new LogicGateModel { RisingShare = 0.6, FallingShare = 0.4 }),
        "regulator" => new Regulator("X", "P", "A", "N", new RegulatorModel { Volts = 3.3, DropVolts = 0.3, GroundAmps = 1e-3 }),
        "source that delivers" => new VoltageSource("X", "A", "N", 5) { SourceOnly = true, SeriesOhms = 0.5 },
        "leakage" => new InputLeakage("X", "A", "N", "P", 1e-9),
        "capacitor of a ceramic that bends" => new Capacitor("X", "A", "B", 1e-7) { HalfVolts = 12 },
        _ => throw new ArgumentException(name),
    };

    [Theory]
    [InlineData("Schottky diode")]
    [InlineData("zener diode")]
    [InlineData("op amp")]
    [InlineData("op amp that reverses")]
    [InlineData("comparator")]
    [InlineData("gate")]
    [InlineData("regulator")]
    [InlineData("source that delivers")]
    [InlineData("leakage")]
    [InlineData("capacitor of a ceramic that bends")]
    public void What_a_step_leaves_is_what_the_law_differs_by_from_its_tangent(string name)
    {
        // Every node by a resistance, so that all are unknown.
        var circuit = new Circuit([.. new[] { "A", "B", "C", "P", "N" }.Select(n => new Resistor($"R{n}", n, "GND", 1e3)), Part(name)]);
        var kernel = new Kernel<Scalar>(circuit.Compile().Topology);
        int first = kernel.Topology.Wiring.FirstUnknown, size = kernel.At.X.Length, said = 0;
        var device = kernel.Devices[^1];
        kernel.SetTime(0);
        kernel.Prepare(1e6);
        var random = new Random(5);
        for (int trial = 0; trial < 4000; trial++)
        {
            double spread = Math.Pow(10, -2 + 3 * random.NextDouble()), scale = Math.Pow(10, -6 + 6 * random.NextDouble());
            double[] before = new double[size];
            for (int r = first; r < size; r++)
                before[r] = (kernel.IsCurrent(r) ? 0.01 : 1) * spread * (random.NextDouble() - 0.5);
            foreach (var (node, volts) in new[] { ("P", 8), ("N", -1) })
                before[kernel.Topology.Wiring.Node(node)] += volts;
            var step = new Scalar[size];
            for (int r = first; r < size; r++)
                step[r] = new((kernel.IsCurrent(r) ? 0.01 : 1) * scale * (random.NextDouble() - 0.5));
            Place(before, null);
            var (g, c) = kernel.Slopes();
            kernel.EvaluateAll();
            double[] f = Numbers(kernel.At.F), q = Numbers(kernel.At.Q);
            Place(before, step);
            double[] fAfter = Numbers(kernel.At.F), qAfter = Numbers(kernel.At.Q);
            Place(before, null); // the device remembers where it was evaluated
            kernel.Evaluate(exact: true);
            Set(before, step);
            Scalar[] left = new Scalar[size], charges = new Scalar[size];
            if (!device.AddRemainder(kernel.At, step, left, charges))
                continue;
            said++;
            for (int r = first; r < size; r++)
            {
                Same(left[r].Value, fAfter[r], f[r], g, r);
                Same(charges[r].Value, qAfter[r], q[r], c, r);
            }

            void Same(double told, double after, double at, double[,] slopes, int row)
            {
                double tangent = 0, flow = 0;
                for (int k = first; k < size; k++)
                {
                    double part = slopes[row - first, k - first] * step[k].Value;
                    (tangent, flow) = (tangent + part, flow + Math.Abs(part));
                }
                // A straight curve's bound, rounding of sums, and half of the second derivative for all of the remainder.
                double actual = after - (at - tangent);
                double limit = 0.25 * Math.Abs(actual) + 2e-3 * flow + 1e-12 * (Math.Abs(after) + Math.Abs(at)) + 1e-18;
                Assert.True(Math.Abs(told - actual) <= limit,
                    $"{name}, {kernel.Topology.Wiring.NameOf(row)}: {told:g4} told, {actual:g4} left, of {flow:g4}, steps of {scale:g3}");
            }
        }
        Assert.True(said > 20, $"{name} said it in {said} of 4000 cases");

        void Set(double[] x, Scalar[]? step)
        {
            for (int r = first; r < size; r++)
                kernel.At.X[r] = new(x[r] - (step?[r].Value ?? 0));
        }

        void Place(double[] x, Scalar[]? step)
        {
            Set(x, step);
            kernel.EvaluateAll();
        }
    }

    private static double[] Numbers(Scalar[] x) => [.. x.Select(s => s.Value)];
}
