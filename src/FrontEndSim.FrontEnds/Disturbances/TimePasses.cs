using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>Nothing from outside: the sources and switches of the circuit itself go their way, which rest at time zero does not
/// show.</summary>
public sealed record TimePasses : Disturbance
{
    // Corners of one waveform that are looked at: four make a period of a pulse.
    private const int MostCorners = 64;

    // What a filter of some milliseconds makes of the last corner.
    private const double Settling = 0.1;

    // A sensor is high from the first of these to the second.
    private const double UpSeconds = 1e-3, DownSeconds = 21e-3;

    private TimePasses(double seconds, double? period) => (SuggestedSeconds, PeriodSeconds) = (seconds, period);

    /// <summary>What the sensors named measure at the ends of their spans: each jumps up and down once.</summary>
    public ImmutableArray<(string Sensor, double Low, double High)> Jumps { get; private init; } = [];

    /// <inheritdoc/>
    public bool Equals(TimePasses? other) => other is not null && SuggestedSeconds == other.SuggestedSeconds
        && PeriodSeconds == other.PeriodSeconds && Jumps.SequenceEqual(other.Jumps);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(SuggestedSeconds, PeriodSeconds, Jumps.Length);

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        undisturbed.Select(e => Jumps.FirstOrDefault(j => j.Sensor == e.Name) is not { Sensor: not null } jump ? e : e switch
        {
            VoltageSource { Volts: Constant } source => source with { Volts = Jump(jump) },
            CurrentSource { Amps: Constant } source => source with { Amps = Jump(jump) },
            _ => e,
        });

    private static Pulse Jump((string Sensor, double Low, double High) jump) =>
        new(jump.Low, jump.High, UpSeconds, 1e-6, DownSeconds - UpSeconds, 1e-6);

    /// <summary>The course of waveforms and of sensors that jump, or null where nothing changes.</summary>
    /// <param name="waveforms">Those of all sources and switches.</param>
    /// <param name="jumps">What the sensors that jump measure at the ends of their spans.</param>
    public static TimePasses? Of(IEnumerable<Waveform> waveforms, ImmutableArray<(string Sensor, double Low, double High)> jumps)
    {
        Waveform[] moving = [.. waveforms.Where(w => w is not Constant), .. jumps.Select(Jump)];
        if (moving.Length == 0)
            return null;
        return Course(moving) with { Jumps = jumps };
    }

    private static TimePasses Course(Waveform[] moving)
    {
        double[] periods = [.. moving.Select(Period).OfType<double>()];
        double end = moving.Max(LastCorner);
        return periods.Length == 0 ? new(end + Settling, null)
            : new(Math.Max(end, Math.Min(end + Settling, MostCorners * periods.Max())), periods.Max());
    }

    private static double? Period(Waveform waveform) => waveform switch
    {
        Sine { Frequency: > 0 } sine => 1 / sine.Frequency,
        Connected connected => Period(connected.Wave),
        Pulse pulse when double.IsFinite(pulse.Period) => pulse.Period,
        _ => null,
    };

    private static double LastCorner(Waveform waveform)
    {
        double last = 0;
        for (int n = 0; n < MostCorners && waveform.NextCorner(last) is var next && double.IsFinite(next) && next > last; n++)
            last = next;
        return last;
    }

    /// <inheritdoc/>
    public override FormattableString Words => $"its own sources and switches go on";

    /// <inheritdoc/>
    public override double SuggestedSeconds { get; }

    /// <inheritdoc/>
    public override double? PeriodSeconds { get; }

    /// <inheritdoc/>
    public override bool IsLasting => true;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) => [];
}
