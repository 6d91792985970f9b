using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What a meter may read at nodes, with every source of error in the parts at its worst; at the front end's own
/// temperature.</summary>
/// <param name="Sensor">The sensor that is set.</param>
/// <param name="Volts">Its voltages, V.</param>
/// <param name="Nodes">The nodes.</param>
/// <param name="Expected">Nominal voltage by sensor voltage and node, V.</param>
/// <param name="Low">Lowest, V.</param>
/// <param name="High">Highest, V.</param>
internal sealed record NodeSpread(string Sensor, ImmutableArray<double> Volts, ImmutableArray<string> Nodes,
    double[][] Expected, double[][] Low, double[][] High)
{
    /// <summary>
    /// The sum of what each source does alone, from limit to limit: a bound to first order. A meter's input resistance from
    /// each node to ground is not part of the circuit; see <see cref="BuildStudy"/>.
    /// </summary>
    public static NodeSpread Of(SolvedFrontEnd session, string sensor, IReadOnlyList<double> volts,
        IReadOnlyList<string> nodes, Scenario standing, CancellationToken cancel)
    {
        var sources = new ErrorSources(session.FrontEnd);
        string[] distinct = [.. nodes.Where(n => n != Circuit.Ground).Distinct()];
        var solved = session.Compiled(standing).SweepTrials(sensor, volts, sources.Numbers, sources.DrawsOfEachAlone,
            sources.SetEachAlone, distinct, cancel: cancel);
        double[][] Make() => [.. volts.Select(_ => new double[nodes.Count])];
        double[][] expected = Make(), low = Make(), high = Make();
        for (int node = 0; node < nodes.Count; node++)
        {
            if (nodes[node] == Circuit.Ground)
                continue;
            for (int k = 0; k < volts.Count; k++)
            {
                int at = k, of = node;
                (expected[k][node], low[k][node], high[k][node]) = sources.Bound(draw => solved.Voltage(draw, nodes[of])[at]);
            }
        }
        return new(sensor, [.. volts], [.. nodes], expected, low, high);
    }
}
