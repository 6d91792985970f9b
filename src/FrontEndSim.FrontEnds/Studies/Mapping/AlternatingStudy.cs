using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What firmware makes of a sensor that alternates, with nominal parts.</summary>
/// <param name="Reading">Name of the reading.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="SensorUnit">Symbol of the sensor's unit.</param>
/// <param name="Said">How large what is measured is said to be; null for what itself stands still and is excited.</param>
/// <param name="Taken">What firmware makes of the codes.</param>
/// <param name="Factor">What a count of that is at most, in the sensor's unit.</param>
/// <param name="Passes">Gain of the circuit at the sensor's frequency over the DC gain; null where the pin does not follow at the
/// operating point, and the circuit was followed in time.</param>
/// <param name="Points">Amplitudes over the span.</param>
public sealed record AlternatingResult(string Reading, string Pin, string SensorUnit, Amplitude? Said, Amplitude Taken, double Factor,
    double? Passes, ImmutableArray<AlternatingPoint> Points)
{
    /// <summary>What firmware makes of its counts.</summary>
    public required CountsBack Back { get; init; }
}

/// <summary>What firmware makes of counts: a polynomial in (counts − Middle)/Half.</summary>
/// <param name="Coefficients">Lowest power first, in the sensor's unit.</param>
/// <param name="Middle">Counts.</param>
/// <param name="Half">Counts.</param>
public sealed record CountsBack(ImmutableArray<double> Coefficients, double Middle, double Half)
{
    /// <summary>A straight line.</summary>
    /// <param name="offset">At no counts, in the sensor's unit.</param>
    /// <param name="factor">Of each count.</param>
    public static CountsBack Line(double offset, double factor) => new([offset, factor], 0, 1);

    /// <summary>Whether it is a straight line.</summary>
    public bool IsLine => Coefficients.Length == 2;

    /// <summary>What is measured, in the sensor's unit.</summary>
    /// <param name="counts">Counts, without rounding.</param>
    public double Value(double counts)
    {
        double t = (counts - Middle) / Half, sum = 0;
        for (int k = Coefficients.Length - 1; k >= 0; k--)
            sum = sum * t + Coefficients[k];
        return sum;
    }

    /// <summary>What one count more makes there, as a magnitude.</summary>
    /// <param name="counts">Counts.</param>
    public double Step(double counts) => Math.Abs(Value(counts + 0.5) - Value(counts - 0.5));

    /// <summary>Whether two are alike, coefficient by coefficient.</summary>
    public bool Equals(CountsBack? other) => other is not null && Coefficients.SequenceEqual(other.Coefficients) && Middle == other.Middle
        && Half == other.Half;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Coefficients.Length, Middle, Half);
}

/// <summary>One amplitude, or one value of what is excited.</summary>
/// <param name="SensorValue">How large what is measured is, in the sensor's unit.</param>
/// <param name="Counts">What firmware makes of the codes, counts, without rounding.</param>
/// <param name="LowestCode">The lowest code of a period.</param>
/// <param name="HighestCode">The highest.</param>
/// <param name="ReadingError">What it computes less what is measured, in the sensor's unit, the converter's step left out.</param>
public sealed record AlternatingPoint(double SensorValue, double Counts, double LowestCode, double HighestCode, double ReadingError);

/// <summary>
/// How codes taken over whole periods tell the amplitude of a sine. The circuit is taken as its curve at the operating point, of the sine
/// as the circuit lets it through at its frequency: right where what bends the curve follows at once. Where the pin does not follow at the
/// operating point (a charge, a capacitance, a rectifier ahead of it) or the codes are averaged, the circuit is followed in time (<see
/// cref="TimedStudy"/>).
/// </summary>
public static class AlternatingStudy
{
    private const int Places = 11;

    // What a diode that blocks does not carry, A.
    private const double ConductsAmps = 1e-6;

    /// <summary>The reading of nominal parts at the front end's temperature.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">The pin does not follow the sensor, or turns back.</exception>
    public static AlternatingResult Run(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel = default)
    {
        if (NeedsTime(solved, reading, cancel))
            return TimedStudy.Run(solved, reading, cancel);
        var sine = new SineWave(solved, reading, cancel);
        double factor = Factor(solved, reading, cancel);
        var curve = Followed(solved, sine, cancel);
        return new(reading.Name, reading.Pin, sine.Sensor.UnitText, sine.Wave.Said, reading.Taken, factor, sine.Passes,
        [
            .. SweepStudy.Grid(sine.Wave.Amplitudes.Low, sine.Wave.Amplitudes.High, Places).Select(value =>
            {
                double counts = sine.Mean(curve, value), peak = sine.Passes * sine.Wave.PeakOf(value);
                double[] ends = [curve.At(-peak), curve.At(peak)];
                return new AlternatingPoint(value, counts, sine.Converter.Code(ends.Min()), sine.Converter.Code(ends.Max()),
                    factor * counts - value);
            }),
        ])
        {
            Back = CountsBack.Line(0, factor),
        };
    }

    /// <summary>Whether the pin's curve at the operating point does not tell what it reads.</summary>
    internal static bool NeedsTime(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var sensor = solved.FrontEnd.FindSensor(reading.Sensor);
        if (!sensor.ShowsAtRest || reading.Taken == Amplitude.Average)
            return true;
        // A diode that conducts in some instants, and goes on for a while in others, has no curve at rest that tells.
        bool Conducts(DiodePart diode) => new[] { SpanPlace.Low, SpanPlace.High }.Any(place =>
            Math.Abs(solved.Rest(place, cancel).Parts[diode.Name].Amps) > ConductsAmps);
        if (TimedSources.Storing(solved.FrontEnd, sensor.Alternation?.Hertz ?? 0).Any(Conducts))
            return true;
        var reference = solved.Reference();
        return SineWave.Follows(reference, reading, cancel) is not { } sine || InstantCurve.Of(reference, sine, cancel) is null;
    }

    /// <summary>What firmware multiplies its counts with: the largest amplitude over what nominal parts make of it.</summary>
    internal static double Factor(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var reference = solved.Reference();
        var sine = new SineWave(reference, reading, cancel);
        double largest = sine.Wave.Amplitudes.High;
        return largest / sine.Mean(Followed(reference, sine, cancel), largest);
    }

    /// <summary>
    /// The worst of all boards at the temperature of the front end: all tolerances in their worst case together, the samples anywhere in
    /// the period, the frequency at either end of its tolerance, half a count of the converter. What a converter is off by all over its
    /// range goes with the mean.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="over">The amplitudes to look at; null for all.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">The pin does not follow the sensor, or turns back.</exception>
    public static ReadingSpread Spread(SolvedFrontEnd solved, AlternatingReading reading, Span? over = null,
        CancellationToken cancel = default)
    {
        if (NeedsTime(solved, reading, cancel))
            return TimedStudy.Spread(solved, reading, over, cancel);
        var frontEnd = solved.FrontEnd;
        var sine = new SineWave(solved, reading, cancel);
        var (sensor, wave, converter) = (sine.Sensor, sine.Wave, sine.Converter);
        double factor = Factor(solved, reading, cancel);
        var span = over ?? wave.Amplitudes;
        double[] values = SweepStudy.Grid(span.Low, span.High, Places);
        double[] instants = sine.Grid();
        var sources = new ErrorSources(frontEnd);
        // What the sensor itself may be off by is of its amplitude and not of its instants.
        string ownError = SensorLaw.OwnError(sensor.Name);
        int own = sources.All.Select((s, k) => (s, k)).Where(x => x.s.Name == ownError).Select(x => x.k).DefaultIfEmpty(-1).First();
        string[] nodes = [.. converter.References.Prepend(sine.Pin.Node).Distinct()];
        var trials = solved.Compiled().PrepareTrials(sensor.Name, instants, sources.Numbers, nodes, cancel: cancel);

        double[][] alone = Errors(sources.DrawsOfEachAlone, sources.SetEachAlone);
        double[][] corners = [.. Enumerable.Range(0, 2 * values.Length).Select(c =>
        {
            double[] corner = sources.Corner(c % 2 == 0, draw => alone[draw][c / 2]);
            if (own >= 0)
                corner[own] = sources.All[own].Distribution.Mean;
            return corner;
        })];
        double[][] together = Errors(corners.Length, (draw, numbers) => sources.SetAll(corners[draw], frontEnd.Celsius, numbers));
        var nominal = Followed(solved, sine, cancel);
        // What tolerances change of the gain at the sensor's frequency, beyond what they change at rest.
        double loose = LoosePart.Sum(frontEnd,
            moved => Math.Abs(sine.PassedAt(solved.With(moved), wave.Hertz, cancel) / sine.Passes - 1));
        var hums = Hums(solved, sine.Pin, reading, cancel);
        double hum = factor * hums.Sum(h => h.Counts);
        var worst = Enumerable.Range(0, values.Length).Select(k =>
        {
            double value = values[k], mean = sine.Mean(nominal, value);
            double sampling = factor * sine.Furthest(nominal, value, mean, cancel);
            double converters = factor * ((converter.GainErrorCounts ?? 0) / converter.Codes * mean + (converter.LinearityCounts ?? 0));
            double sensors = sensor.Law is { } law ? law.OffsetError / Alternation.Crest(wave.Said) + law.ProportionalError * value : 0;
            double parts = loose * value, step = 0.5 * factor;
            double off = Math.Max(Math.Abs(together[2 * k][k]), Math.Abs(together[2 * k + 1][k]));
            return (Place: k, Sampling: sampling, Converter: converters, Sensor: sensors, Parts: parts, Step: step,
                Largest: off + sampling + converters + sensors + parts + hum + step);
        }).MaxBy(w => w.Largest);
        int at = worst.Place;
        return ReadingSpread.Of(sensor, worst.Largest, values[at], Math.Abs(alone[0][at]) + worst.Sampling + worst.Step,
        [
            .. sources.All.Select((s, k) => new ReadingSource(s.Name, k == own ? worst.Sensor
                    : ErrorSources.Effect(k, draw => alone[draw][at])))
                .Append(new(reading.Name + " sampling", worst.Sampling))
                .Append(new(sensor.Name + " attenuation", worst.Parts))
                .Append(new(reading.Pin + " own errors", worst.Converter)).Append(new(reading.Pin + " quantisation", worst.Step))
                .Concat(hums.Select(h => new ReadingSource(h.Sensor + " hum", factor * h.Counts)))
                .Append(new("nominal parts", Math.Abs(alone[0][at]))),
        ]);

        double[][] Errors(int draws, TrialNumbers set)
        {
            var drawn = trials.Run(draws, set, cancel: cancel);
            return
            [
                .. Enumerable.Range(0, draws).Select(d =>
                {
                    var curve = new InstantCurve(instants, [.. instants.Select((_, k) =>
                        converter.Counts(drawn.Voltage(d, sine.Pin.Node)[k], n => drawn.Voltage(d, n)[k]))], converter.Codes);
                    return values.Select(v => factor * sine.Mean(curve, v) - v).ToArray();
                }),
            ];
        }
    }

    /// <summary>What the hum of each sensor's line adds to a reading at most, counts: where it stands in phase with what is measured, or
    /// beats with it.</summary>
    internal static ImmutableArray<(string Sensor, double Counts)> Hums(SolvedFrontEnd solved, Pin pin, AlternatingReading reading,
        CancellationToken cancel) => [.. HumStudy.Run(solved, pin, cancel).Select(h => (h.Sensor,
            h.PinVolts / MappingStudy.CountVolts(solved.FrontEnd, pin) / Alternation.Crest(reading.Taken)))];

    /// <summary>The curve of a pin that follows its sensor.</summary>
    /// <exception cref="StudyProblemException">It does not.</exception>
    internal static InstantCurve Followed(SolvedFrontEnd solved, SineWave sine, CancellationToken cancel) =>
        InstantCurve.Of(solved, sine, cancel) ?? throw new StudyProblemException(
            new(ProblemKind.AmplitudeNotTold, sine.Pin.Name, sine.Sensor.Name));
}
