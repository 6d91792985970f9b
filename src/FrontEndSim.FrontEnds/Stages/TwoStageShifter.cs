using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>An inverting summing stage and an inverting stage.</summary>
public sealed class TwoStageShifter : StageKind
{
    /// <inheritdoc/>
    public override string Name => "two-stage-shifter";

    /// <inheritdoc/>
    public override string Summary =>
        "Scales a sensor's span and shifts it by a reference: an inverting summing stage, then an inverting stage that turns the sign back.";

    /// <inheritdoc/>
    public override ImmutableArray<Setting> Settings { get; } =
    [
        Setting.Of("from", true, "Input and output nodes.", Node("input"), new Keyword("to"), Node("output")),
        Setting.Of("maps", false, "The sensor whose span lands on a span of voltage; its source resistance is taken into account.",
            new Slot("sensor", SlotKind.Sensor), new Keyword("onto"), new Slot("span", SlotKind.Span, Unit.Volts)),
        Setting.Of("offset", false, "The rail that the shift is taken from; needed if the span has to be shifted.",
            new Keyword("from"), new Slot("rail", SlotKind.Rail)),
        Setting.Of("opamp", true, "Class of both op amps and their supply rails.", new Slot("type", SlotKind.OpAmpName), new Keyword("on"),
            new Slot("positive", SlotKind.Rail), new Keyword("and"), new Slot("negative", SlotKind.Rail)),
        Setting.Of("resistors", false, "Series of preferred numbers and tolerance of the resistors; E96 and 1 % if left out.",
            new Slot("series", SlotKind.SeriesName), Tolerance),
        Setting.Of("compensated", false, "Adds a resistor to each plus input that cancels the bias current's offset."),
        Setting.Of("input", false, "Resistor from the input to the summing node, R1.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("reference", false, "Resistor from the reference to the summing node, Rr.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("feedback", false, "Feedback resistor of the summing stage, Rf1.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("second-input", false, "Input resistor of the second stage, R2.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("second-feedback", false, "Feedback resistor of the second stage, Rf2.", Value("value", Unit.Ohm), Tolerance),
    ];

    /// <inheritdoc/>
    public override Stage Build(StageRequest request) => throw new NotImplementedException();
}
