using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Benchmarks;

/// <summary>Draws the error of each time method against the number of steps: docs/images/convergence.png.</summary>
internal static class Convergence
{
    public static void Draw(string file)
    {
        const double until = 4e-4;
        Circuit circuit = new([
            new CurrentSource("I", "GND", "A", new Sine(0, 1e-2, 3e3)), new Resistor("R", "A", "GND", 50),
            new Inductor("L", "A", "GND", 1e-3), new Capacitor("C", "A", "GND", 1e-6),
                new Diode("D", "A", "GND", new DiodeModel
                    { SaturationAmps = 1e-9, EmissionCoefficient = 2, ActivationVolts = 0.56, TemperatureExponent = 1.5 })]);
        double End(TimeMethod method, int steps) => circuit
            .Compile(new SolverSettings { Method = method, Accuracy = 1e3, LongestStep = until / steps }).RunTransient(until).Voltage("A")
                .At(until);
        double exact = End(TimeMethod.FourthOrder, 25_600);
        var plot = new ScottPlot.Plot();
        foreach (var (method, name, marker) in new[]
        {
            (TimeMethod.SecondOrder, "TR-BDF2: order 2", ScottPlot.MarkerShape.FilledCircle),
            (TimeMethod.ThirdOrder, "ESDIRK3(2): order 3", ScottPlot.MarkerShape.FilledSquare),
            (TimeMethod.FourthOrder, "ESDIRK4(3): order 4 (default)", ScottPlot.MarkerShape.FilledTriangleUp),
        })
        {
            int[] steps = [50, 100, 200, 400, 800, 1600];
            var line = plot.Add.Scatter(steps.Select(n => Math.Log10(n))
                .ToArray(), steps.Select(n => Math.Log10(Math.Abs(End(method, n) - exact))).ToArray());
            line.LegendText = name;
            line.MarkerShape = marker;
            line.MarkerSize = 8;
        }
        foreach (var axis in new[] { plot.Axes.Bottom, (ScottPlot.IAxis)plot.Axes.Left })
        {
            axis.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic
            {
                IntegerTicksOnly = true,
                LabelFormatter = decade => $"1e{decade:0}",
            };
        }
        plot.XLabel("time steps");
        plot.YLabel("error at the end, V");
        plot.Title("A driven resonance with a diode: error against steps");
        plot.ShowLegend(ScottPlot.Alignment.LowerLeft);
        plot.SavePng(file, 900, 560);
    }
}
