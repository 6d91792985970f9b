using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What firmware reads at a pin over a period that is like the one before it.</summary>
/// <param name="Value">What is measured, in the sensor's unit.</param>
/// <param name="Counts">What firmware makes of its codes, in the mean over where in the period they are taken.</param>
/// <param name="Period">Counts evenly over the period.</param>
internal sealed record TimedPoint(double Value, double Counts, double[] Period);

/// <summary>A pin followed in time while its sensor alternates or is excited.</summary>
internal sealed class TimedWave
{
    // Counts that a period is kept as: between two of them a sine strays from a straight line by a millionth.
    private const int Kept = 1024;

    // Between so many steps in a period the cubics that results are drawn with stray from a sine by (2π/40)⁴/384, two millionths.
    private const int StepsInPeriod = 40;

    // Closer than transients are solved for ratings: a reading is told to a count.
    private const double Accuracy = 1e-6;

    // Where in a period the samples fall: a few for the mean, many for the worst.
    private const int FewPhases = 8, ManyPhases = 64;

    // Periods that are run at first, and at most, and what they may still change by when their number is doubled.
    private const int FirstPeriods = 8, MostPeriods = 1 << 13;
    private const double Alike = 2e-5;

    private readonly SolvedFrontEnd _solved;
    private readonly double _hertz;
    private readonly string[] _nodes;
    private int _periods = FirstPeriods;

    public TimedWave(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        _solved = solved;
        Reading = reading;
        var frontEnd = solved.FrontEnd;
        Sensor = frontEnd.FindSensor(reading.Sensor);
        Pin = frontEnd.FindPin(reading.Pin);
        Converter = Pin.Converter ?? throw new StudyProblemException(new(ProblemKind.DoesNotConvert, Pin.Name));
        _hertz = frontEnd.HertzOf(Sensor) ?? throw new StudyProblemException(new(ProblemKind.DoesNotAlternate, Sensor.Name));
        _nodes = [.. Converter.References.Prepend(Pin.Node).Distinct()];
        // The largest takes as long as any to come to rest.
        while (_periods < MostPeriods)
        {
            var run = Circuit(Span.High).RunTransient(_periods / _hertz, cancel);
            double half = Mean(Last(run, _periods / 2)), whole = Mean(Last(run, _periods));
            if (Math.Abs(whole - half) <= Alike * Math.Abs(whole))
                break;
            _periods *= 2;
        }
    }

    public AlternatingReading Reading { get; }

    public Sensor Sensor { get; }

    public Pin Pin { get; }

    public Converter Converter { get; }

    /// <summary>What is measured: amplitudes, or values of what is excited.</summary>
    public Span Span => Sensor.Alternation?.Amplitudes ?? Sensor.Span;

    public double Code(double counts) => Converter.Code(counts);

    public double[] NominalOf(IReadOnlyList<VariedNumber> numbers) => Circuit(Span.High).NominalOf(numbers);

    public TimedPoint At(double value, CancellationToken cancel)
    {
        double[] period = Last(Circuit(value).RunTransient(_periods / _hertz, cancel), _periods);
        return new(value, Mean(period), period);
    }

    public TimedPoint[] Over(double[] values, CancellationToken cancel)
    {
        var found = new TimedPoint[values.Length];
        OnAllCores.For(values.Length, cancel, k => found[k] = At(values[k], cancel));
        return found;
    }

    /// <summary>What is read less what is measured, for numbers of each draw.</summary>
    public double[] Errors(CountsBack back, double value, IReadOnlyList<VariedNumber> numbers, double[][] draws,
        CancellationToken cancel) =>
        [.. Counts(value, numbers, draws, cancel).Select(c => back.Value(c) - value)];

    /// <summary>What firmware makes of its codes, counts, for numbers of each draw.</summary>
    public double[] Counts(double value, IReadOnlyList<VariedNumber> numbers, double[][] draws, CancellationToken cancel)
    {
        var circuit = Circuit(value);
        var counts = new double[draws.Length];
        // Draws alike, such as of drifts at the temperature that they are stated at, are run once.
        var groups = Enumerable.Range(0, draws.Length).GroupBy(d => draws[d], Same.Instance).ToArray();
        OnAllCores.For(groups.Length, cancel, g =>
        {
            double found = Mean(Last(circuit.RunTransient(_periods / _hertz, numbers, groups[g].Key, cancel), _periods));
            foreach (int d in groups[g])
                counts[d] = found;
        });
        return counts;
    }

    /// <summary>How far a reading may be off its mean, counts: samples anywhere in the period, the frequency off by its
    /// tolerance.</summary>
    public double Furthest(TimedPoint at, CancellationToken cancel)
    {
        double furthest = Off(at.Period, 1, Reading.SamplesInPeriod, at.Counts);
        if (Sensor.Alternation is { Tolerance: > 0 and var tolerance })
        {
            foreach (double speed in new[] { 1 - tolerance, 1 + tolerance })
            {
                double[] period = Last(Circuit(at.Value, speed).RunTransient(_periods / (_hertz * speed), cancel), _periods, speed);
                furthest = Math.Max(furthest, Off(period, speed, Reading.Samples, at.Counts));
            }
        }
        return furthest;
    }

    private double Off(double[] period, double speed, int samples, double mean) =>
        Enumerable.Range(0, ManyPhases).Max(j => Math.Abs(Taken(period, speed, j / (double)ManyPhases, samples) - mean));

    private double Mean(double[] period) =>
        Enumerable.Range(0, FewPhases).Average(j =>
            Taken(period, 1, (j + 0.5) / FewPhases / Reading.SamplesInPeriod, Reading.SamplesInPeriod));

    private double Taken(double[] period, double speed, double phase, int samples)
    {
        Span<double> codes = samples <= 256 ? stackalloc double[samples] : new double[samples];
        for (int k = 0; k < samples; k++)
        {
            double place = (phase + speed * k / Reading.SamplesInPeriod) % 1 * Kept;
            int before = Math.Min((int)place, Kept - 1);
            double share = place - before;
            codes[k] = Math.Clamp(period[before] + share * (period[(before + 1) % Kept] - period[before]), 0, Converter.Codes);
        }
        return Reading.Of(codes);
    }

    // The period that ends after so many.
    private double[] Last(TransientResult run, int periods, double speed = 1)
    {
        var traces = _nodes.ToDictionary(n => n, run.Voltage);
        return
        [
            .. Enumerable.Range(0, Kept).Select(k =>
            {
                double time = (periods - 1 + (double)k / Kept) / (_hertz * speed);
                return Converter.Counts(traces[Pin.Node].At(time), n => traces[n].At(time));
            }),
        ];
    }

    private CompiledCircuit Circuit(double value, double speed = 1)
    {
        var settings = new SolverSettings { Keep = _nodes, Accuracy = Accuracy, LongestStep = 1 / (StepsInPeriod * _hertz * speed) };
        if (Sensor.Alternation is not { } wave)
            return _solved.Compiled(elements => elements, SolvedFrontEnd.At(Sensor.Name, value), settings);
        var sine = new Sine(0, wave.PeakOf(value), _hertz * speed);
        return _solved.Compiled(elements => elements.Select(e => Sensor.Following(e, Sensor.Name, sine) ?? e), settings: settings);
    }

    private sealed class Same : IEqualityComparer<double[]>
    {
        public static Same Instance { get; } = new();

        public bool Equals(double[]? x, double[]? y) => x!.AsSpan().SequenceEqual(y);

        public int GetHashCode(double[] values) => values.Aggregate(0, HashCode.Combine);
    }
}
