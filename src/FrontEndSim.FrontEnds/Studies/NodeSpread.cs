using System.Collections.Immutable;
using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>What a meter may read at nodes, with every source of error in the parts at its worst; at the front end's own temperature.</summary>
/// <param name="Sensor">The sensor that is set.</param>
/// <param name="Volts">Its voltages, V.</param>
/// <param name="Nodes">The nodes.</param>
/// <param name="Expected">Nominal voltage by sensor voltage and node, V.</param>
/// <param name="Low">Lowest, V.</param>
/// <param name="High">Highest, V.</param>
internal sealed record NodeSpread(string Sensor, ImmutableArray<double> Volts, ImmutableArray<string> Nodes, double[][] Expected, double[][] Low, double[][] High)
{
    /// <summary>
    /// The sum of what each source does alone, from limit to limit: a bound to first order. A meter's input resistance from
    /// each node to ground is not part of the circuit; see <see cref="BuildStudy"/>.
    /// </summary>
    public static NodeSpread Of(FrontEnd frontEnd, string sensor, IReadOnlyList<double> volts, IReadOnlyList<string> nodes, CancellationToken cancel)
    {
        var sources = BudgetSources.Of(frontEnd, new BudgetSettings()).ToArray();
        VariedNumber[] numbers = [.. sources.SelectMany(s => s.Numbers).Distinct()];
        double kelvins = frontEnd.Celsius + Constants.ZeroCelsius - Constants.ReferenceKelvin;
        string[] distinct = [.. nodes.Where(n => n != Circuit.Ground).Distinct()];
        // Draw 0 is nominal; then each source at its lower and at its upper limit.
        var solved = frontEnd.ToCircuit().Compile().SweepDraws(sensor, volts, numbers, 1 + 2 * sources.Length, (draw, values) =>
        {
            if (draw == 0)
                return;
            var source = sources[(draw - 1) / 2];
            double at = draw % 2 == 1 ? source.Quantity.Distribution.Low : source.Quantity.Distribution.High;
            foreach (var number in source.Numbers)
            {
                int n = Array.IndexOf(numbers, number);
                values[n] = source.Apply(values[n], at, kelvins);
            }
        }, distinct, cancel: cancel);
        double[][] Make() => [.. volts.Select(_ => new double[nodes.Count])];
        double[][] expected = Make(), low = Make(), high = Make();
        for (int node = 0; node < nodes.Count; node++)
        {
            if (nodes[node] == Circuit.Ground)
                continue;
            for (int k = 0; k < volts.Count; k++)
            {
                double nominal = expected[k][node] = solved.Voltage(0, nodes[node])[k];
                (low[k][node], high[k][node]) = (nominal, nominal);
                for (int s = 0; s < sources.Length; s++)
                {
                    double a = solved.Voltage(1 + 2 * s, nodes[node])[k] - nominal, b = solved.Voltage(2 + 2 * s, nodes[node])[k] - nominal;
                    low[k][node] += Math.Min(0, Math.Min(a, b));
                    high[k][node] += Math.Max(0, Math.Max(a, b));
                }
            }
        }
        return new(sensor, [.. volts], [.. nodes], expected, low, high);
    }
}
