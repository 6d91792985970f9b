using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>
/// How far what firmware computes may be off what is measured on any board: with all tolerances of parts, rails, sensor and converter in
/// their worst case together, and half a step of the converter. The firmware's constants are those of nominal parts. Noise and settling
/// are left to other studies.
/// </summary>
/// <param name="Unit">Symbol of the sensor's unit, in which all of these are.</param>
/// <param name="Largest">Largest error, as a magnitude.</param>
/// <param name="LargestAt">Where that is.</param>
/// <param name="Nominal">The error of nominal parts there, half a step included, as a magnitude.</param>
/// <param name="Sources">What makes it so there, each alone, the largest first.</param>
public sealed record ReadingSpread(string Unit, double Largest, double LargestAt, double Nominal, ImmutableArray<ReadingSource> Sources)
{
    /// <summary>Whether the file says what the sensor itself may be off by; if not it is taken to be exact.</summary>
    public bool HasSensorError { get; init; }

    /// <summary>From what each source makes of it, of which those of a thousandth of it and less are left out.</summary>
    internal static ReadingSpread Of(Sensor sensor, double largest, double largestAt, double nominal, IEnumerable<ReadingSource> sources) =>
        new(sensor.UnitText, largest, largestAt, nominal,
            [.. sources.Where(s => s.Effect > 1e-3 * largest).OrderByDescending(s => s.Effect)])
        { HasSensorError = sensor.HasOwnError };

    // Places over the span at which the worst corner is looked for.
    private const int Places = 21;

    /// <summary>Finds it; null where the code does not follow the sensor.</summary>
    /// <param name="solved">The front end, at the temperature that is judged.</param>
    /// <param name="mapping">Its mapping.</param>
    /// <param name="over">The part of the span to look at; null for all of it.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found for some corner.</exception>
    internal static ReadingSpread? Of(SolvedFrontEnd solved, MappingResult mapping, Span? over, CancellationToken cancel = default)
    {
        if (mapping.Back is not { } back || (over is { } part ? mapping.ReadingOver(part) : mapping.Reading) is not { } nominal)
            return null;
        var frontEnd = solved.FrontEnd;
        var sensor = frontEnd.FindSensor(mapping.Sensor);
        var pin = frontEnd.FindPin(mapping.Pin);
        var converter = pin.Converter!;
        double celsius = frontEnd.Celsius;
        var span = over ?? sensor.Span;
        double[] values = [.. SweepStudy.Grid(span.Low, span.High, Places).Append(nominal.LargestAt).Distinct().Order()];
        var sources = new ErrorSources(frontEnd);
        string[] nodes = [.. converter.References.Prepend(pin.Node).Distinct()];
        var trials = solved.Compiled().PrepareTrials(sensor.Name, values, sources.Numbers, nodes, solved.Beside(cancel), cancel);

        var others = values.Select(v => OtherSensors.Effects(solved, pin, sensor, v, back, cancel)).ToArray();

        var hums = HumStudy.Run(solved, pin, cancel);

        // What each source does alone tells which end of it is the worse one at each place, either way.
        double[][] alone = Errors(sources.DrawsOfEachAlone, sources.SetEachAlone);
        var corners = Enumerable.Range(0, 2 * values.Length).Select(c => sources.Corner(c % 2 == 0, draw => alone[draw][c / 2])).ToArray();
        double[][] together = Errors(corners.Length, (draw, numbers) => sources.SetAll(corners[draw], celsius, numbers));
        var worst = Enumerable.Range(0, values.Length).Select(k =>
        {
            double step = back.Step(Counts(k), celsius), own = converter.OwnErrorCounts(Counts(k));
            double warmer = sensor.HeatsItself ? sensor.SelfHeating(solved.Rest(Standing(k), cancel).Parts[sensor.Name].Watts) : 0,
                beside = others[k].Sum(o => o.Effect);
            double off = Math.Max(Math.Abs(together[2 * k][k] + warmer), Math.Abs(together[2 * k + 1][k] + warmer));
            double hum = hums.Sum(h => Hum(h, k));
            return (Place: k, Step: step, Own: own * step, Warmer: warmer, Largest: off + beside + (hum + own + 0.5) * step);
        }).MaxBy(w => w.Largest);
        int at = worst.Place;
        return Of(sensor, worst.Largest, values[at], Math.Abs(alone[0][at] + worst.Warmer) + 0.5 * worst.Step,
        [
            .. sources.All.Select((s, k) => new ReadingSource(s.Name, ErrorSources.Effect(k, draw => alone[draw][at])))
                .Concat(others[at].Select(o => new ReadingSource($"{o.Sensor} {o.Of}", o.Effect)))
                .Concat(hums.Select(h => new ReadingSource(h.Sensor + " hum", Hum(h, at) * worst.Step)))
                    .Append(new(pin.Name + " own errors", worst.Own))
                .Append(new(sensor.Name + " self-heating", Math.Abs(worst.Warmer)))
                    .Append(new(pin.Name + " quantisation", 0.5 * worst.Step)).Append(new("nominal parts", Math.Abs(alone[0][at]))),
        ]);

        double Hum(HumLeft hum, int place) => (hum.LeftCounts ?? 0) + hum.CutCounts(Counts(place), converter.Codes);

        double Counts(int place) => converter.Counts(mapping.Wanted.Ideal(values[place]), frontEnd.Rails);

        Scenario Standing(int place) => new() { SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, values[place]) };

        double[][] Errors(int draws, TrialNumbers set)
        {
            var drawn = trials.Run(draws, set, cancel: cancel);
            return
            [
                .. Enumerable.Range(0, draws).Select(d => Enumerable.Range(0, values.Length).Select(k =>
                    back.Value(converter.Counts(drawn.Voltage(d, pin.Node)[k], n => drawn.Voltage(d, n)[k]), celsius) - values[k])
                        .ToArray()),
            ];
        }
    }
}

/// <summary>What makes a reading wrong.</summary>
/// <param name="Name">What it is: "bath R0 tolerance".</param>
/// <param name="Effect">What it does alone, in the sensor's unit, as a magnitude.</param>
public sealed record ReadingSource(string Name, double Effect);
