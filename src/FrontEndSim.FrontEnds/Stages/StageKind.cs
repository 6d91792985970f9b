using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>A kind of stage that can be asked for by name: which settings it takes, and how it is built from them.</summary>
public abstract class StageKind
{
    /// <summary>Name in the circuit file: "two-stage-shifter".</summary>
    public abstract string Name { get; }

    /// <summary>What it does, in a sentence.</summary>
    public abstract string Summary { get; }

    /// <summary>Its settings, in the order of the documentation.</summary>
    public abstract ImmutableArray<Setting> Settings { get; }

    /// <summary>Builds the stage: chooses values, names parts and nodes, writes the hand math.</summary>
    /// <exception cref="StageProblemException">The wish cannot be met, or settings are missing or contradict each other.</exception>
    public abstract Stage Build(StageRequest request);

    /// <summary>A slot for a node.</summary>
    private protected static Slot Node(string name) => new(name, SlotKind.Node);

    /// <summary>A slot for a quantity in a unit.</summary>
    private protected static Slot Value(string name, Unit unit) => new(name, SlotKind.Quantity, unit);

    /// <summary>A slot for a tolerance, which may be left out.</summary>
    private protected static Slot Tolerance { get; } = new("tolerance", SlotKind.Percent, null, Optional: true);
}

/// <summary>The kinds of stage that come with the tool.</summary>
public static class StageKinds
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<StageKind> All { get; } = [new TwoStageShifter(), new SingleStageShifter(), new DifferenceStage(), new PassiveShifter(), new PinGuard(), new RcFilter(), new LoopReceiver()];

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
