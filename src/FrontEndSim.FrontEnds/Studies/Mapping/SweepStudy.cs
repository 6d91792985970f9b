using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>The front end at its operating point for a series of voltages of one sensor, the other sensors at mid-span.</summary>
public static class SweepStudy
{
    /// <summary>Sweeps a sensor.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="volts">Its voltages, V, ascending if <paramref name="refine"/>.</param>
    /// <param name="refine">Whether to add points where the solution bends.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some voltage.</exception>
    /// <exception cref="StudyProblemException">There is no such sensor.</exception>
    public static SweepResult Run(FrontEnd frontEnd, string sensor, IReadOnlyList<double> volts, bool refine = false,
        CancellationToken cancel = default) =>
        new SolvedFrontEnd(frontEnd).Sweep(sensor, volts, refine, cancel);

    /// <summary>Evenly spaced values, both ends included.</summary>
    /// <param name="from">First value.</param>
    /// <param name="to">Last value.</param>
    /// <param name="points">How many, at least 2.</param>
    public static double[] Grid(double from, double to, int points) =>
        [.. Enumerable.Range(0, points).Select(k => k == points - 1 ? to : from + (to - from) * k / (points - 1))];
}
