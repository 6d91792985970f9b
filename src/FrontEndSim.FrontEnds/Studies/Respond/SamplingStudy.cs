using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>What one sample takes from a pin: the capacitor is connected from some voltage, and disconnected before all has
/// settled.</summary>
/// <param name="SensorValue">What the sensor measures, in its own unit.</param>
/// <param name="StartVolts">Voltage of the sampling capacitor when it is connected, V.</param>
/// <param name="RestVolts">Voltage of the pin before, V: what ought to be read.</param>
/// <param name="HeldVolts">Voltage of the capacitor when it is disconnected, V.</param>
/// <param name="LongEnoughSeconds">
/// Time for which it would have to be connected to come within half a count and stay there, s; infinity if more than
/// <see cref="SamplingStudy.LongestFactor"/> times the time that it has.
/// </param>
public sealed record SamplingResult(double SensorValue, double StartVolts, double RestVolts, double HeldVolts, double LongEnoughSeconds)
{
    /// <summary>Held less rest, V.</summary>
    public double ErrorVolts => HeldVolts - RestVolts;

    /// <summary>The pin of the scan that is read before and leaves <see cref="StartVolts"/>; null where any pin may.</summary>
    public string? Before { get; init; }
}

/// <summary>Several samples in a row, at a sampling rate.</summary>
/// <param name="SensorValue">What the sensor measures, in its own unit.</param>
/// <param name="StartVolts">Voltage of the sampling capacitor before the first sample, V.</param>
/// <param name="KeepsCharge">
/// Whether the capacitor keeps the charge of each sample until the next, as where one pin is read alone; else it is brought back to
/// <paramref name="StartVolts"/> between samples, as where another channel is read in turn.
/// </param>
/// <param name="RestVolts">Voltage of the pin before the first sample, V: what ought to be read.</param>
/// <param name="HeldVolts">Voltage of the capacitor at the end of each sample, V.</param>
public sealed record SampleRow(double SensorValue, double StartVolts, bool KeepsCharge, double RestVolts, ImmutableArray<double> HeldVolts)
{
    /// <summary>Held less rest of each sample, V.</summary>
    public ImmutableArray<double> ErrorVolts => [.. HeldVolts.Select(v => v - RestVolts)];
}

/// <summary>Whether a converter's sampling capacitor settles.</summary>
public static class SamplingStudy
{
    /// <summary>How many times the time given is looked at in search of the time that would do.</summary>
    public const double LongestFactor = 1000;

    /// <summary>Connects the sampling capacitor to the pin at the operating point and watches it.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">Name of the pin; it needs a converter and a sampling capacitor.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="sensorValue">What it measures, in its unit.</param>
    /// <param name="startVolts">Voltage that the capacitor still holds from the sample before, V.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">There is no such pin, or it does not sample.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static SamplingResult Run(SolvedFrontEnd solved, string pin, string sensor, double sensorValue, double startVolts,
        CancellationToken cancel = default)
    {
        solved = solved.Reading(pin);
        var (target, sampling, half) = Sampled(solved.FrontEnd, pin);
        double start = sampling.Seconds / 100;
        var compiled = Sampled(solved, target, SolvedFrontEnd.At(sensor, sensorValue), startVolts,
            new Step(0, 1, start), new Step(1, 0, start), half);
        var (run, longEnough) = Settled(compiled, target, start, half, restVolts: null, cancel);
        return new SamplingResult(sensorValue, startVolts, run.Start.Nodes[target.Node],
            run.Voltage(Held(pin)).At(start + sampling.Seconds), longEnough);
    }

    /// <summary>Watches the capacitor until it has settled to half a count, or for the longest time that is looked at.</summary>
    /// <param name="compiled">The circuit, with the capacitor.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="start">When the capacitor is connected, s.</param>
    /// <param name="half">Half a count, V.</param>
    /// <param name="restVolts">What ought to be read, V; null for where the pin stands at first.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <returns>The run, and how long the capacitor has to be connected, s; infinity where it does not settle.</returns>
    internal static (TransientResult Run, double Seconds) Settled(CompiledCircuit compiled, Pin pin, double start, double half,
        double? restVolts, CancellationToken cancel)
    {
        for (double seconds = pin.Sampling!.Seconds; ; seconds *= 10)
        {
            var run = compiled.RunTransient(start + seconds, cancel);
            double rest = restVolts ?? run.Start.Nodes[pin.Node];
            var trace = run.Voltage(Held(pin.Name));
            bool settled = Math.Abs(trace.At(start + seconds) - rest) <= half;
            if (!settled && seconds < LongestFactor * pin.Sampling.Seconds)
                continue;
            double last = new[] { rest - half, rest + half }.SelectMany(trace.Crossings).DefaultIfEmpty(start).Max();
            return (run, settled ? Math.Max(0, last - start) : double.PositiveInfinity);
        }
    }

    /// <summary>Samples again and again at a rate, and watches what is held each time.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">Name of the pin; it needs a converter and a sampling capacitor.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="sensorValue">Its voltage, V.</param>
    /// <param name="startVolts">Voltage that the capacitor holds before the first sample, V.</param>
    /// <param name="hertz">Samples a second, Hz: one has to end before the next begins.</param>
    /// <param name="samples">How many, at least 1.</param>
    /// <param name="keepsCharge">Whether the capacitor keeps its charge between samples, else it is brought back to
    /// <paramref name="startVolts"/>.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">There is no such pin, it does not sample, or the rate leaves no time between
    /// samples.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static SampleRow InARow(SolvedFrontEnd solved, string pin, string sensor, double sensorValue,
        double startVolts, double hertz, int samples,
        bool keepsCharge, CancellationToken cancel = default)
    {
        solved = solved.Reading(pin);
        var (target, sampling, half) = Sampled(solved.FrontEnd, pin);
        double period = 1 / hertz, pause = period - sampling.Seconds;
        if (!(pause > 0))
        {
            throw new StudyProblemException(new(ProblemKind.SamplesTooFast, pin, "", new(hertz, Unit.Hertz),
                High: new(1 / sampling.Seconds, Unit.Hertz)));
        }
        // The first sample comes a period after the start; the capacitor is brought back well inside of each pause, the first one included.
        double gap = Math.Min(pause / 8, sampling.Seconds / 20);
        var closed = new Pulse(0, 1, period, 0, sampling.Seconds, 0, period);
        Waveform charging = keepsCharge ? new Step(1, 0, period - gap)
            : new Pulse(0, 1, sampling.Seconds + gap, 0, pause - 2 * gap, 0, period);
        string held = Held(pin);
        var run = Sampled(solved, target, SolvedFrontEnd.At(sensor, sensorValue), startVolts, closed, charging, half)
            .RunTransient(samples * period + sampling.Seconds, cancel);
        var trace = run.Voltage(held);
        return new(sensorValue, startVolts, keepsCharge, run.Start.Nodes[target.Node],
            [.. Enumerable.Range(1, samples).Select(k => trace.At(k * period + sampling.Seconds))]);
    }

    /// <summary>
    /// Samples of a pin from all that the sampling capacitor may hold before: in a scan what the pin before leaves, its own sensor at
    /// either end of its span; else either end of the converter's range.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin; it needs a converter and a sampling capacitor.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="sensorValue">What it measures, in its unit.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ImmutableArray<SamplingResult> OverRange(SolvedFrontEnd solved, Pin pin, string sensor, double sensorValue,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        if (frontEnd.ScanOf(pin.Name) is not { } scan)
        {
            var range = pin.Converter!.Range(frontEnd.Rails);
            return [.. new[] { range.Low, range.High }.Select(volts => solved.Sample(pin.Name, sensor, sensorValue, volts, cancel))];
        }
        var before = frontEnd.FindPin(scan.Before(pin.Name));
        var own = SolvedFrontEnd.At(sensor, sensorValue);
        // Where one sensor moves both pins, its value says what the other pin leaves.
        Scenario[] scenarios = SignalPath.SensorOf(frontEnd, before) is { } other && other.Name != sensor
            ? [.. new[] { other.Span.Low, other.Span.High }.Select(v => own with { SensorValue = own.SensorValue.SetItem(other.Name, v) })]
            : [own];
        var standing = solved.Reading(before.Name);
        var left = scenarios.Select(s => (Scenario: s, Volts: standing.Rest(s, cancel).Nodes[before.Node])).DistinctBy(s => s.Volts);
        // Behind one multiplexer what the pin before leaves stands in its common node as well.
        bool isSwitched = pin.Channel?.Multiplexer == before.Channel?.Multiplexer && pin.Channel != before.Channel;
        return [.. left.Select(l => (isSwitched
            ? MultiplexedSample.Run(solved, scan, pin, before, sensorValue, l.Scenario, l.Volts, cancel)
            : InScan(solved, scan, pin, sensor, sensorValue, l.Volts, cancel)) with { Before = before.Name })];
    }

    /// <summary>A sample as a scan takes it: after those that are thrown away, and at its rate.</summary>
    private static SamplingResult InScan(SolvedFrontEnd solved, Scan scan, Pin pin, string sensor, double sensorValue, double startVolts,
        CancellationToken cancel)
    {
        solved = solved.Reading(pin.Name);
        var first = solved.Sample(pin.Name, sensor, sensorValue, startVolts, cancel);
        if (scan is { EverySeconds: null, Discarded: 0 })
            return first;
        var (target, sampling, half) = Sampled(solved.FrontEnd, pin.Name);
        int reads = scan.Discarded + 1;
        // Where no rate is known, readings follow each other at once: what is least likely to settle.
        double step = scan.EverySeconds ?? 1.05 * sampling.Seconds, gap = Math.Min((step - sampling.Seconds) / 8, sampling.Seconds / 20);
        double round = step * reads * scan.Pins.Length;
        int rounds = scan.EverySeconds is null ? 1 : RoundsOfAScan;
        bool isRenewed = scan.Pins.Length > 1;
        var closed = ImmutableArray.CreateBuilder<(double, double)>();
        var charging = ImmutableArray.CreateBuilder<(double, double)>();
        charging.Add((0, 1));
        for (int k = 0; k < rounds; k++)
        {
            double begin = step + k * round;
            if (isRenewed || k == 0)
                charging.AddRange((begin - gap, 1), (begin - gap, 0));
            AddReads(closed, begin, reads, step, sampling);
            double end = begin + (reads - 1) * step + sampling.Seconds;
            if (isRenewed && k < rounds - 1)
                charging.AddRange((end + gap, 0), (end + gap, 1));
        }
        // At rest the pin stands where the scan's mean current holds it: a capacitor that is carried from one voltage to the other at a
        // rate is a resistance of one over rate and capacitance. The rounds then find what is left of the ripple.
        Element[] mean = scan.EverySeconds is not null && isRenewed
            ? MeanCurrent(pin, pin.Node, startVolts, round / sampling.Farads, step) : [];
        double[] ends = [.. Enumerable.Range(0, rounds).Select(k => step + k * round + (reads - 1) * step + sampling.Seconds)];
        var run = Sampled(solved, target, SolvedFrontEnd.At(sensor, sensorValue), startVolts, new PiecewiseLinear(closed.ToImmutable()),
            new PiecewiseLinear(charging.ToImmutable()), half, mean).RunTransient(ends[^1], cancel);
        return first with { HeldVolts = Limit(run.Voltage(Held(pin.Name)).Sample(ends)) };
    }

    internal const int RoundsOfAScan = 4;

    /// <summary>The switch of the sampling capacitor closes for each of several reads in a row.</summary>
    internal static void AddReads(ImmutableArray<(double, double)>.Builder closed, double begin, int reads, double step,
        Sampling sampling)
    {
        foreach (double at in Enumerable.Range(0, reads).Select(r => begin + r * step))
            closed.AddRange((at, 0), (at, 1), (at + sampling.Seconds, 1), (at + sampling.Seconds, 0));
    }

    /// <summary>What carries a scan's mean current to a node until the first of its rounds, as a resistance to a voltage.</summary>
    internal static Element[] MeanCurrent(Pin pin, string node, double volts, double ohms, double until) =>
    [
        new VoltageSource(pin.Name + ".mean source", pin.Name + ".mean", Circuit.Ground, volts),
        new Switch(pin.Name + ".mean current", node, pin.Name + ".mean", new Step(1, 0, until)) { ClosedOhms = ohms, OpenOhms = 1e15 },
    ];

    /// <summary>Where a row of numbers leads whose distance from there falls by the same factor from each to the next, as that of one pole
    /// does (Aitken).</summary>
    internal static double Limit(double[] row)
    {
        if (row.Length < 3)
            return row[^1];
        double last = row[^1] - row[^2], before = row[^2] - row[^3], factor = last / before;
        return factor is > 0 and < 1 ? row[^1] + last * factor / (1 - factor) : row[^1];
    }

    internal static (Pin Pin, Sampling Sampling, double HalfCountVolts) Sampled(FrontEnd frontEnd, string pin)
    {
        var target = frontEnd.FindPin(pin);
        if (target is not { Sampling: { } sampling, Converter: { } converter })
            throw new StudyProblemException(new(ProblemKind.NoSamplingCapacitor, pin));
        return (target, sampling, 0.5 * converter.CountVolts(frontEnd.Rails));
    }

    internal static string Held(string pin) => pin + ".held";

    /// <summary>The front end with the sampling capacitor behind its switch, and with what charges it beforehand.</summary>
    internal static CompiledCircuit Sampled(SolvedFrontEnd solved, Pin pin, Scenario scenario, double startVolts, Waveform closed,
        Waveform charging, double halfCountVolts, params Element[] added)
    {
        string held = Held(pin.Name);
        return solved.Compiled(elements =>
        [
            .. elements, .. added,
            new Switch(pin.Name + ".sampling switch", pin.Node, held, closed) { ClosedOhms = pin.Sampling!.Ohms, OpenOhms = 1e13 },
            new Capacitor(pin.Name + ".sampling capacitor", held, Circuit.Ground, pin.Sampling.Farads),
            new VoltageSource(pin.Name + ".sample before", held, Circuit.Ground, startVolts) { SeriesOhms = 1, Connected = charging },
        ], scenario, Resolving(halfCountVolts, pin.Node, held));
    }

    /// <summary>
    /// Accuracy at which a trace of up to 10 V is drawn to a hundredth of half a count: a drawing may miss by 30 times the
    /// accuracy (docs/engine.md, Transient).
    /// </summary>
    internal static SolverSettings Resolving(double halfCountVolts, params string[] keep)
    {
        double drawn = halfCountVolts / 100;
        return new SolverSettings { Accuracy = drawn / 30 / 10, AbsoluteVolts = drawn / 30, Keep = keep };
    }
}
