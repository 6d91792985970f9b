using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// All that stands between a sensor and a pin: rails, sensors, stages, single parts, pins, and what may happen to them.
/// A study is a function from a front end to a record. Immutable.
/// </summary>
public sealed record FrontEnd
{
    /// <summary>What it is, in a line.</summary>
    public string Title { get; init; } = "";

    /// <summary>Supply rails.</summary>
    public ImmutableArray<Rail> Rails { get; init; } = [];

    /// <summary>Sensors.</summary>
    public ImmutableArray<Sensor> Sensors { get; init; } = [];

    /// <summary>Stages, in the order written.</summary>
    public ImmutableArray<Stage> Stages { get; init; } = [];

    /// <summary>Parts that belong to no stage.</summary>
    public ImmutableArray<Part> Parts { get; init; } = [];

    /// <summary>Pins.</summary>
    public ImmutableArray<Pin> Pins { get; init; } = [];

    /// <summary>The pins that are pins of a chip, each once: without those that are another's reading through another channel.</summary>
    internal IEnumerable<Pin> OwnPins => Pins.Where(p => p.SameAs is null);

    /// <summary>The orders in which firmware reads pins that share a converter.</summary>
    public ImmutableArray<Scan> Scans { get; init; } = [];

    /// <summary>What firmware computes from the codes of several pins together.</summary>
    public ImmutableArray<CombinedReading> Readings { get; init; } = [];

    /// <summary>What firmware computes from codes over periods of sensors that alternate.</summary>
    public ImmutableArray<AlternatingReading> AlternatingReadings { get; init; } = [];

    /// <summary>
    /// Names of parts and rails for which no tolerance is given. They are simulated at their values; where something is judged at the ends
    /// of tolerances, the usual one is taken for them (<see cref="WithUsualTolerances"/>).
    /// </summary>
    public ImmutableHashSet<string> WithoutTolerance { get; init; } = [];

    /// <summary>Whether everything that may break a rating is judged with the supplies off as well.</summary>
    public bool AlsoUnpowered { get; init; }

    /// <summary>What may happen.</summary>
    public ImmutableArray<FaultEvent> Events { get; init; } = [];

    /// <summary>What must hold.</summary>
    public ImmutableArray<Requirement> Requirements { get; init; } = [];

    /// <summary>Temperature of all parts where nothing else is said, °C: 25 °C, or the end of <see cref="CelsiusRange"/> nearest to
    /// it.</summary>
    public double Celsius { get; init; } = 25;

    /// <summary>The temperatures, °C, at which everything must hold, both ends included; null where only <see cref="Celsius"/> is asked
    /// for.</summary>
    public Span? CelsiusRange { get; init; }

    /// <summary>The temperature at which constants for firmware are made, °C: 25 °C where the range holds it, else the end nearest to
    /// it.</summary>
    public double ReferenceCelsius => CelsiusRange is { } range ? Math.Clamp(25, range.Low, range.High) : Celsius;

    /// <summary>What may exceed a rating, each with the reason that a person gave.</summary>
    public ImmutableArray<AcceptedStress> Accepted { get; init; } = [];

    /// <summary>The parts of all stages and those outside of them.</summary>
    public IEnumerable<Part> AllParts => [.. Stages.SelectMany(s => s.Parts), .. Parts];

    /// <summary>The outputs of sensors, each of which carries what is driven through it.</summary>
    public IEnumerable<SensorOutput> SensorOutputs => Sensors.Select(SensorOutput.Of).OfType<SensorOutput>();

    /// <summary>What may have ratings: all parts, and the outputs of sensors and rails.</summary>
    internal IEnumerable<Part> Rated => AllParts.Select(p => p is GatePart gate && Pins.All(pin => pin.Node != gate.Input)
        && gate.Type.ToPin(gate.Name, gate.Input, gate.Rail).RatedHigh is { Rail: not null } high
        ? gate with { BeyondVolts = high.Volts } : p).Concat(SensorOutputs).Concat(Rails.Select(r => new RailOutput(r)));

    /// <summary>The inputs of gates at which no pin of their own family stands, each as a pin of that family, named as its gate's
    /// input.</summary>
    internal ImmutableArray<Pin> GateInputs => [.. AllParts.OfType<GatePart>()
        .Where(g => Pins.All(p => p.Node != g.Input || p.Logic?.Type != g.Type || p.Logic.Rail != g.Rail))
        .Select(g => g.Type.ToPin(g.Name + ".input", g.Input, g.Rail))];

    /// <summary>Whether a logic input of that name is a pin that is drawn, and not the input of a gate.</summary>
    /// <param name="name">Name of a pin, or of a gate's input.</param>
    internal bool HasPin(string name) => Pins.Any(p => p.Name == name);

    /// <summary>All that tells low from high: pins, and the inputs of gates without one.</summary>
    internal IEnumerable<Pin> LogicInputs => Pins.Where(p => p.Logic is not null).Concat(GateInputs);

    /// <summary>The same with a pin at each gate's input, so that it loads and leaks as one.</summary>
    internal FrontEnd WithGateInputs() => this with { Pins = [.. Pins, .. GateInputs] };

    /// <summary>What a person must be told before this is built or tested, each once: of its events, and of what it is fed from.</summary>
    public ImmutableArray<string> Cautions =>
    [
        .. Events.SelectMany(e => e.Disturbance.Cautions).Concat(
            AllParts.Any(p => p is SourcePart { IsDangerous: true }) || Sensors.Any(s => s.GivesDangerousVolts)
                ? Disturbances.Mains.Warnings : []).Distinct(),
    ];

    // A coil shows what it does where something switches it.
    private bool SwitchesCoils => AllParts.Any(p => p.IsCoil) && AllParts.Any(p => p.IsSwitched);

    /// <summary>
    /// What its own sources and switches do as time passes, and where transistors switch coils its sensors, which jump; null where nothing
    /// changes.
    /// </summary>
    public FaultEvent? OwnCourse => TimePasses.Of(AllParts.SelectMany(p => p.ToElements()).SelectMany(e => e switch
    {
        VoltageSource source => [source.Volts],
        CurrentSource source => [source.Amps],
        Switch contact => [contact.Closed],
        _ => Array.Empty<Waveform>(),
    }), SwitchesCoils ? [.. Sensors.Select(s => (s.Name, s.Span.Low, s.Span.High))] : []) is { } passing
        ? new("its own sources and switches", Circuit.Ground, passing) : null;

    /// <summary>
    /// What feeds the devices: the rails, and steady sources between a node and ground that parts are supplied from, each as a rail of the
    /// name of its node.
    /// </summary>
    public ImmutableArray<Rail> Supplies
    {
        get
        {
            var fed = AllParts.SelectMany(p => p.SupplyNodes).Where(n => Rails.All(r => r.Name != n)).ToHashSet();
            return [.. Rails, .. AllParts.Select(p => p.AsRail).OfType<Rail>().Where(r => fed.Contains(r.Name))];
        }
    }

    /// <summary>The same with the usual tolerance for every rail and part of which none is given (<see cref="UsualSpread"/>).</summary>
    public FrontEnd WithUsualTolerances()
    {
        if (WithoutTolerance.IsEmpty)
            return this;
        Part Usual(Part part) => WithoutTolerance.Contains(part.Name) && part is { UsualTolerance: { } usual, Value.Amount: { } amount }
            ? part.WithValue(amount with { Tolerance = usual.Amount }) : part;
        return this with
        {
            Rails = [.. Rails.Select(r => WithoutTolerance.Contains(r.Name)
                ? r with { Volts = r.Volts with { Tolerance = UsualSpread.Rail.Amount } } : r)],
            Stages = [.. Stages.Select(s => s with { Parts = [.. s.Parts.Select(Usual)] })],
            Parts = [.. Parts.Select(Usual)],
        };
    }

    /// <summary>The same with each rail changed.</summary>
    /// <param name="change">What becomes of a rail.</param>
    public FrontEnd WithRails(Func<Rail, Rail> change) => this with { Rails = [.. Rails.Select(change)] };

    /// <summary>The circuit of this front end as the scenario has it: sensors at a voltage, with an event or without.</summary>
    /// <param name="scenario">What the sensors and the world do; null for sensors at mid-span and no event.</param>
    /// <exception cref="StudyProblemException">The scenario names a sensor that is not there.</exception>
    public Circuit ToCircuit(Scenario? scenario = null)
    {
        scenario ??= new Scenario();
        if (scenario.SensorValue.Keys.FirstOrDefault(name => Sensors.All(s => s.Name != name)) is { } unknown)
            throw new StudyProblemException(new(ProblemKind.NoSuch, unknown, "sensor") { Known = [.. Sensors.Select(s => s.Name)] });
        bool IsRail(string node) => Rails.Any(r => r.Name == node);
        var strays = scenario.Event?.Disturbance.Strays;
        Element[] undisturbed =
        [
            .. Rails.SelectMany(r => r.ToElements()),
            .. Sensors.SelectMany(s => s.ToElements(scenario.SensorValue.GetValueOrDefault(s.Name, s.Span.Middle))),
            .. AllParts.Select(p => p.At(Celsius)).SelectMany(p =>
                strays?.Around(p, n => n == Circuit.Ground || IsRail(n)) ?? p.ToElements()),
            .. Pins.SelectMany(p => p.ToElements()),
            .. strays?.ToGround(AllParts.SelectMany(p => p.Nodes).Where(n => n != Circuit.Ground && !IsRail(n)).Distinct()) ?? [],
        ];
        return new Circuit(scenario.Event is { } e ? e.Disturbance.Disturb(undisturbed, e.Generator, e.Node, IsRail)
            : undisturbed, Celsius);
    }

    /// <summary>This front end with a part replaced, or taken out (null). Names stay as they are.</summary>
    public FrontEnd Replace(Part old, Part? by)
    {
        ImmutableArray<Part> In(ImmutableArray<Part> parts) => [.. parts.Select(p => p == old ? by : p).OfType<Part>()];
        return this with { Stages = [.. Stages.Select(s => s with { Parts = In(s.Parts) })], Parts = In(Parts) };
    }

    /// <summary>The pin of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public Pin FindPin(string name) => Find(Pins, name, "pin", p => p.Name);

    /// <summary>This front end as it is when a pin is read: a multiplexer ahead of the pin selects the pin's channel.</summary>
    /// <param name="pin">The pin.</param>
    public FrontEnd Selecting(Pin pin) => pin.Channel is { } channel
        && AllParts.FirstOrDefault(p => p.Name == channel.Multiplexer) is { Selection: { } now } chip && now.Selected != channel.Node
        ? Replace(chip, chip.Selecting(channel.Node, [])) : this;

    /// <summary>The frequency at which a sensor shows what it measures, Hz: its own, or that of the sine that excites it; null for one that
    /// shows it at the operating point.</summary>
    /// <param name="sensor">The sensor.</param>
    public double? HertzOf(Sensor sensor) => sensor.Alternation?.Hertz
        ?? (AllParts.SelectMany(p => p.ToElements()).OfType<VoltageSource>().FirstOrDefault(e => e.Name == sensor.ExcitedBy)?.Volts as Sine)
            ?.Frequency;

    /// <summary>The scan that a pin is read in, or null for one that is read alone.</summary>
    /// <param name="pin">Name of the pin.</param>
    public Scan? ScanOf(string pin) => Scans.FirstOrDefault(s => s.Pins.Contains(pin));

    /// <summary>Finds the part that is told as one thing and that an element or a node of some name is inside of; null for none.</summary>
    public Func<string, Part?> ClosedParts()
    {
        Part[] closed = [.. AllParts.Where(p => p.IsClosed)];
        return name => Array.Find(closed, p => name == p.Name || name.StartsWith(p.Name + ".", StringComparison.Ordinal));
    }

    /// <summary>The sensor of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public Sensor FindSensor(string name) => Find(Sensors, name, "sensor", s => s.Name);

    /// <summary>The reading of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public CombinedReading FindReading(string name) => Find(Readings, name, "reading", r => r.Name);

    /// <summary>The reading over periods of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public AlternatingReading FindAlternatingReading(string name) => Find(AlternatingReadings, name, "reading over periods", r => r.Name);

    /// <summary>The event of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public FaultEvent FindEvent(string name) => Find(Events, name, "event", e => e.Name);

    /// <summary>The stage of that name.</summary>
    /// <exception cref="StudyProblemException">There is none.</exception>
    public Stage FindStage(string name) => Find(Stages, name, "stage", s => s.Name);

    private static T Find<T>(ImmutableArray<T> things, string name, string word, Func<T, string> nameOf) where T : class =>
        things.FirstOrDefault(t => nameOf(t) == name) ?? throw new StudyProblemException(
            new(things.IsEmpty ? ProblemKind.NoneAtAll : ProblemKind.NoSuch, name, word) { Known = [.. things.Select(nameOf)] });
}

/// <summary>What the sensors and the world do while a circuit is looked at.</summary>
public sealed record Scenario
{
    /// <summary>What each sensor measures by its name, in its own unit; a sensor not named stands at the middle of its span.</summary>
    public ImmutableDictionary<string, double> SensorValue { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>The event that happens, or null for none.</summary>
    public FaultEvent? Event { get; init; }
}
