using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.LiveBench;

/// <summary>The operating point with the knobs where they stand.</summary>
internal sealed record RestOnBench
{
    private CompiledCircuit? _compiled;
    private Scenario? _others;
    private SolvedFrontEnd? _solved;
    private (Pin Pin, Sensor Sensor)[] _mapped = [];

    /// <summary>The solution; null where there is none.</summary>
    public OperatingPoint? Point { get; private init; }

    /// <summary>Why there is none, in words; empty where there is one.</summary>
    public string Problem { get; private init; } = "";

    /// <summary>How each mapped pin reads its sensor.</summary>
    public ImmutableArray<MappingResult> Readings { get; private init; } = [];

    /// <summary>The voltage of each node, as it is written.</summary>
    public ImmutableDictionary<string, string> Volts { get; private init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>How near each part is to a rating.</summary>
    public ImmutableDictionary<string, Load> Loads { get; private init; } = ImmutableDictionary<string, Load>.Empty;

    /// <summary>Solves the front end; what was compiled for an earlier turn of the same knob is used again.</summary>
    public static RestOnBench Of(FrontEnd frontEnd, Scenario scenario, RestOnBench? earlier)
    {
        try
        {
            // What firmware is made for was solved with the first turn.
            bool isSameCircuit = earlier?._solved is { } before && before.FrontEnd == frontEnd;
            (Pin Pin, Sensor Sensor)[] mapped = isSameCircuit ? earlier!._mapped : [.. MappingStudy.Mapped(frontEnd)
                .Select(p => (p, frontEnd.Sensors.First(s => MappingStudy.Maps(frontEnd, p, s))))];
            // One sensor is turned at a time: the others are part of what is compiled.
            string? turned = mapped.Length > 0 ? mapped[0].Sensor.Name : frontEnd.Sensors.FirstOrDefault()?.Name;
            var others = turned is null ? scenario : scenario with { SensorValue = scenario.SensorValue.Remove(turned) };
            bool isSame = earlier?._others is { } same && Same(same, others);
            var compiled = isSame && earlier?._compiled is { } kept ? kept : frontEnd.ToCircuit(others).Compile();
            var solved = isSameCircuit ? earlier!._solved! : new SolvedFrontEnd(frontEnd).Settling();
            double At(Sensor sensor) => scenario.SensorValue.GetValueOrDefault(sensor.Name, sensor.Span.Middle);
            // From where the knob stood before, and at first from where the circuit settles to in time.
            var near = earlier?.Point ?? (solved.Settled(scenario) is [var settled, ..] ? settled : null);
            var sweep = turned is null ? null : compiled.Sweep(turned, [At(frontEnd.FindSensor(turned))], false, near, default);
            var point = sweep?.Points[0] ?? compiled.SolveOperatingPoint(near, default);
            MappingResult Reading(Pin pin, Sensor sensor)
            {
                // A multiplexer selects the channel of what is read.
                if (pin.Channel is not null)
                {
                    var selecting = solved.ReadingOf(sensor.Name);
                    var channel = selecting.FrontEnd.ToCircuit(scenario with { SensorValue = scenario.SensorValue.Remove(sensor.Name) });
                    return MappingStudy.Of(selecting, pin, sensor, channel.Compile().Sweep(sensor.Name, [At(sensor)]));
                }
                return MappingStudy.Of(solved, pin, sensor, sensor.Name == turned ? sweep! : sweep!.As(sensor.Name, At(sensor)));
            }
            return new RestOnBench
            {
                _compiled = compiled,
                _others = others,
                _solved = solved,
                _mapped = mapped,
                Point = point,
                Readings = [.. mapped.Select(m => Reading(m.Pin, m.Sensor))],
                Volts = point.Nodes.ToImmutableDictionary(n => n.Key, n => Figures.Volts(n.Value, 3)),
                Loads = frontEnd.AllParts.ToImmutableDictionary(p => p.Name, p =>
                    BenchPage.LoadOf(p.Ratings(frontEnd.Celsius).Select(r => RatingStress.At(r, point)),
                    p.Nodes.Length == 2 && point.Parts.TryGetValue(p.Name, out var reading) ? reading.Amps : null)),
            };
        }
        catch (Exception e) when (Bench.IsOfTheCircuit(e))
        {
            return new RestOnBench { Problem = "no solution: " + Bench.Words(e) };
        }
    }

    private static bool Same(Scenario a, Scenario b) => a.SensorValue.Count == b.SensorValue.Count
        && a.SensorValue.All(v => b.SensorValue.TryGetValue(v.Key, out double w) && w == v.Value);
}
