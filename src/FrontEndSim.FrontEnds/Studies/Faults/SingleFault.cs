using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>One thing that is broken in a front end.</summary>
/// <param name="Subject">Name of the part, rail or sensor.</param>
/// <param name="Mode">How it is broken.</param>
/// <param name="Other">For <see cref="FaultMode.SensorShort"/> the node that it touches, for <see cref="FaultMode.WireOpen"/> the node that
/// the wire leads to; else null.</param>
public sealed record SingleFault(string Subject, FaultMode Mode, string? Other = null)
{
    private const double OpenOhms = 1e9, WireOhms = 0.1;

    // Beside less than a tenth of what is taken for insulation, what leaks over that moves nothing.
    private const double HoldsUpToOhms = 0.1 * OpenOhms;

    /// <summary>For <see cref="FaultMode.SensorShort"/>, the node that the wire leads to; null for the sensor's first wire that leads
    /// neither to ground nor to a rail.</summary>
    public string? Wire { get; init; }

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
        FaultMode.WireOpen => $"sensor {Subject} wire to {Other} open",
        FaultMode.AlarmLow => $"sensor {Subject} low alarm",
        FaultMode.AlarmHigh => $"sensor {Subject} high alarm",
        _ when Wire is not null => $"sensor {Subject} wire to {Wire} shorted to {Other}",
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
            case FaultMode.SensorOpen:
                node = frontEnd.FindSensor(Subject).Node;
                disturbance = new OpenSource { Sensor = Subject };
                break;
            case FaultMode.SensorShort:
                node = Wire ?? Live(frontEnd, frontEnd.FindSensor(Subject));
                disturbance = new ShortTo(Other!, WireOhms);
                break;
            case FaultMode.WireOpen:
                node = Other!;
                disturbance = new OpenSource { Sensor = Subject };
                break;
            case FaultMode.AlarmLow or FaultMode.AlarmHigh:
                var sensor = frontEnd.FindSensor(Subject);
                node = sensor.Node;
                disturbance = new SensorMoves(Subject, sensor.Span.Middle, ((StraightLaw)sensor.Law!).QuantityAt(AlarmAmps(sensor)));
                break;
            default:
                var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == Subject)
                    ?? throw new StudyProblemException(new(ProblemKind.NotBreakable, Subject));
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
        .. frontEnd.Sensors.SelectMany(s => OfSensor(frontEnd, s)),
    ];

    /// <summary>Every single fault of a sensor and its wires.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    /// <param name="sensor">The sensor.</param>
    public static IEnumerable<SingleFault> OfSensor(FrontEnd frontEnd, Sensor sensor)
    {
        string name = sensor.Name, live = Live(frontEnd, sensor);
        string[] nodes = [.. sensor.Nodes.Distinct()];
        yield return new(name, FaultMode.SensorOpen);
        // Of two wires it does not matter which one breaks.
        foreach (string node in nodes.Where(n => nodes.Length > 2 && n != sensor.Node))
            yield return new(name, FaultMode.WireOpen, node);
        yield return new(name, FaultMode.SensorShort, Circuit.Ground);
        foreach (var rail in frontEnd.Rails.Where(r => r.Name != live))
            yield return new(name, FaultMode.SensorShort, rail.Name);
        bool IsHeld(string node) => node == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == node);
        foreach (string other in nodes.Where(n => n != live && !IsHeld(n)))
        {
            yield return new(name, FaultMode.SensorShort, other);
            yield return new(name, FaultMode.SensorShort, Circuit.Ground) { Wire = other };
            foreach (var rail in frontEnd.Rails)
                yield return new(name, FaultMode.SensorShort, rail.Name) { Wire = other };
        }
        if (sensor is { Alarms: not null, Law: StraightLaw })
        {
            yield return new(name, FaultMode.AlarmLow);
            yield return new(name, FaultMode.AlarmHigh);
        }
    }

    private double AlarmAmps(Sensor sensor) => Mode == FaultMode.AlarmLow ? sensor.Alarms!.LowAmps : sensor.Alarms!.HighAmps;

    /// <summary>The front end with this fault in it. Names stay as they are.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    /// <exception cref="StudyProblemException">It has no such part, rail or sensor.</exception>
    public FrontEnd In(FrontEnd frontEnd)
    {
        int hits = 0;
        Part Broken(Part whole) => new FaultyPart(whole, Mode) { IsFloating = Mode == FaultMode.Open ? Floating(frontEnd) : null };
        T Hit<T>(string name, T thing, Func<T, T> breaks)
        {
            if (name != Subject)
                return thing;
            hits++;
            return breaks(thing);
        }
        var broken = Mode switch
        {
            FaultMode.RailLost => frontEnd.WithRails(r => Hit(r.Name, r, s => s.Off())),
            FaultMode.RailOpen => frontEnd.WithRails(r => Hit(r.Name, r, s => s.Off() with { SeriesOhms = OpenOhms })),
            FaultMode.SensorOpen or FaultMode.SensorShort => frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => Hit(s.Name, s, whole =>
                    Mode == FaultMode.SensorShort && StaysOn(frontEnd, whole) ? whole : Open(whole)))],
                Parts = [.. frontEnd.Parts, .. frontEnd.Sensors.Where(s => s.Name == Subject && Other is not null)
                    .Select(s => Joined("fault: wire", Wire ?? Live(frontEnd, s), Other!, WireOhms))],
            },
            FaultMode.WireOpen => frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => Hit(s.Name, s, WithoutWire))],
                Parts = frontEnd.FindSensor(Subject).Wiring is ShareOfRail ? frontEnd.Parts
                    : [.. frontEnd.Parts, Joined("fault: wire", BrokenWire, Other!, OpenOhms)],
            },
            FaultMode.AlarmLow or FaultMode.AlarmHigh => frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => Hit(s.Name, s, whole =>
                    whole with { Law = new StraightLaw(whole.Span, AlarmAmps(whole), AlarmAmps(whole), Unit.Amps) }))],
            },
            _ => frontEnd with
            {
                Rails = [.. frontEnd.Rails.Select(r => r.Name == ShortedRail(frontEnd) ? r.Off() : r)],
                Parts = [.. frontEnd.Parts.Select(p => Hit(p.Name, p, Broken))],
                Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Select(p => Hit(p.Name, p, Broken))] })],
            },
        };
        return hits > 0 ? broken : throw new StudyProblemException(new(ProblemKind.NotBreakable, Subject));
    }

    /// <summary>
    /// What is left open leaks somewhere, no one knows where: the front end with this fault in it, its loose ends leaking to the lowest of
    /// the supplies and all pins the same way, and to the highest. Empty for a fault that leaves nothing loose.
    /// </summary>
    /// <param name="frontEnd">The front end, whole.</param>
    public ImmutableArray<FrontEnd> Leaking(FrontEnd frontEnd)
    {
        bool IsHeld(string node) => node == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == node);
        string[] loose = [.. Loose(frontEnd).Where(n => !IsHeld(n)).Distinct()];
        if (loose.Length == 0)
            return [];
        var broken = In(frontEnd);
        // What other parts go on to hold leaks no more than it did on the whole board.
        string[] floating = [.. loose.Where(Floating(frontEnd))];
        FrontEnd To(string supply, int sign) => broken with
        {
            Parts = [.. broken.Parts, .. floating.Select(n => Joined($"fault: insulation {n}", n, supply, OpenOhms))],
            Pins = [.. broken.Pins.Select(p => p with { LeakageAmps = sign * Math.Abs(p.LeakageAmps) })],
        };
        string lowest = frontEnd.Rails.Where(r => r.Volts.Value < 0).MinBy(r => r.Volts.Value)?.Name ?? Circuit.Ground;
        string highest = frontEnd.Rails.Where(r => r.Volts.Value > 0).MaxBy(r => r.Volts.Value)?.Name ?? Circuit.Ground;
        return [To(lowest, 1), To(highest, -1)];
    }

    private IEnumerable<string> Loose(FrontEnd frontEnd) => Mode switch
    {
        FaultMode.Open => frontEnd.AllParts.Where(p => p.Name == Subject).SelectMany(p => p.Broken(Mode)).OfType<Resistor>()
            .Where(r => r.Ohms >= OpenOhms).SelectMany(r => r.Terminals),
        FaultMode.SensorOpen => frontEnd.FindSensor(Subject).Nodes,
        FaultMode.WireOpen => [Other!],
        _ => [],
    };

    // A supply with a short across it is lost: no regulator and no fuse holds its voltage on ten milliohms.
    private string? ShortedRail(FrontEnd frontEnd) => Mode != FaultMode.Short ? null
        : frontEnd.AllParts.FirstOrDefault(p => p.Name == Subject)?.Nodes.Distinct().ToArray() is { Length: 2 } ends
            && ends.Contains(Circuit.Ground) ? frontEnd.Rails.FirstOrDefault(r => ends.Contains(r.Name))?.Name : null;

    /// <summary>The sensor with its connection broken. One that drives a current, which no resistance would stop, drives none.</summary>
    private static Sensor Open(Sensor whole) => whole.Output == Unit.Amps
        ? whole with { Law = new StraightLaw(whole.Span, 0, 0, Unit.Amps) } : whole with { SourceOhms = OpenOhms };

    /// <summary>Whether a sensor whose wire touches something still acts: a voltage that is short-circuited does not.</summary>
    private bool StaysOn(FrontEnd frontEnd, Sensor sensor) => sensor.Wiring is Track or Bridge || sensor.Output == Unit.Ohm
        || sensor.Output == Unit.Amps || !sensor.ShowsAtRest
        || Other != sensor.Other && sensor.Other != Circuit.Ground && frontEnd.Rails.All(r => r.Name != sensor.Other);

    // The end of a wire that no longer leads anywhere.
    private const string BrokenWire = "fault: end";

    private static ResistorPart Joined(string name, string from, string to, double ohms) =>
        new(name, from, to, ohms) { RatedWatts = double.PositiveInfinity };

    /// <summary>
    /// The sensor with one of several wires broken. A sensor with an amplifier of its own that gives a share of its supply stands at
    /// nothing without the supply, and at the supply without its ground (common practice, no source).
    /// </summary>
    private Sensor WithoutWire(Sensor whole)
    {
        if (whole.Wiring is not ShareOfRail share)
            return whole.Rewired(Other!, BrokenWire);
        double stands = Other == share.Rail ? 0 : 1;
        return whole with { Law = new StraightLaw(whole.Span, stands, stands, Unit.None) };
    }

    /// <summary>The terminal of a sensor that is neither ground nor a rail, which its wire leads to.</summary>
    private static string Live(FrontEnd frontEnd, Sensor sensor) =>
        sensor.Nodes.FirstOrDefault(n => n != Circuit.Ground && frontEnd.Rails.All(r => r.Name != n)) ?? sensor.Node;

    /// <summary>Whether a node is held by nothing once what is broken is gone: no resistor, coil, source or output that a direct current
    /// could take leads from it to a supply or to ground. A junction, an input and a capacitor hold nothing.</summary>
    private Func<string, bool> Floating(FrontEnd frontEnd)
    {
        var held = new HashSet<string>(frontEnd.Rails.Select(r => r.Name)) { Circuit.Ground };
        (string, string)[] paths =
        [
            .. frontEnd.AllParts.Where(p => p.Name != Subject).SelectMany(p => p.ToElements()).SelectMany(Conducting),
            .. frontEnd.Sensors.Where(s => s.Name != Subject && s.ShowsAtRest && s.Output != Unit.Amps)
                .SelectMany(s => s.Nodes.Skip(1).Select(n => (s.Node, n))),
        ];
        while (paths.Where(p => held.Contains(p.Item1) != held.Contains(p.Item2)).ToArray() is { Length: > 0 } next)
            held.UnionWith(next.SelectMany(p => new[] { p.Item1, p.Item2 }));
        return n => !held.Contains(n);
    }

    private static IEnumerable<(string, string)> Conducting(Element element) => element switch
    {
        Resistor { Ohms: < HoldsUpToOhms } or Inductor or VoltageSource => [(element.Terminals[0], element.Terminals[1])],
        CoupledInductors w => [(w.Terminals[0], w.Terminals[1]), (w.Terminals[2], w.Terminals[3])],
        OpAmp a => [(a.Output, a.PositiveRail)],
        LogicGate g => [(g.Output, g.PositiveRail)],
        Regulator r => [(r.Output, r.Input)],
        Switch s when s.Closed.At(0) > 0.5 => [(s.Terminals[0], s.Terminals[1])],
        _ => [],
    };
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

    /// <summary>Whether nothing else holds a node; null where what is broken leaves nothing loose.</summary>
    public Func<string, bool>? IsFloating { get; init; }

    // What stands between two nodes that others hold is gone; a loose end still has its insulation.
    private const double Insulation = 1e9, Gone = 1e15;

    public override IEnumerable<Element> ToElements() => Whole.Broken(Mode).Select(e =>
        IsFloating is { } floats && e is Resistor { Ohms: >= Insulation } open && !open.Terminals.Any(floats)
            ? open with { Ohms = Gone } : e);
}
