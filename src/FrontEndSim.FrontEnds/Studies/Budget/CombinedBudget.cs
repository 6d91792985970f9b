using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>
/// How far what firmware computes from several pins may be off, in the sensor's unit, by the same propagations as for one pin. The
/// firmware's constants are those of nominal parts; a cold junction is as warm as the circuit.
/// </summary>
public static class CombinedBudget
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
        var s = (settings ?? new BudgetSettings()).For(solved.FrontEnd);
        var frontEnd = solved.FrontEnd;
        var combined = frontEnd.FindReading(reading);
        var sensor = frontEnd.FindSensor(combined.Sensor);
        Pin[] pins = [.. combined.Pins.Select(frontEnd.FindPin)];
        double[] codes = [.. pins.Select(p => p.Converter!.Codes)];
        double[] values = [sensor.Span.Low, sensor.Span.Middle, sensor.Span.High];
        var back = solved.Back(combined, cancel);
        var sources = new ErrorSources(frontEnd, s.Assumed);
        List<ErrorQuantity> inputs = [.. sources.All];
        double[] noise = [.. pins.Select(p => solved.Noise(p, sensor.Name, cancel).RmsVolts)];
        ConverterErrors[] own = [.. pins.Select(p => new ConverterErrors(p, inputs, isCalibrated: false))];
        for (int k = 0; k < pins.Length; k++)
        {
            own[k].AddStep();
            own[k].AddNoise(noise[k] / MappingStudy.CountVolts(frontEnd, pins[k]));
            own[k].AddStated();
        }
        double[] means = [.. inputs.Select(i => i.Distribution.Mean)];
        var points = BudgetStudy.Points(frontEnd, s, [.. inputs], ErrorsAt, k => values[k], (_, _) => 1, progress, cancel);
        return new BudgetResult(sensor.Name, reading, new WantedMapping(sensor.Name, sensor.Span, sensor.Span), sensor.UnitText,
            sensor.Span.Width, points, BudgetSources.Assumptions(frontEnd, pins[0], s.Assumed) with { NoiseVolts = noise[0] }, s)
        {
            IsOfReading = true,
            SensorUnit = sensor.UnitText,
        };

        MeasurementFunction ErrorsAt(double celsius)
        {
            var at = solved.AtCelsius(celsius);
            var standing = CombinedStudy.Junction(at, combined);
            ReadingsByDraw[] read =
            [
                .. pins.Select(p => new ReadingsByDraw(at.Reading(p.Name).Compiled(standing).PrepareTrials(sensor.Name, values,
                    sources.Numbers, [p.Node, .. p.Converter!.References], cancel: cancel), p, sources, celsius, cancel)),
            ];
            double[] warmer = [.. values.Select(v => sensor.SelfHeating(at.Rest(
                standing with { SensorValue = standing.SensorValue.SetItem(sensor.Name, v) }, cancel).Parts[sensor.Name].Watts))];
            return (draws, set) =>
            {
                double[][] drawn = ReadingsByDraw.Drawn(means, draws, set);
                double[][][] counts = [.. read.Select(r => r.Of(drawn))];
                return
                [
                    .. drawn.Select((x, draw) => values.Select((value, place) => back.Value([.. pins.Select((_, p) =>
                        Math.Clamp(counts[p][draw][place] + (own[p].StepAndNoise(x, 0) + own[p].Stated(x, counts[p][draw][place], 0)),
                            0, codes[p]))], codes) - value + warmer[place]).ToArray()),
                ];
            };
        }
    }
}
