using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>
/// How far what firmware makes of codes over whole periods may be off, in the sensor's unit, by the same propagations as for one pin. The
/// firmware's constants are those of nominal parts. Where the circuit has to be followed in time, what each source does is solved at both
/// of its limits and half way to them, and adds up.
/// </summary>
public static class AlternatingBudget
{
    /// <summary>Makes the budget of a reading.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="reading">Name of the reading.</param>
    /// <param name="settings">Temperatures and draws; null for the defaults. No calibration is looked at.</param>
    /// <param name="progress">Told now and then how far it is; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found for some draw.</exception>
    /// <exception cref="StudyProblemException">There is no such reading, or it does not follow its sensor.</exception>
    public static BudgetResult Run(SolvedFrontEnd solved, string reading, BudgetSettings? settings = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var s = (settings ?? new BudgetSettings()).For(frontEnd);
        var taken = frontEnd.FindAlternatingReading(reading);
        var sensor = frontEnd.FindSensor(taken.Sensor);
        var pin = frontEnd.FindPin(taken.Pin);
        var span = sensor.Alternation?.Amplitudes ?? sensor.Span;
        double[] values = [span.Low, span.Middle, span.High];
        var sources = new ErrorSources(frontEnd, s.Assumed);
        List<ErrorQuantity> inputs = [.. sources.All];
        // What a sensor that alternates may be off by is of its amplitude and not of its instants.
        string ownError = sensor.Alternation is null ? "" : SensorLaw.OwnError(sensor.Name);
        int own = inputs.FindIndex(i => i.Name == ownError);
        var converter = new ConverterErrors(pin, inputs, isCalibrated: false);
        converter.AddStep();
        double noise = solved.Noise(pin, sensor.Name, cancel).RmsVolts / MappingStudy.CountVolts(frontEnd, pin);
        // Noise of one code and of the next do not hang together: a mean over all has less of it, the farthest two have all.
        converter.AddNoise(noise / (taken.Taken == Amplitude.Peak ? 1 : Math.Sqrt(taken.Samples)));
        converter.AddStated();
        int sampling = Either(taken.Name + " sampling", ErrorKind.Sampling);
        var hums = AlternatingStudy.Hums(solved, pin, taken, cancel);
        int[] hum = [.. hums.Select(h => Either(h.Sensor + " hum", ErrorKind.Hum))];
        bool needsTime = AlternatingStudy.NeedsTime(solved, taken, cancel);
        ImmutableArray<string> loose = needsTime ? [.. TimedSources.Capacitors(frontEnd).Select(c => c.Name)]
            : [.. new SineWave(solved, taken, cancel).Loose(solved, cancel).Select(l => l.Part.Name)];
        int[] parts = [.. loose.Select(name => Either(name + (needsTime ? " tolerance" : " attenuation"), ErrorKind.Attenuation))];
        double[] means = [.. inputs.Select(i => i.Distribution.Mean)];
        var points = BudgetStudy.Points(frontEnd, s, [.. inputs], ErrorsAt, k => values[k], (_, _) => 1, progress, cancel);
        return new BudgetResult(sensor.Name, reading, new WantedMapping(sensor.Name, span, span), sensor.UnitText, span.Width, points,
            BudgetSources.Assumptions(frontEnd, pin, s.Assumed) with
            {
                NoiseVolts = noise * MappingStudy.CountVolts(frontEnd, pin),
                IsFollowedInTime = needsTime,
            }, s)
        {
            IsOfReading = true,
            SensorUnit = sensor.UnitText,
        };

        int Either(string name, ErrorKind kind)
        {
            inputs.Add(new(name, new RectangularInput(-1, 1), kind));
            return inputs.Count - 1;
        }

        MeasurementFunction ErrorsAt(double celsius)
        {
            var at = solved.AtCelsius(celsius);
            Board board = needsTime ? new InTime(at, taken, sources, values, cancel)
                : new AtRest(at, taken, sources, values, loose, cancel);
            return (draws, set) =>
            {
                double[][] drawn = ReadingsByDraw.Drawn(means, draws, set);
                double[][] counts = board.Counts([.. drawn.Select(x =>
                {
                    double[] circuit = [.. x];
                    if (own >= 0)
                        circuit[own] = means[own];
                    return circuit;
                })], parts);
                return
                [
                    .. drawn.Select((x, draw) => values.Select((value, place) =>
                    {
                        double read = counts[draw][place], beside = converter.StepAndNoise(x, 0) + converter.Stated(x, read, 0);
                        // What all codes are off by alike goes with their mean.
                        if (taken.Taken != Amplitude.Average)
                            beside -= converter.OffsetOf(x);
                        for (int h = 0; h < hum.Length; h++)
                            beside += x[hum[h]] * hums[h].Counts;
                        double error = board.Back.Value(read + beside + x[sampling] * board.Furthest[place]) - value;
                        return own < 0 || sensor.Law is not { } law ? error
                            : error + x[own] * (law.OffsetError / Alternation.Crest(sensor.Alternation!.Said)
                                + law.ProportionalError * value);
                    }).ToArray()),
                ];
            };
        }
    }

    /// <summary>What firmware makes of the codes of boards at one temperature.</summary>
    private abstract class Board
    {
        /// <summary>What firmware makes of its counts.</summary>
        public required CountsBack Back { get; init; }

        /// <summary>How far a reading may be off by where its samples fall, counts, by place.</summary>
        public required double[] Furthest { get; init; }

        /// <summary>Counts by draw and place, without the converter's own errors.</summary>
        /// <param name="drawn">The values of each draw.</param>
        /// <param name="parts">Where among them those of parts that are loose at the sensor's frequency stand.</param>
        public abstract double[][] Counts(double[][] drawn, int[] parts);
    }

    /// <summary>By the curve at the operating point of each draw.</summary>
    private sealed class AtRest : Board
    {
        // What a coarser curve may change of a reading, counts.
        private const double Coarse = 1e-3;

        private readonly SineWave _sine;
        private readonly double[] _values, _instants;
        private readonly ReadingsByDraw _read;
        private readonly (double Low, double High)[] _loose;

        [System.Diagnostics.CodeAnalysis.SetsRequiredMembers]
        public AtRest(SolvedFrontEnd solved, AlternatingReading reading, ErrorSources sources, double[] values,
            ImmutableArray<string> loose, CancellationToken cancel)
        {
            (_sine, _values) = (new SineWave(solved, reading, cancel), values);
            var nominal = AlternatingStudy.Followed(solved, _sine, cancel);
            double[] means = [.. values.Select(v => _sine.Mean(nominal, v))];
            // No more instants than the curve is bent for.
            _instants = new[] { 20, 10, 5, 2 }.Select(nominal.Every).FirstOrDefault(coarse => values.Zip(means).All(v =>
                Math.Abs(_sine.Mean(coarse, v.First) - v.Second) <= Coarse))?.Instants ?? nominal.Instants;
            var gains = _sine.Loose(solved, cancel).ToDictionary(l => l.Part.Name, l => (l.Low, l.High));
            _loose = [.. loose.Select(name => gains.GetValueOrDefault(name))];
            Back = CountsBack.Line(0, AlternatingStudy.Factor(solved, reading, cancel));
            Furthest = [.. values.Zip(means).Select(v => _sine.Furthest(nominal, v.First, v.Second, cancel))];
            _read = new(solved.Compiled().PrepareTrials(_sine.Sensor.Name, _instants, sources.Numbers,
                [_sine.Pin.Node, .. _sine.Converter.References], cancel: cancel), _sine.Pin, sources, solved.FrontEnd.Celsius, cancel);
        }

        public override double[][] Counts(double[][] drawn, int[] parts)
        {
            double[][] read = _read.Of(drawn);
            return
            [
                .. drawn.Select((x, draw) =>
                {
                    var curve = new InstantCurve(_instants, read[draw], _sine.Converter.Codes);
                    double gain = 1;
                    for (int k = 0; k < parts.Length; k++)
                        gain += Math.Abs(x[parts[k]]) * (x[parts[k]] > 0 ? _loose[k].High : _loose[k].Low);
                    return _values.Select(v => _sine.Mean(curve, gain * v)).ToArray();
                }),
            ];
        }
    }

    /// <summary>By runs in time with each source at either of its limits.</summary>
    private sealed class InTime : Board
    {
        private readonly ErrorSources _sources;
        private readonly double[] _nominal; // by place
        private readonly double[][][] _changes; // by place and source, at its limits and half way

        [System.Diagnostics.CodeAnalysis.SetsRequiredMembers]
        public InTime(SolvedFrontEnd solved, AlternatingReading reading, ErrorSources sources, double[] values, CancellationToken cancel)
        {
            _sources = sources;
            var (wave, back) = TimedStudy.Wave(solved, reading, cancel);
            var alone = new TimedSources(wave, sources, solved.FrontEnd, cancel);
            Back = back;
            var curves = values.Select(alone.Curves).ToArray();
            _nominal = [.. curves.Select(c => c.Counts)];
            _changes = [.. curves.Select(c => c.Changes)];
            Furthest = [.. values.Select(v => wave.Furthest(wave.At(v, cancel), cancel))];
        }

        public override double[][] Counts(double[][] drawn, int[] parts) =>
        [
            .. drawn.Select(x =>
            {
                double[] counts = [.. _nominal];
                for (int k = 0; k < _changes[0].Length; k++)
                {
                    double share = k < _sources.All.Length ? Share(_sources.All[k].Distribution, x[k]) : x[parts[k - _sources.All.Length]];
                    for (int place = 0; place < counts.Length; place++)
                        counts[place] += Change(_changes[place][k], share);
                }
                return counts;
            }),
        ];

        // By straight lines through what was solved.
        private static double Change(double[] at, double share)
        {
            double size = Math.Abs(share), half = share > 0 ? at[2] : at[1], whole = share > 0 ? at[3] : at[0];
            return size <= 0.5 ? 2 * size * half : half + (2 * size - 1) * (whole - half);
        }

        // How far a value stands from its mean towards its upper limit (1) or its lower (−1).
        private static double Share(InputDistribution d, double x) =>
            x >= d.Mean ? d.High > d.Mean ? (x - d.Mean) / (d.High - d.Mean) : 0 : d.Low < d.Mean ? (x - d.Mean) / (d.Mean - d.Low) : 0;
    }
}
