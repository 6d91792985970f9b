using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Bias;

/// <summary>The front end at its operating point: node voltages, part readings, headroom.</summary>
public static class BiasStudy
{
    /// <summary>Solves the operating point. An event in the scenario stands as it is at time zero, that is, not yet.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="scenario">Sensor voltages; null for all at mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">The scenario names a sensor that is not there.</exception>
    public static BiasResult Run(FrontEnd frontEnd, Scenario? scenario = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), scenario, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, Scenario, CancellationToken)"/>
    public static BiasResult Run(SolvedFrontEnd solved, Scenario? scenario = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        scenario ??= new Scenario();
        var circuit = frontEnd.ToCircuit(scenario);
        var settled = solved.Settled(scenario, cancel);
        var point = settled is [var stable, ..] ? stable : solved.Rest(scenario, cancel);
        var closed = frontEnd.ClosedParts();
        var sensors = frontEnd.Sensors.ToImmutableSortedDictionary(
            s => s.Name, s => scenario.SensorValue.GetValueOrDefault(s.Name, s.Span.Middle), StringComparer.Ordinal);
        return new BiasResult(frontEnd.Title, sensors, point, OpAmpHeadroom.Over(frontEnd, [point], [sensors.Values.FirstOrDefault()]))
        {
            SettlesTo = settled?.Length,
            SensorUnits = frontEnd.Sensors.ToImmutableSortedDictionary(s => s.Name, s => s.UnitText, StringComparer.Ordinal),
            NodeVolts = new OrderedDictionary<string, double>(point.Nodes
                .Where(n => n.Key != Circuit.Ground && closed(n.Key) is null).OrderBy(n => n.Key.Contains('.'))),
            Parts = new OrderedDictionary<string, ElementReading>(circuit.Elements
                .Select(e => (Closed: closed(e.Name), e.Name)).DistinctBy(e => e.Closed?.Name ?? e.Name)
                .Select(e => e.Closed is { } part ? KeyValuePair.Create(part.Name, Whole(part))
                    : KeyValuePair.Create(e.Name, point.Parts[e.Name]))),
        };

        ElementReading Whole(Part part) => new(point.Nodes[part.Nodes[0]] - point.Nodes[part.Nodes[1]], point.Parts[part.Name].Amps,
            part.ElementNames.Sum(e => point.Parts[e].Watts));
    }
}
