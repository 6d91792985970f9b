using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

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
    /// <exception cref="StudyProblemException">There is no such pin or sensor, no sensor reaches the pin, or the pin does not follow
    /// it.</exception>
    public static RespondResult Run(FrontEnd frontEnd, string pin, string? sensor = null, double? sampleHertz = null,
        CancellationToken cancel = default) => Run(new SolvedFrontEnd(frontEnd), pin, sensor, sampleHertz, cancel: cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string, string, double?, CancellationToken)"/>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="sensor">Name of the sensor; null for the one nearest to the pin.</param>
    /// <param name="sampleHertz">Sampling rate to judge against, Hz, above zero; null for none.</param>
    /// <param name="acquisitionSeconds">An acquisition time of which the largest source resistance is asked, s; null for the
    /// pin's.</param>
    /// <param name="sourceOhms">A source resistance of which the acquisition time is asked, ohm; null for none.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static RespondResult Run(SolvedFrontEnd solved, string pin, string? sensor = null, double? sampleHertz = null,
        double? acquisitionSeconds = null, double? sourceOhms = null, CancellationToken cancel = default)
    {
        solved = solved.Reading(pin);
        var frontEnd = solved.FrontEnd;
        var target = frontEnd.FindPin(pin);
        var source = MappingStudy.Source(frontEnd, target, sensor);
        if (sampleHertz is { } rate && !(rate > 0 && rate <= 2 * HighestHertz))
            throw new StudyProblemException(new(ProblemKind.SampleRate, High: new(2 * HighestHertz, Quantities.Unit.Hertz)));
        double half = 0.5 * MappingStudy.CountVolts(frontEnd, target);
        var frequency = Frequency(solved, target, source, sampleHertz, cancel);
        double unit = Unit(frequency.CornerHertz);
        var samples = Samples(solved, target, source, cancel);
        return new RespondResult(source.Name, pin, half, Step(solved, target, source, true, half, unit, cancel),
            Step(solved, target, source, false, half, unit, cancel), frequency, samples)
        {
            Sources = samples.IsEmpty ? null : SourceStudy.Run(solved, target, samples, acquisitionSeconds, sourceOhms, cancel),
            SensorUnit = source.UnitText,
            HasStates = source.HasStates,
            IsMultiplexed = target.Channel is not null,
            Hum = HumStudy.Run(solved, target, cancel),
            Noise = solved.Noise(target, source.Name, cancel),
            Rows = sampleHertz is { } often ? Rows(solved, target, source, often, cancel) : [],
        };
    }

    /// <summary>Settling to within an error after a change over the whole span, up and down, s.</summary>
    internal static (Sensor Sensor, double Up, double Down) Steps(SolvedFrontEnd solved, string pin,
        double volts, CancellationToken cancel) =>
        (MappingStudy.Source(solved.FrontEnd, solved.FrontEnd.FindPin(pin), null), SettlingSeconds(solved, pin, volts, true, cancel),
            SettlingSeconds(solved, pin, volts, false, cancel));

    /// <summary>The same of one of the two, s; infinity if it does not settle.</summary>
    internal static double SettlingSeconds(SolvedFrontEnd solved, string pin, double volts, bool rises, CancellationToken cancel)
    {
        solved = solved.Reading(pin);
        var target = solved.FrontEnd.FindPin(pin);
        var source = MappingStudy.Source(solved.FrontEnd, target, null);
        double corner = Frequency(solved, target, source, null, cancel).CornerHertz;
        return Step(solved, target, source, rises, volts, Unit(corner), cancel).SettlingSeconds;
    }

    // A time constant to begin with.
    private static double Unit(double cornerHertz) => double.IsInfinity(cornerHertz) ? 1e-9 : 1 / (2 * Math.PI * cornerHertz);

    private static ImmutableArray<SamplingResult> Samples(SolvedFrontEnd solved, Pin pin, Sensor sensor, CancellationToken cancel)
    {
        if (pin is not { Sampling: not null, Converter: not null })
            return [];
        return
        [
            .. new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High }
                .SelectMany(value => SamplingStudy.OverRange(solved, pin, sensor.Name, value, cancel)),
        ];
    }

    // Enough to see where a row of samples leads.
    private const int SamplesInARow = 8;

    private static ImmutableArray<SampleRow> Rows(SolvedFrontEnd solved, Pin pin, Sensor sensor, double hertz, CancellationToken cancel)
    {
        if (pin is not { Sampling: not null, Converter: { } converter })
            return [];
        var range = converter.Range(solved.FrontEnd.Rails);
        return
        [
            .. ((bool[])[true, false]).SelectMany(keeps => new[] { sensor.Span.Low, sensor.Span.High }.Select(volts =>
            {
                double rest = solved.Rest(SolvedFrontEnd.At(sensor.Name, volts), cancel).Nodes[pin.Node];
                return SamplingStudy.InARow(solved, pin.Name, sensor.Name, volts, rest - range.Low > range.High - rest
                    ? range.Low : range.High, hertz, SamplesInARow, keeps, cancel);
            })),
        ];
    }

    private static FrequencyResponse Frequency(SolvedFrontEnd solved, Pin pin, Sensor sensor, double? sampleHertz, CancellationToken cancel)
    {
        var compiled = solved.Compiled();
        double[] hertz = [.. Enumerable.Range(0, (int)Math.Round(PointsPerDecade * Math.Log10(HighestHertz / LowestHertz)) + 1)
            .Select(k => LowestHertz * Math.Pow(10, (double)k / PointsPerDecade))];
        Complex[] Response(double[] at) => compiled.SolveSmallSignal(sensor.Name, at, cancel).Response(pin.Node);
        Complex rest = Response([0])[0];
        if (rest.Magnitude < 1e-9)
            throw new StudyProblemException(new(ProblemKind.DoesNotFollow, pin.Name, sensor.Name, Quantity.Number(rest.Real)));
        double[] Gains(double[] at) => [.. Response(at).Select(r => (r / rest).Magnitude)];
        double turns = 0, before = 0;
        ImmutableArray<FrequencyPoint> points =
        [
            .. Response(hertz).Zip(hertz, (response, at) =>
            {
                Complex relative = response / rest;
                turns -= 2 * Math.PI * Math.Round((relative.Phase + turns - before) / (2 * Math.PI));
                before = relative.Phase + turns;
                return new FrequencyPoint(at, 20 * Math.Log10(relative.Magnitude), before * 180 / Math.PI);
            }),
        ];
        return new(rest.Real, FrequencySearch.Corner(hertz, Gains), points, sampleHertz,
            sampleHertz is { } rate ? -20 * Math.Log10(Gains([rate / 2])[0]) : null);
    }

    private static StepResponse Step(SolvedFrontEnd solved, Pin pin, Sensor sensor, bool up,
        double half, double unit, CancellationToken cancel)
    {
        var (from, to) = up ? (sensor.Span.Low, sensor.Span.High) : (sensor.Span.High, sensor.Span.Low);
        double end = solved.Rest(SolvedFrontEnd.At(sensor.Name, to), cancel).Nodes[pin.Node];
        double start = unit / 10;
        var circuit = solved.Compiled(elements => elements.Select(e => Sensor.Following(e, sensor.Name, new Step(from, to, start)) ?? e),
            settings: SamplingStudy.Resolving(half, pin.Node));
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
