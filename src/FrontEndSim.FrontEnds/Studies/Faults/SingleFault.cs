using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>How a part, a rail or a sensor fails (failure modes in the sense of IEC 60812).</summary>
public enum FaultMode
{
    /// <summary>A part is open: 1 Gohm remains. Of an op amp or gate the output, of a potentiometer the wiper.</summary>
    Open,

    /// <summary>A part is shorted: 10 mohm.</summary>
    Short,

    /// <summary>A diode is mounted the wrong way round.</summary>
    Reversed,

    /// <summary>The output of an op amp or gate sticks at its positive rail, behind 50 ohm.</summary>
    StuckHigh,

    /// <summary>The output of an op amp or gate sticks at its negative rail, behind 50 ohm.</summary>
    StuckLow,

    /// <summary>A rail stands at 0 V behind its source resistance, as when its supply is off and other loads hold it down.</summary>
    RailLost,

    /// <summary>Nothing feeds a rail: only what is connected to it holds it.</summary>
    RailOpen,

    /// <summary>A sensor's wire is broken.</summary>
    SensorOpen,

    /// <summary>A sensor's wire touches a node: ground or a rail, through 0.1 ohm.</summary>
    SensorShort,
}

/// <summary>One thing that is broken in a front end.</summary>
/// <param name="Subject">Name of the part, rail or sensor.</param>
/// <param name="Mode">How it is broken.</param>
/// <param name="Other">For <see cref="FaultMode.SensorShort"/>, the node that it touches; else null.</param>
public sealed record SingleFault(string Subject, FaultMode Mode, string? Other = null)
{
    internal const double OpenOhms = 1e9, ShortOhms = 0.01, StuckOhms = 50, WireOhms = 0.1;

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

    /// <summary>Every single fault of a front end: of each part, then of the rails, then of the sensors, in the order written.</summary>
    /// <param name="frontEnd">The front end, whole.</param>
    public static ImmutableArray<SingleFault> Of(FrontEnd frontEnd) =>
    [
        .. frontEnd.AllParts.SelectMany(p => Modes(p).Select(m => new SingleFault(p.Name, m))),
        .. frontEnd.Rails.SelectMany(r => (SingleFault[])[new(r.Name, FaultMode.RailLost), new(r.Name, FaultMode.RailOpen)]),
        .. frontEnd.Sensors.SelectMany(s => (SingleFault[])
        [
            new(s.Name, FaultMode.SensorOpen), new(s.Name, FaultMode.SensorShort, Circuit.Ground),
            .. frontEnd.Rails.Where(r => r.Name != s.Node).Select(r => new SingleFault(s.Name, FaultMode.SensorShort, r.Name)),
        ]),
    ];

    private static FaultMode[] Modes(Part part) => part switch
    {
        OpAmpPart or GatePart => [FaultMode.Open, FaultMode.StuckHigh, FaultMode.StuckLow],
        DiodePart => [FaultMode.Open, FaultMode.Short, FaultMode.Reversed],
        _ => [FaultMode.Open, FaultMode.Short],
    };

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
            FaultMode.RailOpen => frontEnd with { Rails = [.. frontEnd.Rails.Select(r => Hit(r.Name, r, s => s.Off() with { SeriesOhms = OpenOhms }))] },
            FaultMode.SensorOpen or FaultMode.SensorShort => frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s => Hit(s.Name, s, whole => whole with { SourceOhms = OpenOhms }))],
                Parts = [.. frontEnd.Parts, .. frontEnd.Sensors.Where(s => s.Name == Subject && Other is not null)
                    .Select(s => new ResistorPart("fault: wire", s.Node, Other!, WireOhms) { RatedWatts = double.PositiveInfinity })],
            },
            _ => frontEnd with
            {
                Parts = [.. frontEnd.Parts.Select(p => Hit(p.Name, p, Break))],
                Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Select(p => Hit(p.Name, p, Break))] })],
            },
        };
        return hits > 0 ? broken : throw new StudyProblemException($"There is nothing named {Subject} that could be broken.");
    }

    private Part Break(Part whole) => new FaultyPart(whole, Mode);
}

/// <summary>A part that is broken: it keeps its name and its nodes, and behaves as its fault says. It has no ratings left to keep.</summary>
/// <param name="Whole">The part as it should be.</param>
/// <param name="Mode">What is wrong with it.</param>
internal sealed record FaultyPart(Part Whole, FaultMode Mode) : Part(Whole.Name)
{
    public override string Word => Whole.Word;

    public override string ValueText => Whole.ValueText;

    public override ImmutableArray<string> Nodes => Whole.Nodes;

    public override IEnumerable<Element> ToElements() => (Whole, Mode) switch
    {
        (DiodePart diode, FaultMode.Reversed) => (diode with { From = diode.To, To = diode.From }).ToElements(),
        (OpAmpPart amp, FaultMode.StuckHigh) => [new Resistor(Name, amp.Output, amp.PositiveRail, SingleFault.StuckOhms), .. Inputs(amp)],
        (OpAmpPart amp, FaultMode.StuckLow) => [new Resistor(Name, amp.Output, amp.NegativeRail, SingleFault.StuckOhms), .. Inputs(amp)],
        (OpAmpPart amp, _) => [new Resistor(Name, amp.Output, Circuit.Ground, SingleFault.OpenOhms), .. Inputs(amp)],
        (GatePart gate, FaultMode.StuckHigh) => [new Resistor(Name, gate.Output, gate.Rail, SingleFault.StuckOhms)],
        (GatePart gate, FaultMode.StuckLow) => [new Resistor(Name, gate.Output, Circuit.Ground, SingleFault.StuckOhms)],
        (GatePart gate, _) => [new Resistor(Name, gate.Output, Circuit.Ground, SingleFault.OpenOhms)],
        // The wiper lifts: the track stays, and the wiper's node is left alone.
        (PotentiometerPart pot, FaultMode.Open) =>
            [new Resistor(Name, pot.From, pot.To, pot.Ohms.Value), new Resistor(Name + ".wiper", pot.Wiper, pot.From, SingleFault.OpenOhms)],
        (PotentiometerPart pot, _) =>
            [new Resistor(Name, pot.From, pot.To, SingleFault.ShortOhms), new Resistor(Name + ".wiper", pot.Wiper, pot.From, SingleFault.ShortOhms)],
        (_, FaultMode.Short) => [.. Between(SingleFault.ShortOhms)],
        _ => [.. Between(SingleFault.OpenOhms)],
    };

    // Without a path of their own, inputs that nothing else holds would have no defined voltage.
    private IEnumerable<Element> Inputs(OpAmpPart amp) =>
    [
        new Resistor(Name + ".plus", amp.Plus, Circuit.Ground, SingleFault.OpenOhms), new Resistor(Name + ".minus", amp.Minus, Circuit.Ground, SingleFault.OpenOhms),
    ];

    private IEnumerable<Element> Between(double ohms)
    {
        for (int k = 1; k < Nodes.Length; k++)
        {
            if (Nodes[k] != Nodes[0])
                yield return new Resistor(k == 1 ? Name : $"{Name}.{k}", Nodes[0], Nodes[k], ohms);
        }
    }
}
