using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>A passive low-pass filter of one or two sections.</summary>
public sealed class RcFilter : StageKind
{
    /// <inheritdoc/>
    public override string Name => "rc-filter";

    /// <inheritdoc/>
    public override string Summary => "Passive low-pass filter of one or two resistor-capacitor sections.";

    /// <inheritdoc/>
    public override ImmutableArray<Setting> Settings { get; } =
    [
        Setting.Of("from", true, "Input and output nodes.", Node("input"), new Keyword("to"), Node("output")),
        Setting.Of("resistor", false, "Resistor of the first section.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("capacitor", false, "Capacitor of the first section.", Value("value", Unit.Farad), Tolerance),
        Setting.Of("corner", false, "Frequency at which the whole filter is 3 dB down; give it with a resistor or a capacitor.",
            Value("value", Unit.Hertz)),
        Setting.Of("poles", false, "Number of sections, 1 or 2; the second has ten times the impedance of the first.",
            new Slot("count", SlotKind.Count)),
    ];

    /// <inheritdoc/>
    public override Stage Build(StageRequest request) => throw new NotImplementedException();
}
