using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Conditioning;
using FrontEndSim.FrontEnds.Stages.Differential;
using FrontEndSim.FrontEnds.Stages.Filtering;
using FrontEndSim.FrontEnds.Stages.Guarding;
using FrontEndSim.FrontEnds.Stages.Rectifying;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A kind of stage that can be asked for by name: which settings it takes, and how it is built from them.</summary>
public abstract class StageKind
{
    /// <summary>Name in the circuit file: "two-stage-shifter".</summary>
    public abstract string Name { get; }

    /// <summary>What it does, in a sentence.</summary>
    public abstract string Summary { get; }

    /// <summary>Its settings, in the order of the documentation: its own, then those of every stage.</summary>
    public ImmutableArray<Setting> Settings => [.. OwnSettings, Drift];

    /// <summary>Whether it brings a sensor's span onto another, with resistors that it chooses where they are left open.</summary>
    public bool Shifts => OwnSettings.Contains(Maps) && OwnSettings.OfType<PartSetting>().Any(s => s.Part is not null);

    /// <summary>Builds the stage: chooses values, names parts and nodes, writes the hand calculation.</summary>
    /// <exception cref="StageProblemException">The target cannot be met, or settings are missing or contradict each other.</exception>
    public Stage Build(StageRequest request)
    {
        var stage = Assemble(request) with { Request = request };
        // Each value that is given is that of a part of its own.
        var left = stage.Parts.Where(p => p.Value is not null).ToList();
        foreach (var setting in OwnSettings.OfType<PartSetting>())
        {
            if (request.TryGet(setting, out var given)
                && (left.Find(p => Is(p.Value!, setting.Unit, given)) is not { } part || !left.Remove(part)))
            {
                throw new StageProblemException(setting.Name, new(ProblemKind.NoPlace, Found: new(given.Value, setting.Unit)));
            }
        }
        RefuseUnused(request, stage);
        if (!request.TryGet(Drift, out double perKelvin))
            return stage;
        if (!(perKelvin >= 0))
            throw new StageProblemException(Drift.Name, new(ProblemKind.NegativeDrift));
        return stage with
        {
            Parts = [.. stage.Parts.Select(p =>
                p is { IsResistor: true, Value.Amount: var ohms } ? p.WithValue(ohms with { TempCo = perKelvin }) : p)],
        };
    }

    /// <summary>Refuses what could act on resistors where there are none, or none that is chosen.</summary>
    private void RefuseUnused(StageRequest request, Stage stage)
    {
        int resistors = stage.Parts.Count(p => p.IsResistor);
        if (resistors == 0 && request.Has(Drift))
            throw new StageProblemException(Drift.Name, new(ProblemKind.NothingDrifts));
        // A resistor that is given without a tolerance has that of the series.
        int given = OwnSettings.OfType<PartSetting>().Count(s => s.Unit == Unit.Ohm
            && request.TryGet(s, out var value) && value.Tolerance is not null);
        if (given > 0 && given >= resistors && OwnSettings.OfType<SeriesSetting>().FirstOrDefault(request.Has) is { } series)
            throw new StageProblemException(series.Name, new(ProblemKind.NothingToChoose));
    }

    private static bool Is(PartValue own, Unit unit, (double Value, double? Tolerance) given) => own.Unit == unit
        && Math.Abs(own.Amount.Value - given.Value) <= 1e-9 * Math.Abs(given.Value)
        && (given.Tolerance is not { } tolerance || Math.Abs(own.Amount.Tolerance - tolerance) <= 1e-9);

    /// <summary>The settings that it alone has.</summary>
    protected abstract ImmutableArray<Setting> OwnSettings { get; }

    /// <summary>Builds the stage from its own settings.</summary>
    protected abstract Stage Assemble(StageRequest request);

    private static AmountSetting Drift { get; } = Amount("drift",
        "Temperature coefficient of its resistors, either way; assumed by the error budget if left out.", Unit.PerKelvin, "per-kelvin");

    /// <summary>The input and output nodes of a stage.</summary>
    public static Setting<(string Input, string Output)> Ends { get; } = EndNodes("Input and output nodes.");

    /// <summary>What a stage that shifts is to map.</summary>
    public static Setting<(Sensor Sensor, Span Span)> Maps { get; } = Mapped(false,
        "The sensor whose span lands on a span of voltage; its source resistance is taken into account.");

    /// <summary>Where a stage that shifts takes the shift from.</summary>
    public static Setting<Rail> OffsetFrom { get; } = Setting.Of("offset", false,
        "The rail that the shift is taken from; needed if the span has to be shifted.", new RailBlank("rail"), "from");

    /// <summary>A potentiometer between the offset's rail and the stage.</summary>
    public static PartSetting Potentiometer { get; } = Resistor("potentiometer",
        "A potentiometer from the offset's rail to ground gives the reference at its wiper: the resistance of its track.");

    /// <summary>How far that potentiometer is turned.</summary>
    public static Setting<double> Turned { get; } = Setting.Of("turned", false,
        "How far the wiper stands from ground, a percentage of the track; chosen if left out.", new PercentBlank("position"));

    /// <summary>A divider and an op amp between the offset's rail and the stage.</summary>
    public static Setting<bool> Buffered { get; } = Setting.Flag("buffered",
        "A divider of the offset's rail gives the reference, through a follower of the same class as the stage's op amp.");

    /// <summary>That divider's resistor from the rail.</summary>
    public static PartSetting UpperDivider { get; } = Resistor("divider-upper", "Resistor of that divider from the rail, Ra.", "Ra");

    /// <summary>That divider's resistor to ground.</summary>
    public static PartSetting LowerDivider { get; } = Resistor("divider-lower", "Resistor of that divider to ground, Rb.", "Rb");

    /// <summary>The settings of a shift, from a rail as it is, by a potentiometer, or through a buffered divider.</summary>
    protected static ImmutableArray<Setting> Referred => [OffsetFrom, Potentiometer, Turned, Buffered, UpperDivider, LowerDivider];

    /// <summary>What a stage that chooses its resistors chooses from.</summary>
    public static SeriesSetting PreferredResistors { get; } =
        new("resistors", "Series of preferred numbers and tolerance of the resistors; E96 and 1 % if left out.");

    /// <summary>The class of a stage's op amp and the rails that feed it.</summary>
    public static SuppliedSetting<OpAmpType> OpAmp { get; } = OpAmpOnRails("Class of the op amp and its supply rails.");

    /// <summary>The same with words of its own.</summary>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="isRequired">Whether a stage without it cannot be built.</param>
    protected static SuppliedSetting<OpAmpType> OpAmpOnRails(string help, bool isRequired = true) => new("opamp", isRequired, help,
        new NameBlank<OpAmpType>("type", "class of op amp", "bipolar-general",
            c => c.OpAmps.Select(t => new Choice<OpAmpType>(t.Name, () => t)), t => t.Name));

    /// <summary>Input and output nodes with words of their own.</summary>
    /// <param name="help">What they are, in a sentence.</param>
    protected internal static Setting<(string Input, string Output)> EndNodes(string help) =>
        Setting.Of("from", true, help, new NodeBlank("input"), "to", new NodeBlank("output"));

    /// <summary>A mapping with words of its own.</summary>
    /// <param name="isRequired">Whether a stage without it cannot be built.</param>
    /// <param name="help">What it means, in a sentence.</param>
    protected static Setting<(Sensor Sensor, Span Span)> Mapped(bool isRequired, string help) =>
        Setting.Of("maps", isRequired, help, new SensorBlank("sensor"), "onto", new SpanBlank("span", Unit.Volts));

    /// <summary>An amount that may be left out.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="blank">Name of its blank.</param>
    protected internal static AmountSetting Amount(string name, string help, Unit unit, string blank = "value") =>
        new(name, false, help, new(blank, unit));

    /// <summary>An amount that a stage cannot do without.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="blank">Name of its blank.</param>
    protected internal static AmountSetting RequiredAmount(string name, string help, Unit unit, string blank = "value") =>
        new(name, true, help, new(blank, unit));

    /// <summary>A resistor's value that may be left out.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="help">What it is, in a sentence.</param>
    /// <param name="part">Name of the resistor, without the stage's, where the stage chooses it if left out.</param>
    protected internal static PartSetting Resistor(string name, string help, string? part = null) =>
        new(name, false, help, Unit.Ohm) { Part = part };

    /// <summary>A capacitor's value that may be left out.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="help">What it is, in a sentence.</param>
    protected internal static PartSetting Capacitor(string name, string help) => new(name, false, help, Unit.Farad);

    /// <summary>A blank for a type of diode.</summary>
    /// <param name="kinds">The kinds that may be named.</param>
    protected internal static NameBlank<DiodeType> DiodeBlank(params DiodeKind[] kinds) => new("type", "diode type", "1N5817 or 3V6",
        c => c.Diodes.Where(d => kinds.Contains(d.Kind)).Select(d => new Choice<DiodeType>(d.Name, () => PartCatalogue.Type(d))),
        d => d.Name);

    /// <summary>A type of diode that may be left out.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="help">What it is, in a sentence.</param>
    /// <param name="kinds">The kinds that may be named.</param>
    protected internal static Setting<DiodeType> Diode(string name, string help, params DiodeKind[] kinds) =>
        Setting.Of(name, false, help, DiodeBlank(kinds));

    /// <summary>A setting that names a type of transistor.</summary>
    /// <param name="isRequired">Whether a stage without it cannot be built.</param>
    /// <param name="help">What it is, in a sentence.</param>
    protected static Setting<TransistorType> Transistor(bool isRequired, string help) => Setting.Of("transistor", isRequired, help,
        new NameBlank<TransistorType>("type", "transistor type", "2N3904",
            c => c.Types.OfType<TransistorType>().Select(t => new Choice<TransistorType>(t.Name, () => t)), t => t.Name));

    /// <summary>A blank for one of some words.</summary>
    /// <param name="name">The blank's name.</param>
    /// <param name="words">The words, each with what it stands for.</param>
    protected internal static NameBlank<T> OneOf<T>(string name, params (string Word, T Value)[] words) where T : notnull =>
        new(name, name, null, _ => words.Select(w => new Choice<T>(w.Word, () => w.Value)), v => words.First(w => w.Value.Equals(v)).Word);
}

/// <summary>The kinds of stage that come with the tool.</summary>
public static class StageKinds
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<StageKind> All { get; } =
    [
        new TwoStageShifter(), new SingleStageShifter(), new DifferenceStage(), new PassiveShifter(), new Divider(), new BufferStage(),
        new PinGuard(), new RailClampGuard(), new RcFilter(), new SallenKey(), new MultipleFeedback(), new InstrumentationAmplifier(),
        new BridgeAmplifier(), new Transimpedance(), new ChargeAmplifier(), new SensorDivider(),
            new SensorCurrent(), new MidRail(), new PrecisionRectifier(), new PeakHold(),
        new LoopReceiver(), new LogicInput(), new OpenCollectorInput(), new HysteresisComparator(), new TransistorSwitch(),
        new ReverseProtection(), new SupplyClamp(),
    ];

    /// <summary>The kind of that name, or null.</summary>
    public static StageKind? Find(string name) => All.FirstOrDefault(k => k.Name == name);
}

/// <summary>A stage cannot be built as asked for.</summary>
/// <param name="setting">The setting that stands in the way, or null.</param>
/// <param name="problem">What stands in the way.</param>
public sealed class StageProblemException(string? setting, Problem problem) : Exception(problem.ToString())
{
    /// <summary>What stands in the way, with the setting.</summary>
    public Problem Problem { get; } = problem with { Setting = setting };
}
