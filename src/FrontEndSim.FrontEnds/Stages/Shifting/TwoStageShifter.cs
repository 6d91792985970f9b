using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>An inverting summing stage and an inverting stage.</summary>
public sealed class TwoStageShifter : StageKind
{
    /// <inheritdoc/>
    public override string Name => "two-stage-shifter";

    /// <inheritdoc/>
    public override string Summary =>
        "Scales a sensor's span and shifts it by a reference: an inverting summing stage, then an inverting stage that turns the sign "
            + "back.";

    /// <inheritdoc/>
    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends,
        Maps,
        OffsetFrom,
        .. Potentiometer,
        .. BufferedReference,
        OpAmpOnRails("Class of both op amps and their supply rails."),
        PreferredResistors,
        Setting.Of("compensated", false, "Adds a resistor to each plus input that cancels the bias current's offset."),
        Setting.Of("input", false, "Resistor from the input to the summing node, R1.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("reference", false, "Resistor from the reference to the summing node, Rr.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("feedback", false, "Feedback resistor of the summing stage, Rf1.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("second-input", false, "Input resistor of the second stage, R2.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("second-feedback", false, "Feedback resistor of the second stage, Rf2.", Value("value", Unit.Ohm), Tolerance),
    ];

    /// <inheritdoc/>
    protected override Stage Assemble(StageRequest request)
    {
        string input = request.Text("from.input"), output = request.Text("from.output"), name = request.Name;
        var type = request.OpAmp("opamp.type");
        Rail positive = request.Rail("opamp.positive"), negative = request.Rail("opamp.negative");
        var wish = ShiftWish.Read(request);
        ShifterLimits.CheckSupply(type, positive, negative);

        var values = ShifterValues.Choose(request, wish, new ShifterLimits(type, positive, negative));
        wish = wish.Turned(reference => (values with { ReferenceSource = reference }).Ideal);
        values = values with { ReferenceSource = wish.Reference };
        string sum1 = name + ".SUM1", out1 = name + ".OUT1", sum2 = name + ".SUM2";
        ResistorPart? compensation1 = null, compensation2 = null;
        if (request.Has("compensated"))
        {
            compensation1 = Compensation(name + ".Rc1", name + ".PLUS1", values.Parallel1, values);
            compensation2 = Compensation(name + ".Rc2", name + ".PLUS2", values.Parallel2, values);
        }
        Part?[] parts =
        [
            new ResistorPart(name + ".R1", input, sum1, values.Input),
            values.Reference is { } rr ? new ResistorPart(name + ".Rr", wish.Reference!.Node, sum1, rr) : null,
            new ResistorPart(name + ".Rf1", sum1, out1, values.Feedback),
            new OpAmpPart(name + ".U1", compensation1?.From ?? Circuit.Ground, sum1, out1, positive.Name, negative.Name, type),
            compensation1,
            new ResistorPart(name + ".R2", out1, sum2, values.SecondInput),
            new ResistorPart(name + ".Rf2", sum2, output, values.SecondFeedback),
            new OpAmpPart(name + ".U2", compensation2?.From ?? Circuit.Ground, sum2, output, positive.Name, negative.Name, type),
            compensation2,
            .. wish.Reference?.Parts ?? [],
        ];
        var math = new ShifterMath(name, output, values, wish, type, compensation1, compensation2);
        return new Stage(name, Name, [new("from", input), new("to", output)], [.. parts.OfType<Part>()])
        {
            HandMath = math.Steps(),
            Ideal = values.Ideal,
            Expected = math.Expected(),
            Mapping = wish.Mapping,
        };
    }

    private static ResistorPart Compensation(string name, string node, double parallel, ShifterValues values) =>
        new(name, node, Circuit.Ground, new Toleranced(values.Series.Nearest(parallel), values.Input.Tolerance));
}
