using System.Collections.Concurrent;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.FrontEnds.Studies.Session;

/// <summary>
/// A front end with all that was solved of it so far: what studies ask for is solved at the first asking and kept. Safe to use from
/// several threads: what two ask for at once is solved once. What had no solution fails alike at the next asking; what was cancelled
/// is solved anew.
/// </summary>
/// <param name="frontEnd">The front end.</param>
public sealed class SolvedFrontEnd(FrontEnd frontEnd)
{
    private readonly ConcurrentDictionary<object, Lazy<object>> _answers = [];
    private readonly SolutionStore _solutions = new();

    /// <summary>One whose circuits are solved to other limits than the usual.</summary>
    internal SolvedFrontEnd(FrontEnd frontEnd, SolverSettings settings) : this(frontEnd, new SolutionStore(settings))
    {
    }

    private SolvedFrontEnd(FrontEnd frontEnd, SolutionStore solutions) : this(frontEnd) => _solutions = solutions;

    /// <summary>Where the same circuit with other numbers rests, with and without an event: a search for rest starts there; null for
    /// nowhere.</summary>
    internal OperatingPoint? Near { get; init; }

    /// <summary>The one circumstance that is looked at in place of the worst; null for all.</summary>
    internal Occasion? Only { get; init; }

    /// <summary>Whether sweeps and runs begin where the circuit settles to in time, where its currents balance at a point that it does not
    /// stay at.</summary>
    public bool BeginsSettled { get; init; }

    /// <summary>What searches for the worst circumstance have run in this session so far.</summary>
    internal Work Work { get; private init; } = new();

    /// <summary>The front end.</summary>
    public FrontEnd FrontEnd { get; } = frontEnd;

    /// <summary>
    /// The session of a changed front end. What was solved is kept for every circuit that the change leaves as it was: all of it when a
    /// requirement, a rating or a title changes, all other events when one event does.
    /// </summary>
    /// <param name="changed">The front end, changed.</param>
    public SolvedFrontEnd With(FrontEnd changed) =>
        new(changed, _solutions.Next()) { Work = Work, Only = Only, BeginsSettled = BeginsSettled };

    /// <summary>A session of its own of this front end with something broken, whose work is counted with this one's: a search for rest
    /// starts where it rests with the sensors at mid-span.</summary>
    /// <param name="fault">What is broken.</param>
    /// <param name="like">The front end with it, or what differs little from that; null for just that.</param>
    /// <param name="cancel">Stops the search.</param>
    internal SolvedFrontEnd Broken(SingleFault fault, FrontEnd? like, CancellationToken cancel) => new(like ?? fault.In(FrontEnd))
    {
        Work = Work,
        Near = Once(("broken", fault), () => new Anchor(RestWith(fault, cancel)), cancel).Point,
    };

    // From nothing: of several points at which currents balance, that nearest to where the whole circuit rests need not be where the
    // broken one goes. That is taken where no other is found.
    private OperatingPoint? RestWith(SingleFault fault, CancellationToken cancel)
    {
        var broken = fault.In(FrontEnd);
        return new SolvedFrontEnd(broken).RestOrNone(cancel) ?? new SolvedFrontEnd(broken) { Near = Beside(cancel) }.RestOrNone(cancel);
    }

    /// <summary>The same, whose work is counted anew, to try a change.</summary>
    /// <param name="changed">The front end, changed.</param>
    /// <param name="only">The one circumstance to look at; null for all.</param>
    internal SolvedFrontEnd Trying(FrontEnd changed, Occasion? only = null) =>
        new(changed, _solutions.Next()) { Only = only, BeginsSettled = BeginsSettled };

    /// <summary>Voltages and currents with no event and the sensors at given voltages.</summary>
    /// <param name="scenario">Where the sensors stand; null for mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public OperatingPoint Rest(Scenario? scenario = null, CancellationToken cancel = default) =>
        _solutions.Rest(FrontEnd.ToCircuit(scenario), scenario is null ? Near : Beside(cancel), cancel);

    /// <summary>Where it rests at mid-span, for others to be searched for from there; null where nothing is found.</summary>
    internal OperatingPoint? Beside(CancellationToken cancel) => Near ?? Once("beside", () => new Anchor(RestOrNone(cancel)), cancel).Point;

    private OperatingPoint? RestOrNone(CancellationToken cancel)
    {
        try
        {
            return Rest(null, cancel);
        }
        catch (Exception e) when (e is SolveException or CircuitException)
        {
            return null;
        }
    }

    private sealed record Anchor(OperatingPoint? Point);

    /// <summary>Where the circuit settles to in time if its currents balance at a point that it does not stay at; null where that point is
    /// stable, where nothing has gain, and where it is not known.</summary>
    /// <param name="scenario">Where the sensors stand; null for mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    public ImmutableArray<OperatingPoint>? Settled(Scenario? scenario = null, CancellationToken cancel = default) =>
        InTime(scenario, cancel) is { First.IsStable: false } settled ? settled.StablePoints : null;

    /// <summary>This session where the circuit stays at the point at which its currents balance, sensors at mid-span; else the one whose
    /// sweeps and runs begin where it settles to.</summary>
    /// <param name="cancel">Stops the solver.</param>
    public SolvedFrontEnd Settling(CancellationToken cancel = default) =>
        Settled(cancel: cancel) is null ? this : new(FrontEnd, _solutions) { Work = Work, Only = Only, BeginsSettled = true };

    // Null where nothing has gain, and where it is not known.
    private SettledResult? InTime(Scenario? scenario, CancellationToken cancel)
    {
        if (!FrontEnd.AllParts.Any(p => p.Amplifiers.Any()))
            return null;
        try
        {
            return Compiled(scenario).Settle(cancel);
        }
        catch (SolveException)
        {
            return null;
        }
    }

    /// <summary>Voltages and currents with all sensors at a place of their spans.</summary>
    public OperatingPoint Rest(SpanPlace place, CancellationToken cancel = default) => Rest(At(place), cancel);

    /// <summary>A sweep of a sensor, the other sensors at mid-span; one that measures its cold junction as warm as the circuit.</summary>
    /// <inheritdoc cref="SweepStudy.Run(FrontEnd, string, IReadOnlyList{double}, bool, CancellationToken)"/>
    public SweepResult Sweep(string sensor, IReadOnlyList<double> volts, bool refine = false, CancellationToken cancel = default) =>
        _solutions.Sweep(FrontEnd.ToCircuit(CombinedStudy.Standing(this, sensor)), FrontEnd.FindSensor(sensor).Name, volts, refine,
            SettledAt(At(sensor, volts[0]), cancel) ?? Beside(cancel), cancel);

    // A point that it stays at; null where it is not looked for, and where there is none.
    private OperatingPoint? SettledAt(Scenario? scenario, CancellationToken cancel) => !BeginsSettled ? null
        : InTime(scenario, cancel) is not { } settled ? null
        : settled.First.IsStable ? settled.First.Point : settled.StablePoints.FirstOrDefault();

    /// <summary>A run through an event.</summary>
    /// <param name="fault">The event.</param>
    /// <param name="until">Length of the run, s; null for the length that shows all of the event.</param>
    /// <param name="scenario">Where the sensors stand; null for mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some time.</exception>
    public TransientResult Transient(FaultEvent fault, double? until = null, Scenario? scenario = null, CancellationToken cancel = default)
    {
        scenario = (scenario ?? new Scenario()) with { Event = fault };
        var circuit = FrontEnd.ToCircuit(scenario);
        var near = SettledAt(scenario, cancel) ?? Near;
        double seconds = until ?? fault.Disturbance.SuggestedSeconds;
        return until is null && fault.Disturbance.PeriodSeconds is { } period
            ? _solutions.Settled(circuit, seconds, near, solve => EventStudy.Settled(FrontEnd, seconds, period, solve), cancel)
            : _solutions.Transient(circuit, seconds, near, cancel);
    }

    /// <summary>How long an event had to be followed beyond what it suggests, all sensors at mid-span, s; null where it had not.</summary>
    /// <param name="fault">The event.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found at some time.</exception>
    internal double? FollowedSeconds(FaultEvent fault, CancellationToken cancel) =>
        Once(("followed", fault), () => new Length(FollowedRun.Of(this, fault, null, cancel: cancel).FollowedSeconds), cancel).Seconds;

    private sealed record Length(double? Seconds);

    /// <summary>What a run through an event would do with parts of other numbers, to first order; null where that cannot be
    /// said.</summary>
    /// <param name="fault">The event.</param>
    /// <param name="until">Length of the run, s.</param>
    /// <param name="scenario">Where the sensors stand.</param>
    /// <param name="changed">The front ends with other numbers.</param>
    /// <param name="cancel">Stops the solver.</param>
    internal IReadOnlyList<TransientResult?> Changed(FaultEvent fault, double until, Scenario scenario, IEnumerable<FrontEnd> changed,
        CancellationToken cancel)
    {
        scenario = scenario with { Event = fault };
        return _solutions.Compiled(FrontEnd.ToCircuit(scenario))
            .RunChanged(until, Near, [.. changed.Select(f => f.ToCircuit(scenario).Compile())], cancel);
    }

    /// <summary>The circuit of a scenario, ready to be solved.</summary>
    /// <param name="scenario">What the sensors and the world do; null for mid-span and no event.</param>
    /// <param name="added">Elements beside those of the front end, such as a meter.</param>
    internal CompiledCircuit Compiled(Scenario? scenario = null, params ImmutableArray<Element> added) =>
        Compiled(elements => added.IsDefaultOrEmpty ? elements : elements.Concat(added), scenario);

    /// <summary>The same with its elements changed.</summary>
    /// <param name="changed">Gives the elements from those of the front end.</param>
    /// <param name="scenario">What the sensors and the world do; null for mid-span and no event.</param>
    /// <param name="settings">How closely it is solved; null for the usual. A circuit that is solved otherwise is not kept.</param>
    internal CompiledCircuit Compiled(Func<IEnumerable<Element>, IEnumerable<Element>> changed,
        Scenario? scenario = null, SolverSettings? settings = null)
    {
        var circuit = FrontEnd.ToCircuit(scenario);
        circuit = new Circuit(changed(circuit.Elements), circuit.Celsius);
        return settings is null ? _solutions.Compiled(circuit) : circuit.Compile(settings);
    }

    /// <summary>The session in which a pin is read: an external multiplexer ahead of it selects its channel.</summary>
    /// <param name="pin">Name of the pin.</param>
    internal SolvedFrontEnd Reading(string pin)
    {
        var converting = FrontEnd.FindPin(pin);
        var selecting = FrontEnd.Selecting(converting);
        return ReferenceEquals(selecting, FrontEnd) ? this : Once(("reading", converting.Channel), () => With(selecting), default);
    }

    /// <summary>The session in which a sensor's pin is read; this one where no pin reads it.</summary>
    /// <param name="sensor">Name of the sensor.</param>
    public SolvedFrontEnd ReadingOf(string sensor) =>
        FrontEnd.Pins.FirstOrDefault(p => p.Channel is not null && SignalPath.SensorOf(FrontEnd, p)?.Name == sensor) is { } pin
            ? Reading(pin.Name) : this;

    /// <summary>The mapping onto a pin, over the whole span.</summary>
    public MappingResult Mapping(string pin, string? sensor = null, CancellationToken cancel = default) =>
        Once(("mapping", pin, sensor), () => MappingStudy.Run(this, pin, sensor, cancel: cancel), cancel);

    /// <summary>The mapping onto each pin that a sensor is mapped onto.</summary>
    public ImmutableArray<MappingResult> Mappings(CancellationToken cancel = default) =>
        [.. MappingStudy.Mapped(FrontEnd).Select(p => MappingOf(p, cancel)).OfType<MappingResult>()];

    /// <summary>The mapping onto a pin; null for what is read over whole periods and does not show at the operating point, such as behind a
    /// capacitor.</summary>
    internal MappingResult? MappingOf(Pin pin, CancellationToken cancel)
    {
        try
        {
            return Mapping(pin.Name, cancel: cancel);
        }
        catch (StudyProblemException) when (FrontEnd.AlternatingReadings.Any(r => r.Pin == pin.Name))
        {
            return null;
        }
    }

    /// <inheritdoc cref="MappingStudy.Wanted"/>
    internal WantedMapping Wanted(Pin pin, Sensor sensor, CancellationToken cancel) =>
        Once(("wanted", pin, sensor), () => MappingStudy.Wanted(this, pin, sensor, cancel), cancel);

    /// <inheritdoc cref="MappingStudy.WayBack"/>
    internal ReadBack? Back(Pin pin, Sensor sensor, CancellationToken cancel) =>
        Once(("back", pin, sensor), () => new FoundBack(MappingStudy.WayBack(this, pin, sensor, cancel)), cancel).Back;

    /// <inheritdoc cref="CombinedBack.Of"/>
    internal CombinedBack Back(CombinedReading reading, CancellationToken cancel) =>
        Once(("combined back", reading), () => CombinedBack.Of(this, reading, cancel), cancel);

    private sealed record FoundBack(ReadBack? Back);

    /// <summary>What the charge of analog switches makes of a pin once they have opened.</summary>
    internal ImmutableArray<HoldPedestal> Pedestals(Pin pin, CancellationToken cancel) =>
        Once(("pedestals", pin.Name), () => new FoundPedestals(HoldPedestal.Of(this, pin, cancel)), cancel).All;

    private sealed record FoundPedestals(ImmutableArray<HoldPedestal> All);

    /// <summary>What the protection of a mapped pin costs.</summary>
    public ProtectionCosts Costs(MappingResult mapping, CancellationToken cancel = default) =>
        Once(("costs", mapping.Pin, mapping.Sensor), () => ProtectionCosts.Of(Reading(mapping.Pin), mapping, cancel), cancel);

    /// <summary>How a logic pin, or the input of a gate by the gate's name, reads its sensor.</summary>
    public LogicResult Logic(string pin, CancellationToken cancel = default) =>
        Once(("logic", pin), () => LogicStudy.Run(WithInput(pin).Reading(pin), pin, cancel), cancel);

    /// <summary>The level that a logic input is held at, whatever the sensors do.</summary>
    internal HeldLevel Held(string input, CancellationToken cancel) =>
        Once(("held", input), () => LogicStudy.Held(WithInput(input).Reading(input), input, cancel), cancel);

    // A gate's input takes current where its level is judged.
    private SolvedFrontEnd WithInput(string name) => FrontEnd.HasPin(name) ? this
        : Once("gate inputs", () => With(FrontEnd.WithGateInputs()), default);

    /// <summary>The noise of one reading of a pin.</summary>
    public PinNoise Noise(Pin pin, string sensor, CancellationToken cancel = default) =>
        Once(("noise", pin.Name, sensor), () => PinNoise.Of(Reading(pin.Name), pin, sensor, null, cancel), cancel);

    /// <summary>The same with the sensor at a value, in its unit.</summary>
    public PinNoise Noise(Pin pin, string sensor, double value, CancellationToken cancel = default) =>
        Once(("noise", pin.Name, sensor, value), () => PinNoise.Of(Reading(pin.Name), pin, sensor, value, cancel), cancel);

    /// <summary>What one sample takes from a pin.</summary>
    /// <inheritdoc cref="SamplingStudy.Run"/>
    public SamplingResult Sample(string pin, string sensor, double sensorVolts, double startVolts, CancellationToken cancel = default) =>
        Once(("sample", pin, sensor, sensorVolts, startVolts), () =>
            SamplingStudy.Run(this, pin, sensor, sensorVolts, startVolts, cancel), cancel);

    /// <summary>What an event of the front end does, all sensors at mid-span.</summary>
    public EventResult Event(FaultEvent fault, CancellationToken cancel = default) =>
        Once(("event", fault), () => EventStudy.Run(this, fault, cancel: cancel), cancel);

    /// <summary>The operating point at the worst circumstances.</summary>
    public Survival AtRest(CancellationToken cancel = default) => Once("operating point", () => Worst(null, cancel), cancel);

    /// <summary>An event of the front end at the worst circumstances.</summary>
    public Survival Survival(FaultEvent fault, CancellationToken cancel = default) =>
        Once(("survival", fault), () => Worst(fault, cancel), cancel);

    private Survival Worst(FaultEvent? fault, CancellationToken cancel) => Only is not { } only ? SurvivalStudy.Run(this, fault, cancel)
        : only.Event == fault?.Name ? SurvivalStudy.At(this, fault, only, cancel) : new([], null);

    /// <summary>The operating point and every event at the worst circumstances.</summary>
    public ImmutableArray<SurvivalRun> Everywhere(CancellationToken cancel = default) =>
        [.. AtRest(cancel).Runs, .. InCourse(cancel)?.Runs ?? [], .. FrontEnd.Events.SelectMany(e => Survival(e, cancel).Runs)];

    /// <summary>What its own sources and switches make of it as time passes; null where none of them changes.</summary>
    public Survival? InCourse(CancellationToken cancel = default) => FrontEnd.OwnCourse is { } course ? Survival(course, cancel) : null;

    /// <summary>The session at a temperature of all parts, °C.</summary>
    public SolvedFrontEnd AtCelsius(double celsius) => celsius == FrontEnd.Celsius ? this
        : Once(("temperature", celsius), () => Like(FrontEnd with { Celsius = celsius }), default);

    // One that differs little rests beside this one.
    private SolvedFrontEnd Like(FrontEnd changed) =>
        new(changed, _solutions.Next()) { Near = Beside(default), BeginsSettled = BeginsSettled };

    /// <summary>The session at each temperature that the front end is judged at: both ends and the middle of its range.</summary>
    public ImmutableArray<SolvedFrontEnd> Temperatures() => FrontEnd.CelsiusRange is not { } range ? [this]
        : [.. new[] { range.Low, range.Middle, range.High }.Select(AtCelsius)];

    /// <summary>How far the reading of a mapped pin may be off on any board, over part of the span or all of it.</summary>
    public ReadingSpread? Spread(MappingResult mapping, Span? over = null, CancellationToken cancel = default) =>
        Once(("spread", mapping.Pin, mapping.Sensor, over),
            () => new Found(ReadingSpread.Of(Reading(mapping.Pin), mapping, over, cancel)), cancel).Spread;

    private sealed record Found(ReadingSpread? Spread);

    /// <summary>How far the readings of a mapped pin are off on the boards that are built, in counts or in the sensor's unit.</summary>
    internal BoardSpread Boards(MappingResult mapping, BoardTarget target, bool inSensorUnit,
        Span? over, CancellationToken cancel = default) =>
        Once(("boards", mapping.Pin, mapping.Sensor, target, inSensorUnit, over),
            () => BoardStudy.Run(Reading(mapping.Pin), mapping, target, inSensorUnit, over, cancel), cancel);

    /// <summary>The session in which a rail holds its voltage whatever is pushed into it.</summary>
    internal SolvedFrontEnd Holding(string rail) => Once(("holding", rail), () => With(FrontEnd with
    {
        Rails = [.. FrontEnd.Rails.Select(r => r.Name == rail ? r with { Sinks = true, SourceOnly = false } : r)],
        Requirements = [.. FrontEnd.Requirements.Where(r => r is RailTakes take && take.Rail == rail)],
    }), default);

    /// <summary>The session that constants for firmware are made from: at their temperature, with pins that do not leak, as the leakage
    /// of a pin is a limit either way.</summary>
    internal SolvedFrontEnd Reference() => FrontEnd.Celsius == FrontEnd.ReferenceCelsius && FrontEnd.Pins.All(p => p.LeakageAmps == 0)
        ? this
        : Once("reference", () => With(FrontEnd with
        {
            Celsius = FrontEnd.ReferenceCelsius,
            Pins = [.. FrontEnd.Pins.Select(p => p with { LeakageAmps = 0 })],
        }), default);

    /// <summary>The session in which no pin leaks: its leakage is a limit either way, and what to expect is the middle of it.</summary>
    internal SolvedFrontEnd WithoutLeakage() => FrontEnd.Pins.All(p => p.LeakageAmps == 0) ? this
        : Once("without leakage", () => With(FrontEnd with { Pins = [.. FrontEnd.Pins.Select(p => p with { LeakageAmps = 0 })] }), default);

    /// <summary>Whether the requirements are met.</summary>
    public CheckResult Check(IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Once("check", () => CheckStudy.Judge(this, progress, cancel), cancel);

    /// <summary>The same, with what mends each requirement that is not met: every mend is tried before it is told.</summary>
    public CheckResult Mended(IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Once("mended", () => MendStudy.Run(this, Check(progress, cancel), cancel), cancel);

    /// <summary>What single faults do.</summary>
    public FaultsResult Faults(IProgress<StudyProgress>? progress = null, CancellationToken cancel = default) =>
        Once("faults", () => FaultsStudy.Run(this, progress, cancel), cancel);

    /// <summary>What the firmware sees of single faults.</summary>
    public Detection Detection(DetectionScope scope, CancellationToken cancel = default) =>
        Once(("detection", scope), () => DetectionStudy.Run(this, scope, cancel), cancel);

    /// <summary>The codes that are valid readings of a mapped pin.</summary>
    public ValidBand Band(MappingResult mapping, CancellationToken cancel = default) =>
        Once(("band", mapping.Pin, mapping.Sensor), () => DetectionStudy.BandOf(Reading(mapping.Pin), mapping, cancel), cancel);

    /// <summary>The scenario with one sensor at a value, in its unit, the others at mid-span.</summary>
    internal static Scenario At(string sensor, double value) =>
        new() { SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor, value) };

    /// <summary>The scenario with all sensors at a place of their spans.</summary>
    public Scenario At(SpanPlace place) => new()
    {
        SensorValue = FrontEnd.Sensors.ToImmutableDictionary(s => s.Name, s => s.Span.At(place switch
        {
            SpanPlace.Low => 0,
            SpanPlace.Middle => 0.5,
            _ => 1.0,
        })),
    };

    private T Once<T>(object key, Func<T> solve, CancellationToken cancel) where T : class =>
        SolutionStore.Once(_answers, key, solve, cancel);
}
