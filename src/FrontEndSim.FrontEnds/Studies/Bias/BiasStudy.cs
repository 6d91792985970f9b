using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Bias;

/// <summary>The front end at rest: node voltages, part readings, headroom.</summary>
public static class BiasStudy
{
    /// <summary>Solves the operating point. An event in the scenario stands as it is at time zero, that is, not yet.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="scenario">Sensor voltages; null for all at mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">The scenario names a sensor that is not there.</exception>
    public static BiasResult Run(FrontEnd frontEnd, Scenario? scenario = null, CancellationToken cancel = default)
    {
        scenario ??= new Scenario();
        var point = frontEnd.ToCircuit(scenario).Compile().SolveOperatingPoint(cancel);
        var sensors = frontEnd.Sensors.ToImmutableSortedDictionary(
            s => s.Name, s => scenario.SensorVolts.GetValueOrDefault(s.Name, s.Span.Middle), StringComparer.Ordinal);
        return new BiasResult(sensors, point, OpAmpHeadroom.Over(frontEnd, [point], [sensors.Values.FirstOrDefault()]));
    }
}
