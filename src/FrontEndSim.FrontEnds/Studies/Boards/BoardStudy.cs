using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Boards;

/// <summary>
/// How far readings are off on every board, or on a share of the boards, by the sources of error of the budget: on every board by
/// corners, on a share by trials, each of which is one board that has to hold all over the span and at all temperatures.
/// </summary>
internal static class BoardStudy
{
    // A calibration whose readings rise by less than a tenth of what is wanted reads noise.
    private const double LeastRise = 0.1;

    // Sources put to their limits together at most; the others are added in full.
    private const int CornerSources = 8;

    /// <summary>Finds it.</summary>
    /// <param name="solved">The front end, at the temperature at which boards are calibrated.</param>
    /// <param name="mapping">Its mapping.</param>
    /// <param name="target">What is asked of the boards.</param>
    /// <param name="inSensorUnit">Whether what firmware computes is judged, in the sensor's unit; else counts are.</param>
    /// <param name="over">The part of the span to look at; null for all of it.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found for some board.</exception>
    /// <exception cref="StudyProblemException">No calibration puts its readings right.</exception>
    public static BoardSpread Run(SolvedFrontEnd solved, MappingResult mapping, BoardTarget target, bool inSensorUnit, Span? over,
        CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var sensor = frontEnd.FindSensor(mapping.Sensor);
        var pin = frontEnd.FindPin(mapping.Pin);
        var back = inSensorUnit ? mapping.Back : null;
        var settings = new BudgetSettings();
        var part = over ?? sensor.Span;
        double[] places = Places(mapping, part, settings.Calibration, inSensorUnit);
        var reading = new BudgetReading(solved, pin, mapping.Wanted, settings, cancel, places, back);
        if (target.IsCalibrated && !(reading.CalibrationRise() >= LeastRise))
            throw new StudyProblemException(
                new(ProblemKind.HardlyFollows, pin.Name, sensor.Name, Quantity.Share(reading.CalibrationRise())));
        double[] celsius = [.. solved.Temperatures().Select(t => t.FrontEnd.Celsius)];
        // Hum is on every board, and its phase is anything.
        var hums = HumStudy.Run(solved, pin, cancel);
        double Cut(HumLeft h, double at) => pin.Converter is { } converter
            ? h.CutCounts(converter.Counts(mapping.Wanted.Ideal(at), frontEnd.Rails), converter.Codes) : 0;
        double Hum(HumLeft h, double at) => ((h.LeftCounts ?? 0) + Cut(h, at))
            * (back is null ? 1 : mapping.Points.MinBy(p => Math.Abs(p.SensorValue - at))!.ReadingStep ?? 0);
        double[] beside =
            [.. places.Select(p => OtherSensors.Effects(solved, pin, sensor, p, back, cancel).Sum(o => o.Effect)
                + hums.Sum(h => Hum(h, p)))];
        var (largest, temperature, place, trials) = target.Share is { } share
            ? OnShare(reading, target, share, celsius, beside, settings.MonteCarlo, cancel)
            : OnEvery(reading, target, celsius, beside, cancel);
        double[][] alone = Alone(reading, target, celsius[temperature], place);
        double nominal = alone[0][0];
        double Effect(double[] at) => Math.Abs(at[0] - nominal);
        return new(target, inSensorUnit ? mapping.SensorUnit : "counts", largest, places[place], celsius[temperature], Math.Abs(nominal),
        [
            .. reading.Inputs.Select((s, k) => new ReadingSource(Name(s), Math.Max(Effect(alone[1 + 2 * k]), Effect(alone[2 + 2 * k]))))
                .Concat(OtherSensors.Effects(solved, pin, sensor, places[place], back, cancel)
                    .Select(o => new ReadingSource($"{o.Sensor} {o.Of}", o.Effect)))
                .Concat(hums.Select(h => new ReadingSource(h.Sensor + " hum", Hum(h, places[place]))))
                .Append(new("nominal parts", Math.Abs(nominal)))
                .Where(s => s.Effect > 1e-3 * largest).OrderByDescending(s => s.Effect),
        ])
        {
            HasSensorError = sensor.HasOwnError,
            Trials = trials,
        };
    }

    private static string Name(ErrorQuantity source) => source is { Reading: { } which }
        ? $"{source.Name} of the {(which == CalibrationReading.Lower ? "lower" : "upper")} calibration reading" : source.Name;

    /// <summary>Both ends, the middle, and where nominal parts are furthest off, as read and by the line of the calibration.</summary>
    private static double[] Places(MappingResult mapping, Span part, CalibrationPlaces calibration, bool inSensorUnit)
    {
        var inside = mapping.Points.Where(p => p.SensorValue >= part.Low && p.SensorValue <= part.High).ToArray();
        double Error(MappingPoint p) => inSensorUnit ? p.ReadingError ?? 0 : p.ErrorCounts;
        double Near(double fraction) => Error(mapping.Points.MinBy(p => Math.Abs(p.SensorValue - mapping.Wanted.Input.At(fraction)))!);
        double first = Near(calibration.Low), slope = (Near(calibration.High) - first) / (calibration.High - calibration.Low);
        double Left(MappingPoint p) => Math.Abs(Error(p) - first
            - slope * ((p.SensorValue - mapping.Wanted.Input.Low) / mapping.Wanted.Input.Width - calibration.Low));
        double[] worst = inside.Length == 0 ? []
            : [inside.MaxBy(p => Math.Abs(Error(p)))!.SensorValue, inside.MaxBy(Left)!.SensorValue];
        return [.. worst.Concat([part.Low, part.Middle, part.High]).Distinct().Order()];
    }

    private static (double, int, int, int) OnEvery(BudgetReading reading, BoardTarget target, double[] celsius, double[] beside,
        CancellationToken cancel)
    {
        var worst = celsius.SelectMany((c, t) =>
        {
            cancel.ThrowIfCancellationRequested();
            return WorstCase.Of(reading.Errors([c], [target.IsCalibrated]), reading.Inputs, CornerSources)
                .Select((w, k) => (Largest: Largest(w.Low, w.High) + beside[k], t, k));
        }).MaxBy(w => Sortable(w.Largest));
        return (worst.Largest, worst.t, worst.k, 0);
    }

    private static (double, int, int, int) OnShare(BudgetReading reading, BoardTarget target,
        double share, double[] celsius, double[] beside,
        MonteCarloSettings effort, CancellationToken cancel)
    {
        var errors = reading.Errors(celsius, [target.IsCalibrated]);
        // A board holds if it holds everywhere: first the largest of all its errors, then each.
        var drawn = MonteCarlo.Propagate((draws, inputs) =>
        {
            double[][] each = errors(draws, inputs);
            return [.. each.Select(e => (double[])[e.Select((x, k) => Math.Abs(x) + beside[k % beside.Length]).Max(), .. e])];
        }, reading.Inputs, effort with { Probability = 2 * share - 1 }, cancel: cancel);
        int at = Enumerable.Range(1, drawn.Length - 1)
            .MaxBy(k => Sortable(Largest(drawn[k].Interval.Low, drawn[k].Interval.High) + beside[(k - 1) % beside.Length])) - 1;
        return (drawn[0].Interval.High, at / beside.Length, at % beside.Length, drawn[0].Trials);
    }

    private static double Largest(double low, double high) => Math.Max(Math.Abs(low), Math.Abs(high));

    // What is no number is found by the first who asks for the largest.
    private static double Sortable(double x) => double.IsNaN(x) ? double.PositiveInfinity : x;

    /// <summary>The error at a place by draw: nominal, then each source at its lower and at its upper limit.</summary>
    private static double[][] Alone(BudgetReading reading, BoardTarget target, double celsius, int place)
    {
        double[][] all = reading.Errors([celsius], [target.IsCalibrated])(1 + 2 * reading.Inputs.Length, (draw, values) =>
        {
            if (draw > 0)
                values[(draw - 1) / 2] = draw % 2 == 1 ? reading.Inputs[(draw - 1) / 2].Distribution.Low
                    : reading.Inputs[(draw - 1) / 2].Distribution.High;
        });
        return [.. all.Select(a => (double[])[a[place]])];
    }
}
