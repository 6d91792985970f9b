using System.Diagnostics;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Benchmarks;

/// <summary>How time and memory grow with the number of nodes: a table on the screen and docs/images/scale.png.</summary>
internal static class Scale
{
    private static readonly int[] Nodes = [10, 100, 1000, 10_000, 100_000];

    /// <summary>Times a ladder of each size: structure, operating point, and steps of a transient.</summary>
    public static void Draw(string file)
    {
        // Compiled code first: the smallest sizes would else be timed while they are compiled.
        for (int k = 0; k < 30; k++)
            Take(1000);
        Console.WriteLine("| nodes | structure | operating point | steps | a step | a node a step | memory |");
        Console.WriteLine("|---|---|---|---|---|---|---|");
        var taken = Nodes.Select(n => Enumerable.Range(0, n > 10_000 ? 1 : 5).Select(_ => Take(n))
            .MinBy(s => s.Structure + s.Rest + s.Transient)!).ToArray();
        foreach (var s in taken)
        {
            Console.WriteLine($"| {s.Nodes:n0} | {Time(s.Structure)} | {Time(s.Rest)} | {s.Steps} | {Time(s.Transient / s.Steps)} | "
                + $"{1e6 * s.Transient / s.Steps / s.Nodes:g2} µs | {s.Bytes / 1e6:g2} MB |");
        }
        var plot = new ScottPlot.Plot();
        Line("structure of the equations", s => s.Structure, ScottPlot.MarkerShape.FilledCircle);
        Line("operating point", s => s.Rest, ScottPlot.MarkerShape.FilledSquare);
        Line("one step of a transient", s => s.Transient / s.Steps, ScottPlot.MarkerShape.FilledTriangleUp);
        foreach (var axis in new[] { plot.Axes.Bottom, (ScottPlot.IAxis)plot.Axes.Left })
        {
            axis.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic
            {
                IntegerTicksOnly = true,
                LabelFormatter = decade => $"1e{decade:0}",
            };
        }
        plot.XLabel("nodes");
        plot.YLabel("time, s");
        plot.Title("A ladder of resistors and capacitors: time against nodes");
        plot.ShowLegend(ScottPlot.Alignment.UpperLeft);
        plot.SavePng(file, 900, 560);

        void Line(string name, Func<Size, double> seconds, ScottPlot.MarkerShape marker)
        {
            var line = plot.Add.Scatter(taken.Select(s => Math.Log10(s.Nodes)).ToArray(), taken.Select(s => Math.Log10(seconds(s)))
                .ToArray());
            (line.LegendText, line.MarkerShape, line.MarkerSize) = (name, marker, 8);
        }
    }

    private sealed record Size(int Nodes, double Structure, double Rest, double Transient, int Steps, long Bytes);

    private static Size Take(int nodes)
    {
        var circuit = Circuits.Ladder(nodes);
        long before = GC.GetAllocatedBytesForCurrentThread();
        var watch = Stopwatch.StartNew();
        var compiled = circuit.Compile(new SolverSettings { Keep = [$"N{nodes}"] });
        double structure = watch.Elapsed.TotalSeconds;
        compiled.SolveOperatingPoint();
        double rest = watch.Elapsed.TotalSeconds;
        // To half of the ladder's diffusion time.
        TransientResult run = compiled.RunTransient(50e-9 * nodes * nodes);
        double all = watch.Elapsed.TotalSeconds;
        return new(nodes, structure, rest - structure, all - rest, run.Audit.StepsTaken + run.Audit.StepsRefused,
            GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static string Time(double seconds) => seconds < 1e-3 ? $"{1e6 * seconds:g3} µs" : seconds < 1 ? $"{1e3 * seconds:g3} ms"
        : $"{seconds:g3} s";
}
