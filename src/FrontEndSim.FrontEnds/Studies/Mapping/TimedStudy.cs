using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>
/// What a pin reads of a sensor that alternates, or of a capacitance that a sine excites, from the circuit followed in time until its
/// periods are alike: a charge into a charge amplifier, a rectifier, a peak hold.
/// </summary>
internal static class TimedStudy
{
    // Nominal values that the way back of a capacitance is made of; of a smooth curve seven powers leave less than a converter shows.
    private const int Places = 13, Degree = 6;

    /// <summary>The reading of nominal parts at the front end's temperature.</summary>
    public static AlternatingResult Run(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var (wave, back) = Wave(solved, reading, cancel);
        var points = Over(wave, cancel);
        return new(reading.Name, reading.Pin, wave.Sensor.UnitText, wave.Sensor.Alternation?.Said, reading.Taken,
            points.Max(p => back.Step(p.Counts)), null,
            [.. points.Select(p => new AlternatingPoint(p.Value, p.Counts, wave.Code(p.Period.Min()), wave.Code(p.Period.Max()),
                back.Value(p.Counts) - p.Value))])
        {
            Back = back,
        };
    }

    /// <summary>The pin in time, and what firmware of nominal parts makes of its counts.</summary>
    internal static (TimedWave Wave, CountsBack Back) Wave(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var reference = new TimedWave(solved.Reference(), reading, cancel);
        return (solved == solved.Reference() ? reference : new TimedWave(solved, reading, cancel), BackOf(reference, cancel));
    }

    private static TimedPoint[] Over(TimedWave wave, CancellationToken cancel) =>
        wave.Over(SweepStudy.Grid(wave.Span.Low, wave.Span.High, Places), cancel);

    /// <summary>A line through what nominal parts make of both ends of what alternates; of a capacitance, which is no straight line of what
    /// is read, a polynomial.</summary>
    private static CountsBack BackOf(TimedWave wave, CancellationToken cancel)
    {
        bool isLine = wave.Sensor.Alternation is not null;
        var found = wave.Over(SweepStudy.Grid(wave.Span.Low, wave.Span.High, isLine ? 2 : Places), cancel);
        double first = found[0].Counts, last = found[^1].Counts;
        for (int k = 1; k < found.Length; k++)
        {
            if (!((found[k].Counts - found[k - 1].Counts) * Math.Sign(last - first) > 0))
            {
                throw new StudyProblemException(new(ProblemKind.NotMonotone, wave.Reading.Name, wave.Sensor.Name));
            }
        }
        if (isLine)
        {
            // What alternates about a mean that is taken out gives nothing at nothing.
            double factor = wave.Reading.Taken == Amplitude.Average ? wave.Span.Width / (last - first) : wave.Span.High / last;
            return CountsBack.Line(wave.Reading.Taken == Amplitude.Average ? wave.Span.High - factor * last : 0, factor);
        }
        var curve = NominalCurve.Through(found.Select(f => new SensorPoint(f.Counts, f.Value)));
        double middle = 0.5 * (first + last), half = 0.5 * Math.Abs(last - first);
        return new([.. FirmwarePolynomial.Powers(FirmwarePolynomial.Chebyshev(t => curve.At(middle + half * t))[..(Degree + 1)])], middle,
            half);
    }

    /// <summary>The worst of all boards at the temperature of the front end, as <see cref="AlternatingStudy.Spread"/> has it.</summary>
    public static ReadingSpread Spread(SolvedFrontEnd solved, AlternatingReading reading, Span? over, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var (wave, back) = Wave(solved, reading, cancel);
        var (sensor, converter) = (wave.Sensor, wave.Converter);
        var span = over ?? wave.Span;
        var sources = new TimedSources(wave, new ErrorSources(frontEnd), frontEnd, cancel);
        double[] ends = span.Width > 0 ? [span.Low, span.High] : [span.High];
        double[][] alone = [.. ends.Select(v => sources.Counts(v).Select(c => back.Value(c) - v).ToArray())];
        double[][] together =
        [
            .. ends.Select((v, e) => sources.Corners(v, alone[e]).Select(c => back.Value(c) - v).ToArray()),
        ];
        double departs = Over(wave, cancel).Where(p => p.Value >= span.Low && p.Value <= span.High)
            .Select(p => Math.Abs(back.Value(p.Counts) - p.Value)).DefaultIfEmpty(0).Max();
        var hums = AlternatingStudy.Hums(solved, wave.Pin, reading, cancel);
        var worst = ends.Select((value, e) =>
        {
            var at = wave.At(value, cancel);
            double step = back.Step(at.Counts), sampling = step * wave.Furthest(at, cancel);
            double converters = step * (reading.Taken == Amplitude.Average ? converter.OwnErrorCounts(at.Counts)
                : (converter.GainErrorCounts ?? 0) / converter.Codes * at.Counts + (converter.LinearityCounts ?? 0));
            double sensors = sensor is { Law: { } law, Alternation: { } sine }
                ? law.OffsetError / Alternation.Crest(sine.Said) + law.ProportionalError * value : 0;
            double hum = step * hums.Sum(h => h.Counts);
            double off = Math.Max(together[e].Max(Math.Abs), departs);
            return (Place: e, Step: step, Sampling: sampling, Converter: converters, Sensor: sensors, Hum: hum,
                Largest: off + sampling + converters + sensors + hum + 0.5 * step);
        }).MaxBy(w => w.Largest);
        double[] errors = alone[worst.Place];
        return ReadingSpread.Of(sensor, worst.Largest, ends[worst.Place], Math.Abs(errors[0]) + worst.Sampling + 0.5 * worst.Step,
        [
            .. sources.Names.Select((name, s) => new ReadingSource(name,
                s == sources.Own ? worst.Sensor : ErrorSources.Effect(s, draw => errors[draw])))
                .Append(new(reading.Name + " sampling", worst.Sampling))
                .Append(new(reading.Pin + " own errors", worst.Converter)).Append(new(reading.Pin + " quantisation", 0.5 * worst.Step))
                .Concat(hums.Select(h => new ReadingSource(h.Sensor + " hum", worst.Step * h.Counts)))
                .Append(new("nominal parts", Math.Max(Math.Abs(errors[0]), departs))),
        ]);
    }
}
