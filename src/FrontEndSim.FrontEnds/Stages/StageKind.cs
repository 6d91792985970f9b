using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
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

    /// <summary>Builds the stage: chooses values, names parts and nodes, writes the hand calculation.</summary>
    /// <exception cref="StageProblemException">The wish cannot be met, or settings are missing or contradict each other.</exception>
    public Stage Build(StageRequest request)
    {
        var stage = Assemble(request) with { Request = request };
        if (OwnSettings.FirstOrDefault(s => request.Has(s.Name) && !IsUsed(stage, s, request)) is { } left)
            throw new StageProblemException(left.Name,
                $"{left.Name} {request.Values[left.Name + ".value"]} has no place in this stage: with these settings it has no such part.",
                "Leave it out, or say what makes the part needed.");
        if (!request.Has(Drift.Name))
            return stage;
        double perKelvin = request.Value(Drift.Name + ".per-kelvin", Unit.PerKelvin);
        if (!(perKelvin >= 0))
            throw new StageProblemException(Drift.Name, "A temperature coefficient is given as a limit either way, zero or more.",
                "25 ppm/K stand for ±25 ppm/K.");
        return stage with
        {
            Parts = [.. stage.Parts.Select(p =>
            p is ResistorPart r ? r with { Ohms = r.Ohms with { TempCo = perKelvin } } : p)]
        };
    }

    /// <summary>Whether the value of a setting is that of a part: only parts have a tolerance.</summary>
    private static bool IsUsed(Stage stage, Setting setting, StageRequest request) => !setting.Phrase.Contains(Tolerance)
        || !request.Values.TryGetValue(setting.Name + ".value", out object? given) || given is not Quantity value
        || stage.Parts.Any(p => p.Value is { } own && own.Unit == value.Unit
            && Math.Abs(own.Amount.Value - value.Value) <= 1e-9 * Math.Abs(value.Value));

    /// <summary>The settings that it alone has.</summary>
    protected abstract ImmutableArray<Setting> OwnSettings { get; }

    /// <summary>Builds the stage from its own settings.</summary>
    protected abstract Stage Assemble(StageRequest request);

    private static Setting Drift { get; } =
        Setting.Of("drift", false, "Temperature coefficient of its resistors, either way; assumed by the error budget if left out.",
            Value("per-kelvin", Unit.PerKelvin));

    // Stands first: the settings below are made of it, in the order written.
    /// <summary>A slot for a tolerance, which may be left out.</summary>
    protected static Slot Tolerance { get; } = new("tolerance", SlotKind.Percent, null, Optional: true);

    /// <summary>The input and output nodes of a stage.</summary>
    protected static Setting Ends { get; } =
        Setting.Of("from", true, "Input and output nodes.", Node("input"), new Keyword("to"), Node("output"));

    /// <summary>What a stage that shifts is to map.</summary>
    protected static Setting Maps { get; } =
        Setting.Of("maps", false, "The sensor whose span lands on a span of voltage; its source resistance is taken into account.",
            new Slot("sensor", SlotKind.Sensor), new Keyword("onto"), new Slot("span", SlotKind.Span, Unit.Volts));

    /// <summary>Where a stage that shifts takes the shift from.</summary>
    protected static Setting OffsetFrom { get; } =
        Setting.Of("offset", false, "The rail that the shift is taken from; needed if the span has to be shifted.",
            new Keyword("from"), new Slot("rail", SlotKind.Rail));

    /// <summary>A potentiometer between the offset's rail and the stage.</summary>
    protected static ImmutableArray<Setting> Potentiometer { get; } =
    [
        Setting.Of("potentiometer", false,
            "A potentiometer from the offset's rail to ground gives the reference at its wiper: the resistance of its track.",
            Value("value", Unit.Ohm), Tolerance),
        Setting.Of("turned", false, "How far the wiper stands from ground, a percentage of the track; chosen if left out.",
            new Slot("position", SlotKind.Percent)),
    ];

    /// <summary>A divider and an op amp between the offset's rail and the stage.</summary>
    protected static ImmutableArray<Setting> BufferedReference { get; } =
    [
        Setting.Of("buffered", false,
            "A divider of the offset's rail gives the reference, through a follower of the same class as the stage's op amp."),
        Setting.Of("divider-upper", false, "Resistor of that divider from the rail, Ra.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("divider-lower", false, "Resistor of that divider to ground, Rb.", Value("value", Unit.Ohm), Tolerance),
    ];

    /// <summary>What a stage that chooses its resistors chooses from.</summary>
    protected static Setting PreferredResistors { get; } =
        Setting.Of("resistors", false, "Series of preferred numbers and tolerance of the resistors; E96 and 1 % if left out.",
            new Slot("series", SlotKind.SeriesName), Tolerance);

    /// <summary>The class of a stage's op amps and the rails that feed them.</summary>
    protected static Setting OpAmpOnRails(string help) =>
        Setting.Of("opamp", true, help, new Slot("type", SlotKind.OpAmpName), new Keyword("on"),
            new Slot("positive", SlotKind.Rail), new Keyword("and"), new Slot("negative", SlotKind.Rail));

    /// <summary>A slot for a node.</summary>
    protected static Slot Node(string name) => new(name, SlotKind.Node);

    /// <summary>A slot for a quantity in a unit.</summary>
    protected static Slot Value(string name, Unit unit) => new(name, SlotKind.Quantity, unit);
}

/// <summary>The kinds of stage that come with the tool.</summary>
public static class StageKinds
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<StageKind> All { get; } =
    [
        new TwoStageShifter(), new SingleStageShifter(), new DifferenceStage(), new PassiveShifter(), new Divider(), new BufferStage(),
        new PinGuard(), new RailClampGuard(), new RcFilter(), new SallenKey(), new MultipleFeedback(), new InstrumentationAmplifier(),
        new Transimpedance(), new SensorDivider(), new SensorCurrent(), new MidRail(), new PrecisionRectifier(),
            new PeakHold(), new LoopReceiver(), new LogicInput(), new OpenCollectorInput(),
            new HysteresisComparator(), new TransistorSwitch(), new ReverseProtection(), new SupplyClamp(),
    ];

    /// <summary>The kind of that name, or null.</summary>
    public static StageKind? Find(string name) => All.FirstOrDefault(k => k.Name == name);
}

/// <summary>A stage cannot be built as asked for.</summary>
/// <param name="setting">The setting that stands in the way, or null.</param>
/// <param name="message">What is wrong, a sentence.</param>
/// <param name="suggestion">What to change, a sentence; may be empty.</param>
public sealed class StageProblemException(string? setting, string message, string suggestion) : Exception(message)
{
    /// <summary>Name of the setting that stands in the way, or null.</summary>
    public string? Setting { get; } = setting;

    /// <summary>What to change, a sentence; may be empty.</summary>
    public string Suggestion { get; } = suggestion;
}
