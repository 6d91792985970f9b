using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>One thing that is broken in a front end.</summary>
/// <param name="Subject">Name of the part, rail or sensor.</param>
/// <param name="Mode">How it is broken.</param>
/// <param name="Other">For <see cref="FaultMode.SensorShort"/>, the node that it touches; else null.</param>
public sealed record SingleFault(string Subject, FaultMode Mode, string? Other = null)
{
    private const double OpenOhms = 1e9, WireOhms = 0.1;

    /// <summary>"guard.Z1 short", "rail VDD lost", "sensor probe shorted to VP".</summary>
    public string Text => Mode switch
    {
        FaultMode.Open => $"{Subject} open",
        FaultMode.Short => $"{Subject} short",
        FaultMode.Reversed => $"{Subject} reversed",
        FaultMode.StuckHigh => $"{Subject} stuck high",
        FaultMode.StuckLow => $"{Subject} stuck low",
        FaultMode.RailLost => $"rail {Subject} lost",
        FaultMode.RailOpen => $"rail {Subject} open",
        FaultMode.SensorOpen => $"sensor {Subject} open",
        _ => $"sensor {Subject} shorted to {Other}",
    };

    /// <summary>The event in which this comes to pass while the circuit works.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    /// <exception cref="StudyProblemException">It has no such part or sensor.</exception>
    public FaultEvent Happens(FrontEnd frontEnd)
    {
        string node = Subject;
        Disturbance disturbance;
        switch (Mode)
        {
            case FaultMode.RailLost:
                disturbance = new LostSource();
                break;
            case FaultMode.RailOpen:
                disturbance = new OpenSource();
                break;
            case FaultMode.SensorOpen or FaultMode.SensorShort:
                node = frontEnd.FindSensor(Subject).Node;
                disturbance = Mode == FaultMode.SensorOpen ? new OpenSource() : new ShortTo(Other!, WireOhms);
                break;
            default:
                var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == Subject)
                    ?? throw new StudyProblemException($"There is nothing named {Subject} that could be broken.");
                node = part.Nodes.FirstOrDefault(n => n != Circuit.Ground) ?? Circuit.Ground;
                disturbance = ShortedRail(frontEnd) is null ? new PartFailure(part, Mode) : new LostSource();
                break;
        }
        return new FaultEvent(Text, node, disturbance);
    }

    /// <summary>Every single fault of a front end: of each part, then of the rails, then of the sensors, in the order written.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    public static ImmutableArray<SingleFault> Of(FrontEnd frontEnd) =>
    [
        .. frontEnd.AllParts.SelectMany(p => p.FailureModes.Select(m => new SingleFault(p.Name, m))),
        .. frontEnd.Rails.SelectMany(r => (SingleFault[])[new(r.Name, FaultMode.RailLost), new(r.Name, FaultMode.RailOpen)]),
        .. frontEnd.Sensors.SelectMany(s => (SingleFault[])
        [
            new(s.Name, FaultMode.SensorOpen), new(s.Name, FaultMode.SensorShort, Circuit.Ground),
            .. frontEnd.Rails.Where(r => r.Name != Live(frontEnd, s)).Select(r => new SingleFault(s.Name, FaultMode.SensorShort, r.Name)),
        ]),
    ];

    /// <summary>The front end with this fault in it. Names stay as they are.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    /// <exception cref="StudyProblemException">It has no such part, rail or sensor.</exception>
    public FrontEnd In(FrontEnd frontEnd)
    {
        int hits = 0;
        T Hit<T>(string name, T thing, Func<T, T> breaks)
        {
            if (name != Subject)
                return thing;
            hits++;
            return breaks(thing);
        }
        var broken = Mode switch
        {
            FaultMode.RailLost => frontEnd with { Rails = [.. frontEnd.Rails.Select(r => Hit(r.Name, r, s => s.Off()))] },
            FaultMode.RailOpen =>
                frontEnd with { Rails = [.. frontEnd.Rails.Select(r => Hit(r.Name, r, s => s.Off() with { SeriesOhms = OpenOhms }))] },
            FaultMode.SensorOpen or FaultMode.SensorShort => frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => Hit(s.Name, s, Open))],
                Parts = [.. frontEnd.Parts, .. frontEnd.Sensors.Where(s => s.Name == Subject && Other is not null)
                    .Select(s =>
                        new ResistorPart("fault: wire", Live(frontEnd, s), Other!, WireOhms) { RatedWatts = double.PositiveInfinity })],
            },
            _ => frontEnd with
            {
                Rails = [.. frontEnd.Rails.Select(r => r.Name == ShortedRail(frontEnd) ? r.Off() : r)],
                Parts = [.. frontEnd.Parts.Select(p => Hit(p.Name, p, Break))],
                Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Select(p => Hit(p.Name, p, Break))] })],
            },
        };
        return hits > 0 ? broken : throw new StudyProblemException($"There is nothing named {Subject} that could be broken.");
    }

    // A supply with a short across it is lost: no regulator and no fuse holds its voltage on ten milliohms.
    private string? ShortedRail(FrontEnd frontEnd) => Mode != FaultMode.Short ? null
        : frontEnd.AllParts.FirstOrDefault(p => p.Name == Subject)?.Nodes.Distinct().ToArray() is { Length: 2 } ends
            && ends.Contains(Circuit.Ground) ? frontEnd.Rails.FirstOrDefault(r => ends.Contains(r.Name))?.Name : null;

    /// <summary>The sensor with its connection broken. One that drives a current, which no resistance would stop, drives none.</summary>
    private static Sensor Open(Sensor whole) => whole.Output == Unit.Amps
        ? whole with { Law = new StraightLaw(whole.Span, 0, 0, Unit.Amps) } : whole with { SourceOhms = OpenOhms };

    /// <summary>The terminal of a sensor that is neither ground nor a rail, which its wire leads to.</summary>
    private static string Live(FrontEnd frontEnd, Sensor sensor) =>
        sensor.Nodes.FirstOrDefault(n => n != Circuit.Ground && frontEnd.Rails.All(r => r.Name != n)) ?? sensor.Node;

    private Part Break(Part whole) => new FaultyPart(whole, Mode);
}

/// <summary>A part that is broken: it keeps its name and its nodes, and behaves as its fault says. It has no ratings left to
/// keep.</summary>
/// <param name="Whole">The part as it should be.</param>
/// <param name="Mode">What is wrong with it.</param>
internal sealed record FaultyPart(Part Whole, FaultMode Mode) : Part(Whole.Name)
{
    public override string Word => Whole.Word;

    public override string ValueText => Whole.ValueText;

    public override ImmutableArray<Terminal> Terminals => Whole.Terminals;

    public override IEnumerable<Element> ToElements() => Whole.Broken(Mode);
}
