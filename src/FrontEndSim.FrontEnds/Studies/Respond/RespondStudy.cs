using System.Collections.Immutable;
using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>How a pin follows its sensor: after a step, with frequency, and in the time of a sample.</summary>
public static class RespondStudy
{
    private const double LowestHertz = 0.01, HighestHertz = 1e9;
    private const int PointsPerDecade = 20;

    /// <summary>Runs the steps, the response to small signals, and the samples.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="sensor">Name of the sensor; null for the one nearest to the pin.</param>
    /// <param name="sampleHertz">Sampling rate to judge against, Hz, above zero; null for none.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">There is no such pin or sensor, no sensor reaches the pin, or the pin does not follow it.</exception>
    public static RespondResult Run(FrontEnd frontEnd, string pin, string? sensor = null, double? sampleHertz = null,
        CancellationToken cancel = default)
    {
        var target = frontEnd.FindPin(pin);
        var source = sensor is not null ? frontEnd.FindSensor(sensor)
            : SignalPath.SensorOf(frontEnd, target.Node) ?? throw new StudyProblemException($"No sensor reaches pin {pin}.");
        if (sampleHertz is { } rate && !(rate > 0 && rate <= 2 * HighestHertz))
            throw new StudyProblemException($"A sampling rate lies above 0 Hz and up to {SiText.Format(2 * HighestHertz, "Hz")}.");
        double half = 0.5 * MappingStudy.CountVolts(frontEnd, target);
        var frequency = Frequency(frontEnd, target, source, sampleHertz, cancel);
        double unit = double.IsInfinity(frequency.CornerHertz) ? 1e-9 : 1 / (2 * Math.PI * frequency.CornerHertz);
        return new RespondResult(source.Name, pin, half, Step(frontEnd, target, source, true, half, unit, cancel),
            Step(frontEnd, target, source, false, half, unit, cancel), frequency, Samples(frontEnd, target, source, cancel))
        {
            SensorUnit = source.UnitText,
            Noise = PinNoise.Of(frontEnd, target, source.Name, cancel),
            Rows = sampleHertz is { } often ? Rows(frontEnd, target, source, often, cancel) : [],
        };
    }

    private static ImmutableArray<SamplingResult> Samples(FrontEnd frontEnd, Pin pin, Sensor sensor, CancellationToken cancel)
    {
        if (pin is not { Sampling: not null, Converter: { } converter })
            return [];
        var range = converter.Range(frontEnd.Rails);
        double[] starts = [range.Low, range.High];
        return
        [
            .. new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High }
                .SelectMany(volts => starts.Select(start => SamplingStudy.Run(frontEnd, pin.Name, sensor.Name, volts, start, cancel))),
        ];
    }

    // Enough to see where a row of samples leads.
    private const int SamplesInARow = 8;

    private static ImmutableArray<SampleRow> Rows(FrontEnd frontEnd, Pin pin, Sensor sensor, double hertz, CancellationToken cancel)
    {
        if (pin is not { Sampling: not null, Converter: { } converter })
            return [];
        var range = converter.Range(frontEnd.Rails);
        return
        [
            .. ((bool[])[true, false]).SelectMany(keeps => new[] { sensor.Span.Low, sensor.Span.High }.Select(volts =>
            {
                double rest = BiasStudy.Run(frontEnd, new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, volts) }, cancel).Point.Nodes[pin.Node];
                return SamplingStudy.InARow(frontEnd, pin.Name, sensor.Name, volts, rest - range.Low > range.High - rest ? range.Low : range.High, hertz, SamplesInARow, keeps, cancel);
            })),
        ];
    }

    private static FrequencyResponse Frequency(FrontEnd frontEnd, Pin pin, Sensor sensor, double? sampleHertz, CancellationToken cancel)
    {
        var compiled = frontEnd.ToCircuit().Compile();
        double[] hertz = [.. Enumerable.Range(0, (int)Math.Round(PointsPerDecade * Math.Log10(HighestHertz / LowestHertz)) + 1)
            .Select(k => LowestHertz * Math.Pow(10, (double)k / PointsPerDecade))];
        Complex[] response = compiled.SolveSmallSignal(sensor.Name, hertz, cancel).Response(pin.Node);
        Complex rest = compiled.SolveSmallSignal(sensor.Name, [0], cancel).Response(pin.Node)[0];
        if (rest.Magnitude < 1e-9)
            throw new StudyProblemException($"Pin {pin.Name} does not follow sensor {sensor.Name}: the gain at rest is {SiText.Format(rest.Real, "V/V")}.");
        double turns = 0, before = 0;
        var points = new FrequencyPoint[hertz.Length];
        for (int k = 0; k < hertz.Length; k++)
        {
            Complex relative = response[k] / rest;
            double phase = relative.Phase;
            turns -= 2 * Math.PI * Math.Round((phase + turns - before) / (2 * Math.PI));
            before = phase + turns;
            points[k] = new(hertz[k], 20 * Math.Log10(relative.Magnitude), before * 180 / Math.PI);
        }
        double corner = double.PositiveInfinity;
        double limit = -20 * Math.Log10(Math.Sqrt(2));
        int first = Array.FindIndex(points, p => p.Decibels < limit);
        if (first > 0)
        {
            double low = Math.Log(hertz[first - 1]), high = Math.Log(hertz[first]);
            while (high - low > 1e-9)
            {
                double middle = (low + high) / 2;
                if (DecibelsAt(Math.Exp(middle)) < limit)
                    high = middle;
                else
                    low = middle;
            }
            corner = Math.Exp((low + high) / 2);
        }
        return new(rest.Real, corner, [.. points], sampleHertz, sampleHertz is { } rate ? -DecibelsAt(rate / 2) : null);

        double DecibelsAt(double f) => 20 * Math.Log10((compiled.SolveSmallSignal(sensor.Name, [f], cancel).Response(pin.Node)[0] / rest).Magnitude);
    }

    private static StepResponse Step(FrontEnd frontEnd, Pin pin, Sensor sensor, bool up, double half, double unit, CancellationToken cancel)
    {
        var (from, to) = up ? (sensor.Span.Low, sensor.Span.High) : (sensor.Span.High, sensor.Span.Low);
        double end = BiasStudy.Run(frontEnd, new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, to) }, cancel)
            .Point.Nodes[pin.Node];
        double start = unit / 10;
        var calm = frontEnd.ToCircuit();
        var circuit = new Circuit(calm.Elements.Select(e => Sensor.Following(e, sensor.Name, new Step(from, to, start)) ?? e),
            calm.Celsius).Compile(SamplingStudy.Resolving(half, pin.Node));
        // A single pole needs 10 time constants for 14 bits; slewing and several poles need more.
        for (double length = 20 * unit; ; length *= 4)
        {
            var run = circuit.RunTransient(start + length, cancel);
            var trace = run.Voltage(pin.Node);
            double begin = trace.At(0);
            double last = new[] { end - half, end + half }.SelectMany(trace.Crossings).DefaultIfEmpty(start).Max();
            bool settled = Math.Abs(trace.At(start + length) - end) <= half && last < start + 0.8 * length;
            if (!settled && length < 1e5 * unit)
                continue;
            double tenth = trace.Crossings(begin + 0.1 * (end - begin)).FirstOrDefault(start);
            double nine = trace.Crossings(begin + 0.9 * (end - begin)).FirstOrDefault(double.PositiveInfinity);
            double beyond = end > begin ? trace.Maximum().Value - end : end - trace.Minimum().Value;
            return new StepResponse(start, begin, end, nine - tenth, settled ? Math.Max(0, last - start) : double.PositiveInfinity,
                end == begin ? 0 : Math.Max(0, beyond / Math.Abs(end - begin)), run, trace);
        }
    }
}
