using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>How far what firmware computes from several pins may be off what is measured.</summary>
public static class CombinedStudy
{
    private const int Places = 21;

    /// <summary>
    /// The worst of all boards at the temperature of the front end: all tolerances of parts, rails, sensors and converters in their worst
    /// case together, and half a step of each converter. A cold junction is as warm as the circuit.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="over">The part of the span to look at; null for all of it.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found for some corner.</exception>
    /// <exception cref="StudyProblemException">The reading does not follow its sensor.</exception>
    public static ReadingSpread Spread(SolvedFrontEnd solved, CombinedReading reading, Span? over = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var sensor = frontEnd.FindSensor(reading.Sensor);
        Pin[] pins = [.. reading.Pins.Select(frontEnd.FindPin)];
        double[] codes = [.. pins.Select(p => p.Converter!.Codes)];
        var back = solved.Back(reading, cancel);
        var span = over ?? sensor.Span;
        double[] values = SweepStudy.Grid(span.Low, span.High, Places);
        var sources = new ErrorSources(frontEnd);
        string[] nodes = [.. pins.SelectMany(p => p.Converter!.References.Append(p.Node)).Distinct()];
        // Pins behind a multiplexer are read one after the other.
        SolvedFrontEnd[] read = [.. pins.Select(p => solved.Reading(p.Name))];

        double[][][] alone = Draw(sources.DrawsOfEachAlone, sources.SetEachAlone);
        double[] Errors(double[][] counts) => [.. values.Select((v, i) => back.Value(counts[i], codes) - v)];
        double[][] errors = [.. alone.Select(Errors)];
        double[][] corners = [.. from i in Enumerable.Range(0, values.Length)
                              from upwards in new[] { true, false }
                              select sources.Corner(upwards, draw => errors[draw][i])];
        double[][] together = [.. Draw(corners.Length, (draw, numbers) => sources.SetAll(corners[draw], frontEnd.Celsius, numbers))
            .Select(Errors)];
        var points = solved.Compiled(Junction(solved, reading)).Sweep(sensor.Name, values, cancel: cancel).Points;
        var worst = Enumerable.Range(0, values.Length).Select(i =>
        {
            // What a converter is off by, and half of its step, at each pin by itself.
            double[] steps = [.. pins.Select((_, k) => back.Step(alone[0][i], codes, k))];
            double[] own = [.. pins.Select((p, k) => steps[k] * p.Converter!.OwnErrorCounts(alone[0][i][k]))];
            double warmer = sensor.SelfHeating(points[i].Parts[sensor.Name].Watts);
            double off = Math.Max(Math.Abs(together[2 * i][i] + warmer), Math.Abs(together[2 * i + 1][i] + warmer));
            return (Place: i, Steps: steps, Own: own, Warmer: warmer, Largest: off + own.Sum() + 0.5 * steps.Sum());
        }).MaxBy(w => w.Largest);
        int at = worst.Place;
        return ReadingSpread.Of(sensor, worst.Largest, values[at], Math.Abs(errors[0][at] + worst.Warmer) + 0.5 * worst.Steps.Sum(),
        [
            .. sources.All.Select((s, k) => new ReadingSource(s.Name, ErrorSources.Effect(k, draw => errors[draw][at])))
                .Concat(pins.Select((p, k) => new ReadingSource(p.Name + " own errors", worst.Own[k])))
                .Concat(pins.Select((p, k) => new ReadingSource(p.Name + " quantisation", 0.5 * worst.Steps[k])))
                .Append(new(sensor.Name + " self-heating", Math.Abs(worst.Warmer))).Append(new("nominal parts", Math.Abs(errors[0][at]))),
        ]);

        // By draw, place and pin.
        double[][][] Draw(int draws, TrialNumbers set)
        {
            var drawn = read.Distinct().ToDictionary(r => r, r => r.Compiled(Junction(solved, reading))
                .SweepTrials(sensor.Name, values, sources.Numbers, draws, set, nodes, cancel: cancel));
            return [.. Enumerable.Range(0, draws).Select(d => values.Select((_, i) => pins.Select((p, k) => p.Converter!.Counts(
                drawn[read[k]].Voltage(d, p.Node)[i], n => drawn[read[k]].Voltage(d, n)[i])).ToArray()).ToArray())];
        }
    }

    /// <summary>What stands while a sensor is set: the cold junction of a thermocouple, where a pin measures it, is as warm as the
    /// circuit.</summary>
    internal static Scenario Standing(SolvedFrontEnd solved, string sensor) => solved.FrontEnd.Readings
        .Where(r => r.Sensor == sensor).Select(r => Junction(solved, r)).FirstOrDefault(s => !s.SensorValue.IsEmpty) ?? new();

    /// <summary>The sensor of a cold junction at the temperature of the circuit.</summary>
    internal static Scenario Junction(SolvedFrontEnd solved, CombinedReading reading)
    {
        var frontEnd = solved.FrontEnd;
        if (reading.Formula is not null || MappingStudy.SensorOf(frontEnd, frontEnd.FindPin(reading.Pins[1])) is not { } junction)
            return new();
        double celsius = Math.Clamp(frontEnd.Celsius, junction.Span.Low, junction.Span.High);
        return new() { SensorValue = ImmutableDictionary<string, double>.Empty.Add(junction.Name, celsius) };
    }
}
