using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>An inverting summing stage and an inverting stage.</summary>
internal sealed class TwoStageShifter : StageKind
{
    public override string Name => "two-stage-shifter";

    public override string Summary =>
        "Scales a sensor's span and shifts it by a reference: an inverting summing stage, then an inverting stage that turns the sign "
        + "back.";

    /// <summary>Whether each plus input gets a resistor.</summary>
    internal static Setting<bool> Compensated { get; } =
        Setting.Flag("compensated", "Adds a resistor to each plus input that cancels the bias current's offset.");

    /// <summary>The input resistor.</summary>
    internal static PartSetting Input { get; } = Resistor("input", "Resistor from the input to the summing node, R1.", "R1");

    /// <summary>The reference resistor.</summary>
    internal static PartSetting Reference { get; } =
        Resistor("reference", "Resistor from the reference to the summing node, Rr.", "Rr");

    /// <summary>The first stage's feedback resistor.</summary>
    internal static PartSetting Feedback { get; } = Resistor("feedback", "Feedback resistor of the summing stage, Rf1.", "Rf1");

    /// <summary>The second stage's input resistor.</summary>
    internal static PartSetting SecondInput { get; } = Resistor("second-input", "Input resistor of the second stage, R2.", "R2");

    /// <summary>The second stage's feedback resistor.</summary>
    internal static PartSetting SecondFeedback { get; } =
        Resistor("second-feedback", "Feedback resistor of the second stage, Rf2.", "Rf2");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends, Maps, .. Referred, OpAmpOnRails("Class of both op amps and their supply rails."), PreferredResistors, Compensated, Input,
        Reference, Feedback, SecondInput, SecondFeedback,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp);
        var target = ShiftTarget.Read(request);
        amp.CheckedAtGround();

        var values = ShifterValues.Choose(request, target, new ShifterLimits(amp.Type, amp.Positive, amp.Negative));
        target = target.Turned(reference => (values with { ReferenceSource = reference }).Ideal);
        values = values with { ReferenceSource = target.Reference };
        string sum1 = name + ".SUM1", out1 = name + ".OUT1", sum2 = name + ".SUM2";
        ResistorPart? compensation1 = null, compensation2 = null;
        if (request.Has(Compensated))
        {
            compensation1 = Compensation(name + ".Rc1", name + ".PLUS1", values.Parallel1, target);
            compensation2 = Compensation(name + ".Rc2", name + ".PLUS2", values.Parallel2, target);
        }
        Part?[] parts =
        [
            new ResistorPart(name + ".R1", input, sum1, values.Input),
            values.Reference is { } rr ? new ResistorPart(name + ".Rr", target.Reference!.Node, sum1, rr) : null,
            new ResistorPart(name + ".Rf1", sum1, out1, values.Feedback),
            amp.Part(name + ".U1", compensation1?.From ?? Circuit.Ground, sum1, out1),
            compensation1,
            new ResistorPart(name + ".R2", out1, sum2, values.SecondInput),
            new ResistorPart(name + ".Rf2", sum2, output, values.SecondFeedback),
            amp.Part(name + ".U2", compensation2?.From ?? Circuit.Ground, sum2, output),
            compensation2,
            .. target.Reference?.Parts ?? [],
        ];
        var math = new ShifterMath(name, output, values, target, amp.Type, compensation1, compensation2);
        return new Stage(name, Name, [new("from", input), new("to", output)], [.. parts.OfType<Part>()])
        {
            HandMath = math.Steps(),
            Ideal = values.Ideal,
            Expected = math.Expected(),
            Mapping = target.Mapping,
        };
    }

    private static ResistorPart Compensation(string name, string node, double parallel, ShiftTarget target) =>
        new(name, node, Circuit.Ground, target.Chosen(target.Series.Nearest(parallel)));
}
