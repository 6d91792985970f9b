using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>
/// A line that configures a stage, such as <c>maps SENSOR onto SPAN</c>. The language reads settings from this alone.
/// A value given is stored under "SETTING.SLOT" ("maps.sensor"); a setting without slots is stored as true under its name.
/// </summary>
/// <param name="Name">Name of the setting, and its first keyword.</param>
/// <param name="Phrase">What a person writes, in order; the first piece is the keyword <paramref name="Name"/>.</param>
/// <param name="Required">Whether a stage without it cannot be built.</param>
/// <param name="Help">What it means, in a sentence.</param>
public sealed record Setting(string Name, ImmutableArray<PhrasePiece> Phrase, bool Required, string Help)
{
    /// <summary>A setting from its pieces after the first keyword.</summary>
    /// <param name="name">Name of the setting, and its first keyword.</param>
    /// <param name="required">Whether a stage without it cannot be built.</param>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="rest">What follows the keyword.</param>
    public static Setting Of(string name, bool required, string help, params ReadOnlySpan<PhrasePiece> rest) =>
        new(name, [new Keyword(name), .. rest], required, help);

    /// <summary>How it is written: "maps SENSOR onto SPAN".</summary>
    public override string ToString() => string.Join(" ", Phrase);
}

/// <summary>A word or a value in a phrase.</summary>
public abstract record PhrasePiece;

/// <summary>A word that stands as it is.</summary>
/// <param name="Text">The word.</param>
public sealed record Keyword(string Text) : PhrasePiece
{
    /// <inheritdoc/>
    public override string ToString() => Text;
}

/// <summary>A place for a value.</summary>
/// <param name="Name">Name of the slot, unique in its setting.</param>
/// <param name="Kind">What goes there.</param>
/// <param name="Unit">The unit of a quantity or span; null where there is none.</param>
/// <param name="Optional">Whether it may be left out (only at the end of a phrase).</param>
public sealed record Slot(string Name, SlotKind Kind, Unit? Unit = null, bool Optional = false) : PhrasePiece
{
    /// <summary>The words that may stand there; empty for all but a <see cref="SlotKind.Choice"/>.</summary>
    public ImmutableArray<string> Choices { get; init; } = [];

    /// <inheritdoc/>
    public override string ToString() => Optional ? $"[{Name.ToUpperInvariant()}]" : Name.ToUpperInvariant();
}

/// <summary>What goes into a slot, and the type of the value that a <see cref="StageRequest"/> holds for it.</summary>
public enum SlotKind
{
    /// <summary>Name of a node (string).</summary>
    Node,

    /// <summary>Name of a rail (string).</summary>
    Rail,

    /// <summary>Name of a sensor (string).</summary>
    Sensor,

    /// <summary>Name of a diode type of any kind (string).</summary>
    PartName,

    /// <summary>A quantity in the slot's unit (<see cref="FrontEndSim.FrontEnds.Quantities.Quantity"/>).</summary>
    Quantity,

    /// <summary>A percentage (double, the fraction: 1 % is 0.01).</summary>
    Percent,

    /// <summary>A span in the slot's unit (<see cref="FrontEndSim.FrontEnds.Quantities.Span"/>).</summary>
    Span,

    /// <summary>Name of an E series: "E24" (string).</summary>
    SeriesName,

    /// <summary>Name of an op amp class (string).</summary>
    OpAmpName,

    /// <summary>Name of a type of pin that has a gate: "cmos-hc" (string).</summary>
    LogicFamily,

    /// <summary>A whole number (int).</summary>
    Count,

    /// <summary>Name of a class of comparator (string).</summary>
    ComparatorName,

    /// <summary>Name of a transistor type (string).</summary>
    TransistorName,

    /// <summary>One of the slot's words (string).</summary>
    Choice,
}
