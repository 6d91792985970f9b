using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>Operating points for a series of voltages of one sensor.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="SensorValue">What it measures, in its own unit.</param>
/// <param name="NodeVolts">The voltage of each node shown at each of them, V.</param>
/// <param name="Mappings">How the sensor's span lands on each pin that it is mapped onto; of the whole span, whatever the voltages asked
/// for.</param>
/// <param name="Audit">The audit of the sweep.</param>
public sealed record SensorSweep(string Title, string Sensor, ImmutableArray<double> SensorValue,
    IReadOnlyDictionary<string, ImmutableArray<double>> NodeVolts, ImmutableArray<MappingResult> Mappings, Audit Audit)
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>What firmware makes of its amplitude, for each reading over periods; empty for a sensor that does not
    /// alternate.</summary>
    public ImmutableArray<AlternatingResult> Amplitudes { get; init; } = [];

    /// <summary>Where the circuit does not stay at the point that the middle of the sweep gives: how many stable points it settles to in
    /// time, 0 where it never settles. Null where it stays.</summary>
    public int? SettlesTo { get; init; }

    /// <summary>That of a sweep.</summary>
    /// <param name="title">Title of the front end.</param>
    /// <param name="sweep">The sweep.</param>
    /// <param name="nodes">The nodes to show, in order.</param>
    /// <param name="mappings">The mappings.</param>
    public static SensorSweep Of(string title, SweepResult sweep, IEnumerable<string> nodes, ImmutableArray<MappingResult> mappings) =>
        new(title, sweep.Source,
        [.. sweep.Values], new OrderedDictionary<string,
            ImmutableArray<double>>(nodes.Distinct().Select(n => KeyValuePair.Create(n, sweep.Voltage(n).ToImmutableArray()))),
        mappings, sweep.Audit);
}
