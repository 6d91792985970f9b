using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>Counts over instants of the sensor.</summary>
/// <param name="Instants">What is measured, evenly spaced.</param>
/// <param name="Counts">Counts there, without rounding.</param>
/// <param name="Codes">Codes of the converter, whose ends are not passed.</param>
internal sealed record InstantCurve(double[] Instants, double[] Counts, double Codes)
{
    // A curve that turns back by less of its range is flat.
    private const double Turning = 1e-3;

    /// <summary>The curve of a front end; null where it turns or stands still.</summary>
    public static InstantCurve? Of(SolvedFrontEnd solved, SineWave sine, CancellationToken cancel)
    {
        double[] instants = sine.Grid();
        var sweep = solved.Sweep(sine.Sensor.Name, instants, cancel: cancel);
        double[] counts = [.. sweep.Points.Select(p => sine.Converter.Counts(p.Nodes[sine.Pin.Node], n => p.Nodes[n]))];
        double width = counts.Max() - counts.Min(), sign = Math.Sign(counts[^1] - counts[0]);
        return width > 1e-9 && Enumerable.Range(1, counts.Length - 1).All(k => sign * (counts[k] - counts[k - 1]) >= -Turning * width)
            ? new(instants, counts, sine.Converter.Codes) : null;
    }

    /// <summary>The curve by every so many of its instants.</summary>
    /// <param name="step">How many, which divides their number less one.</param>
    public InstantCurve Every(int step) =>
        new([.. Instants.Where((_, k) => k % step == 0)], [.. Counts.Where((_, k) => k % step == 0)], Codes);

    public double At(double instant)
    {
        double place = (instant - Instants[0]) / (Instants[^1] - Instants[0]) * (Instants.Length - 1);
        int k = Math.Clamp((int)Math.Floor(place), 0, Instants.Length - 2);
        return Math.Clamp(Counts[k] + (Counts[k + 1] - Counts[k]) * (place - k), 0, Codes);
    }
}

/// <summary>A sensor's sine as a reading samples it.</summary>
internal sealed class SineWave
{
    // Instants at which a curve is taken, as far as the largest amplitude goes either way.
    private const int Instants = 41;

    // Where in a period the samples fall: a few for the mean, many for the worst.
    private const int FewPhases = 8, ManyPhases = 64;

    // A pin that moves by less for a unit of the sensor does not follow it, V.
    private const double LeastGain = 1e-12;

    private readonly AlternatingReading _reading;
    private readonly double[] _ends; // gains at the ends of the frequency
    private readonly double[] _samples;

    public SineWave(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        _reading = reading;
        Sensor = solved.FrontEnd.FindSensor(reading.Sensor);
        Pin = solved.FrontEnd.FindPin(reading.Pin);
        Converter = Pin.Converter ?? throw new StudyProblemException(new(ProblemKind.DoesNotConvert, Pin.Name));
        Wave = Sensor.Alternation ?? throw new StudyProblemException(new(ProblemKind.DoesNotAlternate, Sensor.Name));
        Passes = PassedAt(solved, Wave.Hertz, cancel);
        _ends = Wave.Tolerance > 0
            ? [PassedAt(solved, Wave.Hertz * (1 - Wave.Tolerance), cancel), PassedAt(solved, Wave.Hertz * (1 + Wave.Tolerance), cancel)]
            : [];
        _samples = new double[reading.Samples];
    }

    /// <summary>The sine of a reading; null where the pin does not follow it at the operating point.</summary>
    public static SineWave? Follows(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var sensor = solved.FrontEnd.FindSensor(reading.Sensor);
        string node = solved.FrontEnd.FindPin(reading.Pin).Node;
        return solved.Compiled().SolveSmallSignal(sensor.Name, [0], cancel).Response(node)[0].Magnitude < LeastGain ? null
            : new(solved, reading, cancel);
    }

    public Sensor Sensor { get; }

    public Pin Pin { get; }

    public Converter Converter { get; }

    public Alternation Wave { get; }

    /// <summary>Gain at the sensor's frequency over the DC gain.</summary>
    public double Passes { get; }

    public double PassedAt(SolvedFrontEnd solved, double hertz, CancellationToken cancel) =>
        PassedAt(solved.Compiled(), hertz, [], [], cancel);

    /// <summary>The same with some numbers of the circuit changed.</summary>
    public double PassedAt(CompiledCircuit circuit, double hertz, IReadOnlyList<VariedNumber> numbers, IReadOnlyList<double> values,
        CancellationToken cancel)
    {
        var gains = circuit.SolveSmallSignal(Sensor.Name, [0, hertz], numbers, values, cancel).Response(Pin.Node);
        return gains[0].Magnitude < LeastGain ? throw new StudyProblemException(new(ProblemKind.DoesNotFollow, Pin.Name, Sensor.Name))
            : gains[1].Magnitude / gains[0].Magnitude;
    }

    /// <summary>What tolerances of single parts change of the gain at the sensor's frequency beyond what they change at the operating
    /// point, as a share of
    /// it.</summary>
    public ImmutableArray<LoosePart> Loose(SolvedFrontEnd solved, CancellationToken cancel) =>
        LoosePart.Of(solved.FrontEnd, moved => PassedAt(solved.With(moved), Wave.Hertz, cancel) / Passes - 1);

    /// <summary>Instants as far as the largest amplitude goes.</summary>
    public double[] Grid()
    {
        double most = Wave.PeakOf(Wave.Amplitudes.High) * _ends.Append(Passes).Append(1).Max();
        return SweepStudy.Grid(-most, most, Instants);
    }

    /// <summary>What is made of the codes at the nominal frequency, wherever in the period they are taken, in the mean.</summary>
    public double Mean(InstantCurve curve, double value) => Mean(curve, value, Passes);

    /// <summary>The same of a circuit that lets another share of the sine through.</summary>
    public double Mean(InstantCurve curve, double value, double passes)
    {
        double sum = 0;
        for (int j = 0; j < FewPhases; j++)
            sum += Taken(curve, passes * Wave.PeakOf(value), 1, (j + 0.5) / FewPhases, _reading.SamplesInPeriod);
        return sum / FewPhases;
    }

    /// <summary>How far a reading may be off that mean: samples anywhere in the period, the frequency off by its
    /// tolerance.</summary>
    public double Furthest(InstantCurve curve, double value, double mean, CancellationToken cancel)
    {
        double peak = Wave.PeakOf(value), furthest = 0;
        for (int j = 0; j < ManyPhases; j++)
        {
            cancel.ThrowIfCancellationRequested();
            double part = j / (double)ManyPhases;
            furthest = Math.Max(furthest, Math.Abs(Taken(curve, Passes * peak, 1, part, _reading.SamplesInPeriod) - mean));
            for (int end = 0; end < _ends.Length; end++)
            {
                furthest = Math.Max(furthest, Math.Abs(Taken(curve, _ends[end] * peak, 1 + (2 * end - 1) * Wave.Tolerance,
                    part * _reading.SamplesInPeriod, _reading.Samples) - mean));
            }
        }
        return furthest;
    }

    // The first of the samples stands so many of them after the sine's passage through zero.
    private double Taken(InstantCurve curve, double peak, double speed, double first, int samples)
    {
        for (int k = 0; k < samples; k++)
            _samples[k] = curve.At(peak * Math.Sin(2 * Math.PI * (first + speed * k) / _reading.SamplesInPeriod));
        return _reading.Of(_samples.AsSpan(0, samples));
    }
}
