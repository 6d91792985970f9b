using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>Amplitudes that firmware made of codes over periods. Where the pin does not follow its sensor at the operating point they
/// come of runs in
/// time.</summary>
internal static class ReadOverPeriods
{
    /// <summary>The readings of one name.</summary>
    /// <param name="values">Amplitudes of the sensor, or values of what is excited.</param>
    /// <param name="places">Which reading was taken at which of them.</param>
    /// <param name="solved">The circuit, which may have a fault.</param>
    /// <param name="designed">The circuit as designed, which firmware is made for.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">The pin does not follow the sensor.</exception>
    public static ReadTogether Of(double[] values, (int, int)[] places, SolvedFrontEnd solved, SolvedFrontEnd designed,
        AlternatingReading reading, CancellationToken cancel) =>
        AlternatingStudy.NeedsTime(designed, reading, cancel)
            ? new InTime(values, places, new TimedWave(solved, reading, cancel), TimedStudy.Wave(designed, reading, cancel).Back, solved)
            : new AtInstants(values, places, new SineWave(solved, reading, cancel), solved,
                AlternatingStudy.Factor(designed, reading, cancel), reading);

    // What the converter is off by all over its range goes with the mean of the codes; what the sensor is off by is of its amplitude.
    private static double Own(Sensor sensor, double value) => sensor is { Law: { } law, Alternation: { } sine }
        ? law.OffsetError / Alternation.Crest(sine.Said) + law.ProportionalError * value : 0;

    private static double Own(Converter converter, Amplitude taken, double counts) => taken == Amplitude.Average
        ? converter.OwnErrorCounts(counts) : (converter.GainErrorCounts ?? 0) / converter.Codes * counts + (converter.LinearityCounts ?? 0);

    /// <summary>By the curve at the operating point, of the sine as each circuit lets it through.</summary>
    private sealed record AtInstants(double[] Values, (int Reading, int Point)[] Places, SineWave Sine, SolvedFrontEnd Solved,
        double Factor, AlternatingReading Reading) : ReadTogether(Values, Places)
    {
        private double[] Grid { get; } = Sine.Grid();

        public override double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel)
        {
            var circuit = Solved.Compiled();
            string[] nodes = [.. Sine.Converter.References.Prepend(Sine.Pin.Node).Distinct()];
            var swept = circuit.SweepTrials(Sine.Sensor.Name, Grid, numbers, draws, set, nodes, cancel: cancel);
            double[] nominal = circuit.NominalOf(numbers);
            var passes = new double[draws];
            OnAllCores.For(draws, cancel, draw =>
            {
                double[] changed = [.. nominal];
                set(draw, changed);
                passes[draw] = changed.AsSpan().SequenceEqual(nominal) ? Sine.Passes
                    : Sine.PassedAt(circuit, Sine.Wave.Hertz, numbers, changed, cancel);
            });
            return
            [
                .. passes.Select((passed, draw) =>
                {
                    var curve = new InstantCurve(Grid, [.. Grid.Select((_, k) => Sine.Converter.Counts(
                        swept.Voltage(draw, Sine.Pin.Node)[k], n => swept.Voltage(draw, n)[k]))], Sine.Converter.Codes);
                    return Values.Select(v => Factor * Sine.Mean(curve, v, passed)).ToArray();
                }),
            ];
        }

        public override (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel)
        {
            double value = Values[point], counts = nominal / Factor;
            var curve = AlternatingStudy.Followed(Solved, Sine, cancel);
            double sampling = Sine.Furthest(curve, value, Sine.Mean(curve, value), cancel);
            double hum = AlternatingStudy.Hums(Solved, Sine.Pin, Reading, cancel).Sum(h => h.Counts);
            // Capacitors are none of the sources of error of a circuit at rest.
            double loose = Sine.Loose(Solved, cancel).Where(l => l.Part.Value?.Unit == Unit.Farad)
                .Sum(l => Math.Max(Math.Abs(l.Low), Math.Abs(l.High)));
            return (Factor, Factor * (0.5 + sampling + hum + Own(Sine.Converter, Reading.Taken, counts)) + loose * value
                + Own(Sine.Sensor, value));
        }
    }

    /// <summary>By runs in time.</summary>
    private sealed record InTime(double[] Values, (int Reading, int Point)[] Places, TimedWave Wave, CountsBack Back, SolvedFrontEnd Solved)
        : ReadTogether(Values, Places)
    {
        public override bool RunsInTime => true;

        public override double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel)
        {
            double[] nominal = Wave.NominalOf(numbers);
            double[][] drawn = [.. Enumerable.Range(0, draws).Select(draw =>
            {
                double[] changed = [.. nominal];
                set(draw, changed);
                return changed;
            })];
            double[][] byValue = [.. Values.Select(v => Wave.Counts(v, numbers, drawn, cancel))];
            return [.. Enumerable.Range(0, draws).Select(draw => byValue.Select(counts => Back.Value(counts[draw])).ToArray())];
        }

        public override (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel)
        {
            double value = Values[point];
            var at = Wave.At(value, cancel);
            double step = Back.Step(at.Counts);
            double hum = AlternatingStudy.Hums(Solved, Wave.Pin, Wave.Reading, cancel).Sum(h => h.Counts);
            var capacitors = TimedSources.Capacitors(Solved.FrontEnd);
            VariedNumber[] numbers = [.. capacitors.Select(c => c.Number)];
            double[] planned = Wave.NominalOf(numbers);
            double[] moved = Wave.Counts(value, numbers, [.. capacitors.SelectMany((c, k) => new[] { -c.Tolerance, c.Tolerance }
                .Select(t => planned.Select((farads, n) => n == k ? farads * (1 + t) : farads).ToArray()))], cancel);
            double loose = capacitors.Select((_, k) => Math.Max(Math.Abs(moved[2 * k] - at.Counts), Math.Abs(moved[2 * k + 1] - at.Counts)))
                .Sum();
            return (step, step * (0.5 + Wave.Furthest(at, cancel) + hum + loose + Own(Wave.Converter, Wave.Reading.Taken, at.Counts))
                + Own(Wave.Sensor, value));
        }
    }
}
