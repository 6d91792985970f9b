using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What a node reaches.</summary>
/// <param name="Node">The node.</param>
/// <param name="HighestVolts">Highest voltage against ground, V.</param>
/// <param name="HighestAt">When that is, s.</param>
/// <param name="LowestVolts">Lowest, V.</param>
/// <param name="LowestAt">When that is, s.</param>
public sealed record NodeExposure(string Node, double HighestVolts, double HighestAt, double LowestVolts, double LowestAt)
{
    /// <summary>Where one sensor stands at the highest voltage, the others at mid-span; null where the circumstance says it.</summary>
    public SensorPlace? HighestSensor { get; init; }

    /// <summary>The same at the lowest.</summary>
    public SensorPlace? LowestSensor { get; init; }

    internal static NodeExposure Of(string node, OperatingPoint point)
    {
        double volts = point.Voltage(node);
        return new(node, volts, 0, volts, 0);
    }

    internal static NodeExposure Of(string node, TransientResult run)
    {
        var trace = run.Voltage(node);
        var ((highestAt, highest), (lowestAt, lowest)) = (trace.Maximum(), trace.Minimum());
        return new(node, highest, highestAt, lowest, lowestAt);
    }
}

/// <summary>Where a sensor stands.</summary>
/// <param name="Sensor">Its name.</param>
/// <param name="Value">What it measures.</param>
/// <param name="Unit">Symbol of the unit of that.</param>
public sealed record SensorPlace(string Sensor, double Value, string Unit);

/// <summary>What is pushed into a rail that holds its voltage.</summary>
/// <param name="Rail">The rail.</param>
/// <param name="Amps">The most that the circuit pushes into it, less what it draws from it, as a mean over a microsecond, A; out of a
/// negative rail. At least 0.</param>
public sealed record RailTake(string Rail, double Amps)
{
    // What is shorter the decoupling of any rail takes: 100 nF moves by 0.1 V for 10 mA in a microsecond (common practice, no source).
    private const double MeanSeconds = 1e-6;

    internal static RailTake Of(Rail rail, OperatingPoint point) =>
        new(rail.Name, Math.Max(0, Sign(rail) * Names(rail).Sum(n => point.Parts[n].Amps)));

    internal static RailTake Of(Rail rail, TransientResult run)
    {
        var amps = Names(rail).Select(run.Current).Aggregate((a, b) => a.Plus(b)).Times(Sign(rail));
        double peak = amps.Maximum().Value;
        return new(rail.Name, peak <= 0 ? 0 : Math.Clamp(amps.Running().Largest(MeanSeconds) / MeanSeconds, 0, peak));
    }

    private static double Sign(Rail rail) => rail.Volts.Value < 0 ? -1 : 1;

    private static IEnumerable<string> Names(Rail rail) => rail.ToElements().Select(e => e.Name);
}
