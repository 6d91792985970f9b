using System.Collections.Immutable;
using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>The front end at rest.</summary>
/// <param name="SensorVolts">Voltage of each sensor, V.</param>
/// <param name="Point">Node voltages and part readings, with the audit.</param>
/// <param name="Headroom">Distance of each op amp from its limits, in the order of the parts.</param>
public sealed record BiasResult(ImmutableSortedDictionary<string, double> SensorVolts, OperatingPoint Point,
    ImmutableArray<OpAmpHeadroom> Headroom);

/// <summary>
/// Distance of an op amp from the limits of its output swing and its inputs' common mode, smallest over the points looked at.
/// Negative where a limit is passed.
/// </summary>
/// <param name="OpAmp">Name of the part.</param>
/// <param name="SwingVolts">Distance of the output from the nearer swing limit, V, with the rails actually present.</param>
/// <param name="SwingSide">"upper" or "lower".</param>
/// <param name="SwingAt">Sensor voltage there, V.</param>
/// <param name="CommonModeVolts">Distance of the inputs from the nearer common-mode limit, V.</param>
/// <param name="CommonModeSide">"upper" or "lower".</param>
/// <param name="CommonModeAt">Sensor voltage there, V.</param>
/// <param name="OutputAmps">Largest output current, A, as a magnitude.</param>
/// <param name="OutputLimitAmps">Its limit, A.</param>
public sealed record OpAmpHeadroom(string OpAmp, double SwingVolts, string SwingSide, double SwingAt, double CommonModeVolts,
    string CommonModeSide, double CommonModeAt, double OutputAmps, double OutputLimitAmps)
{
    /// <summary>The smaller of the two distances, V.</summary>
    public double Volts => Math.Min(SwingVolts, CommonModeVolts);
}
