using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A test of ISO 16750-2:2023 that moves the supply of a vehicle more slowly than a pulse does: the supply follows a course of its own, in
/// the place of what drives the node. Figures at second hand, from a test-bench catalogue that cites the standard clause by clause, but
/// for those marked from memory.
/// </summary>
public sealed record VehicleSupply : Disturbance
{
    // A battery with its lines; the alternating voltage is tested behind 50 mohm to 100 mohm (from memory).
    private const double SourceOhms = 0.05;

    /// <summary>Words of the tests known.</summary>
    public static ImmutableArray<string> Tests { get; } =
        ["starting", "slow-decrease-and-increase", "alternating", "momentary-drop", "jump-start", "reversed"];

    private readonly ImmutableArray<(double Seconds, double Volts)> _course;
    private readonly double _amplitude;

    // Made once, so that a circuit with it in is the same circuit again.
    private readonly PiecewiseLinear _wave;

    private VehicleSupply(string test, double systemVolts, int level, double? hertz, double startSeconds, double amplitude, bool isLasting,
        params ImmutableArray<(double Seconds, double Volts)> course)
    {
        (Test, SystemVolts, Level, Hertz) = (test, systemVolts, level, hertz);
        StartSeconds = Positive("The start of a supply test", startSeconds, "s");
        (_course, _amplitude, IsLasting) = (course, amplitude, isLasting);
        _wave = new PiecewiseLinear([.. course.Select(p => (startSeconds + p.Seconds, p.Volts))]);
    }

    /// <summary>A test by its name.</summary>
    /// <param name="test">One of <see cref="Tests"/>.</param>
    /// <param name="systemVolts">12 or 24.</param>
    /// <param name="level">Level or severity, from 1 on; of "reversed" the case.</param>
    /// <param name="hertz">Frequency of "alternating", Hz; null elsewhere.</param>
    /// <param name="startSeconds">When it begins, s, above zero.</param>
    /// <exception cref="ArgumentException">There is no such test, level or frequency; the message says what there is.</exception>
    public static VehicleSupply Of(string test, double systemVolts, int level = 1, double? hertz = null, double startSeconds = 1e-3)
    {
        if (systemVolts is not (12 or 24))
            throw new ArgumentException(
                $"The supply tests are for systems of 12 V and 24 V, but {SiText.Format(systemVolts, "V")} is given.");
        bool is12 = systemVolts == 12;
        if (test != "alternating" && hertz is not null)
            throw new ArgumentException("Only the test with superimposed alternating voltage has a frequency.");
        return test switch
        {
            "starting" => Starting(systemVolts, level, startSeconds),
            // 0.5 V a minute down and up again, from the voltage of a resting battery.
            "slow-decrease-and-increase" => Single(is12 ? 12 : 24, 0, (is12 ? 12 : 24) / 0.5 * 60, (is12 ? 12 : 24) / 0.5 * 60, 0),
            // Dips to 4.5 V or 9 V for 100 ms with edges of 10 ms, from 9 V or 16 V, the lowest supply of the usual code.
            "momentary-drop" => Single(is12 ? 9 : 16, is12 ? 4.5 : 9, 10e-3, 10e-3, 100e-3),
            "jump-start" => is12 ? Single(10.8, 26, 10e-3, 10e-3, 60)
                : throw new ArgumentException("The jump start is a test of 12 V systems."),
            "reversed" => Reversed(systemVolts, level, startSeconds),
            "alternating" => Alternating(systemVolts, level, hertz, startSeconds),
            _ => throw new ArgumentException($"There is no supply test \"{test}\"; known are {string.Join(", ", Tests)}."),
        };

        VehicleSupply Single(double from, double to, double down, double up, double held) => level != 1
            ? throw new ArgumentException($"The supply test \"{test}\" has no levels.")
            : new(test, systemVolts, level, null, startSeconds, 0, false,
                [(0, from), (down, to), .. held > 0 ? [(down + held, to)] : Array.Empty<(double, double)>(), (down + held + up, from)]);
    }

    /// <summary>Which test.</summary>
    public string Test { get; }

    /// <summary>12 or 24.</summary>
    public double SystemVolts { get; }

    /// <summary>Level, severity or case.</summary>
    public int Level { get; }

    /// <summary>Frequency of the alternating voltage, Hz; null without one.</summary>
    public double? Hertz { get; }

    /// <summary>When it begins, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public bool Equals(VehicleSupply? other) => other is not null
        && (Test, SystemVolts, Level, Hertz, StartSeconds) == (other.Test, other.SystemVolts, other.Level, other.Hertz, other.StartSeconds);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Test, SystemVolts, Level, Hertz, StartSeconds);

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"supply test {Test}{LevelWords}{AtFrequency}, {V(SystemVolts)} system, {V(Lowest)} to {V(Highest)} (ISO 16750-2:2023)";

    private string LevelWords => Test is "starting" or "alternating" ? $" level {Level}" : Test == "reversed" ? $" case {Level}" : "";

    private FormattableString AtFrequency => Hertz is { } f ? $" at {Hz(f)}" : (FormattableString)$"";

    private double Lowest => _course.Min(p => p.Volts) - _amplitude;

    private double Highest => _course.Max(p => p.Volts) + _amplitude;

    /// <inheritdoc/>
    public override double SuggestedSeconds =>
        StartSeconds + (Hertz is { } f ? Math.Max(20 / f, 20e-3) : 1.05 * _course[^1].Seconds + 10e-3);

    /// <inheritdoc/>
    public override bool IsLasting { get; }

    /// <inheritdoc/>
    public override double? PeriodSeconds => 1 / Hertz;

    /// <inheritdoc/>
    public override double? DriveVolts => Highest > -Lowest ? Highest : Lowest;

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => SourceEffect.Replaces;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
        ["Vehicle batteries can start fires and burn: fuse them, leave tests to trained people, and follow local rules and the test "
            + "standard."];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        [.. Sources.Removed(undisturbed, node, Text), .. ToElements(name, node)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        if (Hertz is not { } hertz)
            return [new VoltageSource(name, node, Circuit.Ground, _wave) { SeriesOhms = SourceOhms }];
        string mean = name + ".mean";
        return
        [
            new VoltageSource(mean, mean, Circuit.Ground, _wave),
            new VoltageSource(name, node, mean, new Sine(0, _amplitude, hertz, StartSeconds)) { SeriesOhms = SourceOhms },
        ];
    }

    // Battery, lowest and held voltage, fall, first and second hold, rise; durations in s. Between the lowest and the held voltage 50 ms;
    // the held phase carries 2 Hz of 2 V from peak to peak (from memory).
    private static readonly ImmutableArray<(double System, int Level, double Battery, double Lowest,
        double Held, double Fall, double First, double Phase, double Rise)> Profiles =
    [
        (12, 1, 12, 8, 9.5, 5e-3, 15e-3, 1, 40e-3), (12, 2, 12, 4.5, 6.5, 5e-3, 15e-3, 10, 0.1), (12, 3, 12, 3, 5, 5e-3, 15e-3, 1, 0.1),
        (12, 4, 12, 6, 6.5, 5e-3, 15e-3, 10, 0.1), (24, 1, 24, 10, 20, 10e-3, 50e-3, 1, 40e-3), (24, 2, 24, 8, 15, 10e-3, 50e-3, 10, 0.1),
        (24, 3, 24, 6, 10, 10e-3, 50e-3, 1, 40e-3),
    ];

    private static VehicleSupply Starting(double system, int level, double start)
    {
        var p = Profiles.FirstOrDefault(x => x.System == system && x.Level == level);
        if (p.System == 0)
            throw new ArgumentException(
                $"The starting profile of a {SiText.Format(system, "V")} system has levels 1 to {(system == 12 ? 4 : 3)}.");
        const double toHeld = 50e-3, rippleHertz = 2, rippleAmplitude = 1;
        const int pointsInPeriod = 48;
        var course = ImmutableArray.CreateBuilder<(double, double)>();
        course.AddRange((0, p.Battery), (p.Fall, p.Lowest), (p.Fall + p.First, p.Lowest));
        double held = p.Fall + p.First + toHeld;
        int points = (int)Math.Round(p.Phase * rippleHertz * pointsInPeriod);
        for (int k = 0; k <= points; k++)
            course.Add((held + p.Phase * k / points, p.Held
                + rippleAmplitude * Math.Sin(2 * Math.PI * rippleHertz * p.Phase * k / points)));
        course.Add((held + p.Phase + p.Rise, p.Battery));
        return new("starting", system, level, null, start, 0, false, course.ToImmutable());
    }

    // The alternator's voltage turned round where nothing fuses it, or that of a battery behind its diodes; for a minute.
    private static VehicleSupply Reversed(double system, int level, double start)
    {
        double volts = (system, level) switch
        {
            (12, 1) => -4,
            (12, 2) => -14,
            (24, 1) => -26,
            _ => throw new ArgumentException(system == 12 ? "The reversed supply of a 12 V system has cases 1 (-4 V) and 2 (-14 V)."
                : "The reversed supply of a 24 V system has one case, -26 V."),
        };
        // Connected the wrong way round, it was never on before.
        return new("reversed", system, level, null, start, 0, true, [(0, 0), (1e-3, volts), (60, volts)]);
    }

    private static VehicleSupply Alternating(double system, int level, double? hertz, double start)
    {
        if (level is < 1 or > 4)
            throw new ArgumentException("The alternating voltage has severities 1 to 4.");
        double volts = (system, level) switch { (12, 1) => 6, (24, 1) => 10, (_, 2) => 3, (_, 3) => 2, _ => 1 };
        double low = level == 4 ? 30e3 : 10, high = level == 4 ? 200e3 : 30e3;
        if (hertz is not { } f || !(f >= low && f <= high))
            throw new ArgumentException($"The alternating voltage of severity {level} runs from {SiText.Format(low, "Hz")} to "
                + $"{SiText.Format(high, "Hz")}: give a frequency.");
        // Upon the highest supply less half of it, so that its crest is that of the supply.
        double mean = (system == 12 ? 16 : 32) - volts / 2;
        return new("alternating", system, level, f, start, volts / 2, true, [(0, mean), (1, mean)]);
    }
}
