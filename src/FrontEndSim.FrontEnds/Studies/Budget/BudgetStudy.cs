using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>
/// How far the readings of a pin may be off, by a straight line (JCGM 100), by draws (JCGM 101) and over corners, before and
/// after a two-point calibration. Every value is solved by the engine.
/// </summary>
public static class BudgetStudy
{
    // A calibration whose readings rise by less than a tenth of what is wanted reads noise.
    private const double LeastRise = 0.1;

    private static readonly string[] Places = ["zero", "mid", "full"];

    /// <summary>Makes the budget of a pin.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="settings">Temperatures, calibration, draws; null for the defaults.</param>
    /// <param name="progress">Told now and then how far it is; may be null.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found for some draw.</exception>
    /// <exception cref="StudyProblemException">No sensor reaches the pin, nothing says what is wanted, or the calibration is
    /// impossible.</exception>
    public static BudgetResult Run(FrontEnd frontEnd, string pin, BudgetSettings? settings = null,
        IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default) => Run(new SolvedFrontEnd(frontEnd), pin, settings, progress, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string, BudgetSettings, IProgress{StudyProgress}, CancellationToken)"/>
    public static BudgetResult Run(SolvedFrontEnd solved, string pin, BudgetSettings? settings = null,
        IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        solved = solved.Reading(pin);
        var frontEnd = solved.FrontEnd;
        var s = (settings ?? new BudgetSettings()).For(frontEnd);
        var (low, high) = s.Calibration;
        if (!(low < high) || low < 0 || high > 1)
            throw new StudyProblemException(new(ProblemKind.CalibrationPlaces));
        if (s.Celsius.IsEmpty || s.Celsius.Any(c => !(c > -273.15)))
            throw new StudyProblemException(new(ProblemKind.BelowAbsoluteZero));
        var target = frontEnd.FindPin(pin);
        var sensor = MappingStudy.Source(frontEnd, target, s.Sensor);
        var wanted = solved.Wanted(target, sensor, cancel);
        var reading = new BudgetReading(solved, target, wanted, s, cancel);
        double rise = reading.CalibrationRise();
        if (!(rise >= LeastRise))
        {
            throw new StudyProblemException(new(ProblemKind.HardlyFollows, pin, wanted.Sensor, Quantity.Share(rise)));
        }
        var points = Points(frontEnd, s, reading.Inputs, reading.Errors, k => reading.Value(k % 3),
            (k, celsius) => reading.ValuePerCount(k % 3, celsius), progress, cancel);
        return new BudgetResult(wanted.Sensor, pin, wanted, reading.Unit, reading.SpanCounts, points,
            BudgetSources.Assumptions(frontEnd, target, s.Assumed) with { NoiseVolts = reading.NoiseVolts }, s)
        {
            CalibrationRise = rise,
            SensorUnit = sensor.UnitText,
        };
    }

    /// <summary>Passes each report on at once, on the thread that makes it.</summary>
    private sealed class DrawProgress(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }

    /// <summary>The errors at each temperature and place, as read and then as calibrated where there are six of them.</summary>
    internal static ImmutableArray<BudgetPoint> Points(FrontEnd frontEnd, BudgetSettings s, ImmutableArray<ErrorQuantity> inputs,
        Func<double, MeasurementFunction> errorsAt, Func<int, double> value, Func<int, double, double?> valuePerCount,
        IProgress<StudyProgress>? progress, CancellationToken cancel)
    {
        var points = ImmutableArray.CreateBuilder<BudgetPoint>();
        double[] temperatures = [.. s.Celsius.Append(frontEnd.Celsius).Distinct().Order()];
        for (int t = 0; t < temperatures.Length; t++)
        {
            double celsius = temperatures[t];
            cancel.ThrowIfCancellationRequested();
            var errors = errorsAt(celsius);
            Report(0, "contributions");
            var linear = LinearPropagation.Through(errors, inputs);
            Report(0.1, "corners");
            var worst = WorstCase.Of(errors, inputs, s.CornerSources);
            Report(0.4, "trials");
            var drawn = MonteCarlo.Propagate(errors, inputs, s.MonteCarlo,
                progress is null ? null : new DrawProgress(done => Report(0.4 + 0.6 * done, "trials")), cancel);
            for (int k = 0; k < linear.Length; k++)
            {
                points.Add(new(celsius, Places[k % 3], value(k), k >= 3, linear[k], drawn[k], worst[k])
                {
                    ValuePerCount = valuePerCount(k, celsius),
                });
            }

            void Report(double done, string what) =>
                progress?.Report(new((t + done) / temperatures.Length, $"{what} at {SiText.Format(celsius, "°C")}"));
        }
        return points.ToImmutable();
    }
}
