using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>Readings against prediction, and which single change of the circuit explains the difference best.</summary>
public static class CompareStudy
{
    // The search: a grid over the whole range, then ever closer about the best.
    private const int GridPoints = 61, ZoomPoints = 13, Zooms = 5;

    // The same where each point is a run in time.
    private const int FewGridPoints = 21, FewZoomPoints = 7;

    // A change that moves what is left by less does nothing.
    private const double Nothing = 1e-9;

    /// <summary>Compares.</summary>
    /// <param name="frontEnd">The front end as designed.</param>
    /// <param name="sensor">Name of the sensor that was set.</param>
    /// <param name="readings">What was read, at least one.</param>
    /// <param name="meter">The meter; null for one of 0.5 % and 10 Mohm.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">A sensor, node or pin is not there, or a pin does not convert.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static CompareResult Run(FrontEnd frontEnd, string sensor, IReadOnlyList<Reading> readings, BenchMeter? meter = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), sensor, readings, meter, progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string, IReadOnlyList{Reading}, BenchMeter, IProgress{StudyProgress}, CancellationToken)"/>
    public static CompareResult Run(SolvedFrontEnd solved, string sensor, IReadOnlyList<Reading> readings, BenchMeter? meter = null,
        IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        solved = solved.ReadingOf(sensor);
        var frontEnd = solved.FrontEnd;
        meter ??= new BenchMeter();
        foreach (string set in readings.Select(r => r.Sensor).OfType<string>().Append(sensor).Distinct())
            frontEnd.FindSensor(set);
        if (readings.Count == 0)
            throw new StudyProblemException(new(ProblemKind.NoReadings));
        if (readings.Select(r => r.Pin).OfType<string>().FirstOrDefault(p => frontEnd.FindPin(p).Converter is null) is { } plain)
            throw new StudyProblemException(new(ProblemKind.DoesNotConvert, plain));
        if (readings.Select(r => r.Computed).OfType<string>().FirstOrDefault(c => SensorOf(frontEnd, c) != sensor) is { } other)
            throw new StudyProblemException(new(ProblemKind.ReadingOfAnother, other, SensorOf(frontEnd, other))
            {
                Known = [sensor],
            });
        progress?.Report(new(0, "limits"));
        ComparePrediction Predicted(SolvedFrontEnd of) => new(of, solved, sensor, readings, meter, cancel);
        var prediction = Predicted(solved.WithoutLeakage());
        var (compared, sigma) = Limits(frontEnd, sensor, prediction, Predicted(solved), readings);
        double mismatch = Mismatch([.. compared.Select(c => c.Expected)], readings, sigma);
        progress?.Report(new(0.3, "fits"));
        var explanations = mismatch <= 0 ? [] : Explanations(solved, Predicted, prediction, sensor, readings, sigma, compared, meter)
            .Where(e => e.Left < 0.95 * mismatch).OrderBy(e => e.Left).ToImmutableArray();
        progress?.Report(new(1, "done"));
        bool assumes = frontEnd.Sensors.Any(s => s.Law is { NeedsAmbient: true }) && readings.Any(r => r.Celsius is null);
        return new(frontEnd.Title, sensor, compared, meter, mismatch, explanations)
        {
            SensorUnit = frontEnd.FindSensor(sensor).UnitText,
            AssumedCelsius = assumes ? frontEnd.Celsius : null,
            JunctionSensor = assumes ? CombinedStudy.Standing(solved, sensor).SensorValue.Keys.FirstOrDefault() : null,
        };
    }

    private static string SensorOf(FrontEnd frontEnd, string reading) => IsOverPeriods(frontEnd, reading)
        ? frontEnd.FindAlternatingReading(reading).Sensor : frontEnd.FindReading(reading).Sensor;

    private static bool IsOverPeriods(FrontEnd frontEnd, string? reading) => frontEnd.AlternatingReadings.Any(r => r.Name == reading);

    /// <summary>Every source of error alone, from limit to limit, added; a bound to first order.</summary>
    private static (ImmutableArray<ComparedReading> Compared, double[] Sigma) Limits(FrontEnd frontEnd, string sensor,
        ComparePrediction expectation, ComparePrediction prediction, IReadOnlyList<Reading> readings)
    {
        // What drifts is off by what the temperature makes of it.
        var taken = readings.Select(r => r.Celsius ?? frontEnd.Celsius).Distinct().ToDictionary(c => c, c =>
        {
            var of = new ErrorSources(frontEnd with { Celsius = c });
            return (Sources: of, Predicted: prediction.Of(of.Numbers, of.DrawsOfEachAlone, of.SetEachAlone));
        });
        double[] expected = expectation.Of([], 1, (_, _) => { })[0];
        var uncertain = prediction.Uncertainties(expected);
        // What a sensor that alternates is off by is of its amplitude, and stands with the instrument's error.
        string[] alternating = [.. frontEnd.Sensors.Where(s => s.Alternation is not null).Select(s => SensorLaw.OwnError(s.Name))];
        return (
        [
            .. readings.Select((reading, k) =>
            {
                bool overPeriods = IsOverPeriods(frontEnd, reading.Computed);
                var (sources, predicted) = taken[reading.Celsius ?? frontEnd.Celsius];
                var (_, low, high) = sources.Bound(draw =>
                    predicted[overPeriods && draw > 0 && alternating.Contains(sources.All[(draw - 1) / 2].Name) ? 0 : draw][k]);
                return new ComparedReading(reading, expected[k], low - uncertain[k].Error, high + uncertain[k].Error)
                {
                    SensorUnit = frontEnd.FindSensor(reading.Sensor ?? sensor).UnitText,
                };
            }),
        ], [.. uncertain.Select(u => u.Step)]);
    }

    private static IEnumerable<Explanation> Explanations(SolvedFrontEnd solved, Func<SolvedFrontEnd, ComparePrediction> predicted,
        ComparePrediction prediction, string sensor, IReadOnlyList<Reading> readings, double[] sigma,
        ImmutableArray<ComparedReading> compared, BenchMeter meter)
    {
        var frontEnd = solved.FrontEnd;
        // Nothing that a meter reads at rest shows a capacitance.
        bool overPeriods = readings.Any(r => IsOverPeriods(frontEnd, r.Computed));
        foreach (var suspect in CompareSuspects.Of(frontEnd, overPeriods))
        {
            if (Fit(suspect, prediction, readings, sigma) is not { } fit)
                continue;
            yield return suspect.Describe(fit.At, fit.Left);
        }
        foreach (var pin in frontEnd.Pins.Where(p => p.LeakageAmps != 0))
        {
            var suspect = CompareSuspects.Leaking(pin);
            var leaks = solved.With(frontEnd with { Pins = [.. frontEnd.Pins.Select(p => p == pin ? p : p with { LeakageAmps = 0 })] });
            if (Fit(suspect, predicted(leaks), readings, sigma) is { } fit)
                yield return suspect.Describe(fit.At, fit.Left);
        }
        // What measures a cold junction may be warmer or colder than that.
        foreach (string standing in CombinedStudy.Standing(solved, sensor).SensorValue.Keys)
        {
            var free = solved.With(frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => s.Name != standing || s.Law is not { } law ? s
                    : s with { Law = law with { OffsetError = 1, ProportionalError = 0 } })],
            });
            var suspect = CompareSuspects.OffItsJunction(frontEnd.FindSensor(standing));
            if (Fit(suspect, predicted(free.WithoutLeakage()), readings, sigma) is { } fit)
                yield return suspect.Describe(fit.At, fit.Left);
        }
        foreach (var fault in SingleFault.Of(frontEnd))
        {
            // What hangs on a pin alone rests where its leakage takes it.
            if ((LeftBy(fault, solved.WithoutLeakage()) ?? LeftBy(fault, solved)) is { } left)
                yield return CompareSuspects.Of(frontEnd, fault, left);
        }
        // The meter itself: all its voltages by one factor.
        var volts = compared.Select((c, k) => (c, k)).Where(c => c.c.Reading.IsVoltage).ToArray();
        double squares = volts.Sum(v => Math.Pow(v.c.Expected / sigma[v.k], 2));
        if (squares > 0)
        {
            double factor = volts.Sum(v => v.c.Expected * v.c.Reading.Value / (sigma[v.k] * sigma[v.k])) / squares;
            double left = Mismatch([.. compared.Select(c => c.Reading.IsVoltage ? c.Expected * factor : c.Expected)], readings, sigma);
            yield return new("meter", ExplanationKind.Meter, left,
                Math.Abs(factor - 1) <= meter.Accuracy)
            { Fitted = new(factor, Unit.None) };
        }

        // A circuit that has no rest with a fault explains no reading.
        double? LeftBy(SingleFault fault, SolvedFrontEnd of)
        {
            try
            {
                return Mismatch(predicted(new(fault.In(of.FrontEnd))).Of([], 1, (_, _) => { })[0], readings, sigma);
            }
            catch (Exception e) when (e is SolveException or CircuitException or StudyProblemException)
            {
                return null;
            }
        }
    }

    /// <summary>The coordinate that leaves least; null if no value in the range has a solution.</summary>
    private static (double At, double Left)? Fit(Suspect suspect, ComparePrediction prediction,
        IReadOnlyList<Reading> readings, double[] sigma)
    {
        double from = suspect.Low, to = suspect.High;
        (double At, double Left)? best = null;
        var (grid, zoom) = prediction.RunsInTime ? (FewGridPoints, FewZoomPoints) : (GridPoints, ZoomPoints);
        for (int round = 0; round <= Zooms; round++)
        {
            double[] at = SweepStudy.Grid(from, to, round == 0 ? grid : zoom);
            double[][] predicted;
            try
            {
                predicted = prediction.Of([suspect.Number], at.Length, (draw, numbers) => numbers[0] = suspect.Apply(numbers[0], at[draw]));
            }
            catch (SolveException)
            {
                return best;
            }
            double[] left = [.. predicted.Select(p => Mismatch(p, readings, sigma))];
            for (int k = 0; k < at.Length; k++)
            {
                if (best is null || left[k] < best.Value.Left)
                    best = (at[k], left[k]);
            }
            if (left.Max() - left.Min() <= Nothing * left.Max())
                return best;
            double step = at[1] - at[0];
            (from, to) = (Math.Max(suspect.Low, best!.Value.At - step), Math.Min(suspect.High, best.Value.At + step));
        }
        return best;
    }

    private static double Mismatch(double[] predicted, IReadOnlyList<Reading> readings, double[] sigma) =>
        Math.Sqrt(predicted.Select((p, k) => Math.Pow((readings[k].Value - p) / sigma[k], 2)).Average());
}
