namespace FrontEndSim.FrontEnds.Parts;

/// <summary>What a style and size of resistor stands.</summary>
/// <param name="Name">"chip-0603", "leaded-250mW".</param>
/// <param name="Watts">Rated power at 70 °C, W.</param>
/// <param name="WorkingVolts">Limiting voltage for any time, V.</param>
/// <param name="OverloadVolts">Voltage for five seconds at most, V.</param>
/// <param name="Pulses">Power of single square pulses by their duration.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record ResistorSize(string Name, double Watts, double WorkingVolts, double OverloadVolts,
    ImmutableArray<PulseLimit> Pulses, string Source)
{
    private const string Chip =
        "thick-film chip data sheets of Royal Ohm, Multicomp and Yageo; single pulses from memory, to a factor of two";
    private const string Melf = "thin-film MELF data sheets (BCcomponents MMA and MMB); voltages and single pulses from memory";
    private const string Film = "leaded film resistors, typical, from memory";

    /// <summary>Sizes that can be named.</summary>
    public static ImmutableArray<ResistorSize> All { get; } =
    [
        Of("chip-0402", 1.0 / 16, 50, 100, 4, 0.8, 0.2, Chip), Of("chip-0603", 0.1, 75, 150, 10, 2, 0.4, Chip),
            Of("chip-0805", 0.125, 150, 300, 20, 4, 0.7, Chip),
        Of("chip-1206", 0.25, 200, 400, 40, 8, 1.5, Chip), Of("chip-1210", 1.0 / 3, 200, 500, 70, 12, 2, Chip),
            Of("chip-2010", 0.5, 200, 500, 120, 20, 4, Chip),
        Of("chip-2512", 1, 200, 500, 200, 35, 6, Chip),
        Of("melf-0204", 0.25, 200, 400, 200, 25, 3, Melf), Of("melf-0207", 0.4, 350, 700, 700, 80, 8, Melf),
        Of("leaded-250mW", 0.25, 250, 500, 300, 20, 3, Film), Of("leaded-500mW", 0.5, 350, 700, 600, 40, 6, Film),
    ];

    /// <summary>The size of that name whatever its case, or null.</summary>
    public static ResistorSize? Find(string name) => All.FirstOrDefault(s => s.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>
    /// What a resistor of a rated power usually is: below a quarter of a watt the largest chip of no more, else a leaded film resistor, the
    /// next smaller of those listed with its pulses in proportion to the power (common practice, no source).
    /// </summary>
    /// <param name="watts">Rated power, W.</param>
    public static ResistorSize Usual(double watts)
    {
        if (watts < 0.25 && All.LastOrDefault(s => s.Name.StartsWith("chip-", StringComparison.Ordinal) && s.Watts <= watts * (1 + 1e-9))
            is { } chip)
            return chip;
        var small = Find("leaded-250mW")!;
        var listed = watts >= 0.5 ? Find("leaded-500mW")! : small;
        double share = watts / listed.Watts;
        return listed with
        {
            Name = "leaded",
            Watts = watts,
            Pulses = [.. listed.Pulses.Select(p => p with { Limit = p.Limit * share })],
        };
    }

    // Below 10 µs no heat leaves the film: the same energy; beyond 10 s the rated power.
    private static ResistorSize Of(string name, double watts, double working, double overload, double microseconds, double millisecond,
        double tenth, string source) =>
        new(name, watts, working, overload, [new(1e-6, 10 * microseconds), new(10e-6, microseconds),
            new(1e-3, millisecond), new(0.1, tenth), new(10, watts)], source);
}
