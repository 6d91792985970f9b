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
        var back = CombinedBack.Of(solved, combined, cancel);
        var sources = new ErrorSources(frontEnd, s.Assumed);
        List<ErrorQuantity> inputs = [.. sources.All];
        double[] noise = [.. pins.Select(p => solved.Noise(p, sensor.Name, cancel).RmsVolts)];
        ConverterErrors[] own =
            [.. pins.Select((p, k) => ConverterErrors.Added(p, noise[k] / MappingStudy.CountVolts(frontEnd, p), inputs))];
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
                    sources.Numbers, [p.Node, .. p.Converter!.References], cancel), p, sources, celsius, cancel)),
            ];
            double[] warmer = [.. values.Select(v => sensor.SelfHeating(at.Rest(
                standing with { SensorValue = standing.SensorValue.SetItem(sensor.Name, v) }, cancel).Parts[sensor.Name].Watts))];
            return (draws, set) =>
            {
                var drawn = new double[draws][];
                for (int draw = 0; draw < draws; draw++)
                {
                    drawn[draw] = [.. means];
                    set(draw, drawn[draw]);
                }
                double[][][] counts = [.. read.Select(r => r.Of(drawn))];
                return
                [
                    .. drawn.Select((x, draw) => values.Select((value, place) => back.Value([.. pins.Select((_, p) =>
                        Math.Clamp(counts[p][draw][place] + own[p].Of(x, counts[p][draw][place]), 0, codes[p]))], codes)
                            - value + warmer[place]).ToArray()),
                ];
            };
        }
    }

    /// <summary>Where a pin's own errors stand among the sources; −1 for one that it has not.</summary>
    private sealed record ConverterErrors(double Codes, int Quantisation, int Noise, int Offset, int Gain, int Linearity)
    {
        public static ConverterErrors Added(Pin pin, double noiseCounts, List<ErrorQuantity> inputs)
        {
            var converter = pin.Converter!;
            return new(converter.Codes, Add("quantisation", new RectangularInput(-0.5, 0.5), ErrorKind.Quantisation),
                noiseCounts > 0 ? Add("noise", new NormalInput(0, noiseCounts), ErrorKind.Noise) : -1,
                Limits("offset error", converter.OffsetErrorCounts), Limits("gain error", converter.GainErrorCounts),
                Limits("linearity", converter.LinearityCounts));

            int Limits(string name, double? either) =>
                either is > 0 ? Add(name, new RectangularInput(-either.Value, either.Value), ErrorKind.Converter) : -1;

            int Add(string name, InputDistribution distribution, ErrorKind kind)
            {
                inputs.Add(new(pin.Name + " " + name, distribution, kind));
                return inputs.Count - 1;
            }
        }

        /// <summary>What they add to a reading, counts.</summary>
        public double Of(double[] x, double counts) => At(x, Quantisation) + At(x, Noise) + At(x, Offset) + At(x, Gain) * counts / Codes
            + At(x, Linearity);

        private static double At(double[] x, int place) => place < 0 ? 0 : x[place];
    }
}
