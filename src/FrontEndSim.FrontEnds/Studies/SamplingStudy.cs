using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds;

/// <summary>What one sample takes from a pin: the capacitor is connected from some voltage, and disconnected before all has settled.</summary>
/// <param name="SensorVolts">The sensor's voltage, V.</param>
/// <param name="StartVolts">Voltage of the sampling capacitor when it is connected, V.</param>
/// <param name="RestVolts">Voltage of the pin before, V: what ought to be read.</param>
/// <param name="HeldVolts">Voltage of the capacitor when it is disconnected, V.</param>
/// <param name="LongEnoughSeconds">
/// Time for which it would have to be connected to come within half a count and stay there, s; infinity if more than
/// <see cref="SamplingStudy.LongestFactor"/> times the time that it has.
/// </param>
public sealed record SamplingResult(double SensorVolts, double StartVolts, double RestVolts, double HeldVolts, double LongEnoughSeconds)
{
    /// <summary>Held less rest, V.</summary>
    public double ErrorVolts => HeldVolts - RestVolts;
}

/// <summary>Whether a converter's sampling capacitor settles.</summary>
public static class SamplingStudy
{
    /// <summary>How many times the time given is looked at in search of the time that would do.</summary>
    public const double LongestFactor = 1000;

    /// <summary>Connects the sampling capacitor to the pin at rest and watches it.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="pin">Name of the pin; it needs a converter and a sampling capacitor.</param>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="sensorVolts">Its voltage, V.</param>
    /// <param name="startVolts">Voltage that the capacitor still holds from the sample before, V.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">There is no such pin, or it does not sample.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static SamplingResult Run(FrontEnd frontEnd, string pin, string sensor, double sensorVolts, double startVolts,
        CancellationToken cancel = default)
    {
        var target = frontEnd.FindPin(pin);
        if (target.Sampling is not { } sampling || target.Converter is not { } converter)
            throw new StudyProblemException($"Pin {pin} has no sampling capacitor; add \"samples 14 pF through 1k5 for 3 us\" to it, with its own numbers.");
        double start = sampling.Seconds / 100;
        var calm = frontEnd.ToCircuit(new Scenario { SensorVolts = ImmutableDictionary<string, double>.Empty.Add(sensor, sensorVolts) });
        string held = pin + ".held";
        var circuit = new Circuit(
        [
            .. calm.Elements,
            new Switch(pin + ".sampling switch", target.Node, held, new Step(0, 1, start)) { ClosedOhms = sampling.Ohms, OpenOhms = 1e13 },
            new Capacitor(pin + ".sampling capacitor", held, Circuit.Ground, sampling.Farads),
            new VoltageSource(pin + ".sample before", held, Circuit.Ground, startVolts) { SeriesOhms = 1, Connected = new Step(1, 0, start) },
        ], calm.Celsius);
        double half = 0.5 * (converter.Span.High.Resolve(frontEnd.Rails) - converter.Span.Low.Resolve(frontEnd.Rails)) / converter.Codes;
        var compiled = circuit.Compile(Resolving(half, target.Node, held));
        for (double seconds = sampling.Seconds; ; seconds *= 10)
        {
            var run = compiled.RunTransient(start + seconds, cancel);
            double rest = run.Start.Nodes[target.Node];
            var trace = run.Voltage(held);
            bool settled = Math.Abs(trace.At(start + seconds) - rest) <= half;
            if (!settled && seconds < LongestFactor * sampling.Seconds)
                continue;
            double last = new[] { rest - half, rest + half }.SelectMany(trace.Crossings).DefaultIfEmpty(start).Max();
            return new SamplingResult(sensorVolts, startVolts, rest, trace.At(start + sampling.Seconds), settled ? Math.Max(0, last - start) : double.PositiveInfinity);
        }
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
