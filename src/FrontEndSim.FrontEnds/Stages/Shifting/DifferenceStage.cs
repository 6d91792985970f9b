using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>A difference amplifier whose reference divider is part of its balance.</summary>
internal sealed class DifferenceStage : StageKind
{
    public override string Name => "difference-stage";

    public override string Summary =>
        "Amplifies the difference between the input and another node, and adds or subtracts a divided reference; one op amp.";

    private static Setting<string> Against { get; } = Setting.Of("against", false,
        "The node that is subtracted, such as the sensor's own ground; ground if left out.", new NodeBlank("node"));

    private static PartSetting Input { get; } = Resistor("input", "Resistor from the input to the plus input, R1.", "R1");

    private static PartSetting PlusGround { get; } = Resistor("plus-ground", "Resistor from the plus input to ground, R2.", "R2");

    private static PartSetting MinusInput { get; } =
        Resistor("minus-input", "Resistor from the node subtracted, or from ground, to the minus input, R3.", "R3");

    private static PartSetting Feedback { get; } = Resistor("feedback", "Feedback resistor, R4.", "R4");

    private static PartSetting Reference { get; } = Resistor("reference",
        "Resistor from the reference, Rr: to the plus input, or to the minus input if it subtracts.", "Rr");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends, Against, Maps, .. Referred, OpAmp, PreferredResistors, Input, PlusGround, MinusInput, Feedback, Reference,
        SingleStageShifter.Subtracts,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        var target = ShiftTarget.Read(request);
        var supplied = request.Get(OpAmp).Checked();
        var given = new Resistors<Toleranced?>(target.Given(request, Input), target.Given(request, PlusGround),
            target.Given(request, MinusInput), target.Given(request, Feedback), target.Given(request, Reference));
        if (given.Rr is not null && target.Reference is null)
            throw target.Unreferenced();
        bool remote = request.TryGet(Against, out string? other);
        other ??= Circuit.Ground;

        var network = target.Mapping is not null ? Choose(target, given, remote)
            : FromGiven(target, given, request.Has(SingleStageShifter.Subtracts));
        target = target.Turned(reference => network.With(reference).OpAmp.Ideal());
        network = network.With(target.Reference);
        var v = network.Values;
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        string plus = name + ".PLUS", minus = name + ".MINUS", ground = Circuit.Ground;
        Toleranced Of(double chosen, Toleranced? asked) => asked ?? target.Chosen(chosen);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".R1", input, plus, Of(v.R1!.Value, given.R1)));
        if (v.R2 is { } r2)
            parts.Add(new ResistorPart(name + ".R2", plus, ground, Of(r2, given.R2)));
        if (v.R3 is { } r3)
            parts.Add(new ResistorPart(name + ".R3", other, minus, Of(r3, given.R3)));
        parts.Add(new ResistorPart(name + ".R4", output, minus, Of(v.R4!.Value, given.R4)));
        if (v.Rr is { } rr)
            parts.Add(new ResistorPart(name + ".Rr", target.Reference!.Node, network.Subtracts ? minus : plus, Of(rr, given.Rr)));
        var amp = supplied.Part(name + ".U1", plus, minus, output);
        parts.Add(amp);
        StagePort[] against = remote ? [new("against", other)] : [];
        return target.Shifting(new(name, Name, [new("from", input), new("to", output), .. against], parts.ToImmutable()),
            network.OpAmp, amp, HandMath(network, amp));
    }

    private static Network FromGiven(ShiftTarget target, Resistors<Toleranced?> given, bool subtracts)
    {
        double Needed(Toleranced? value, PartSetting setting) => value?.Value ?? throw target.Missing(setting);
        if (given.R2 is null && (given.Rr is null || subtracts))
            throw target.Missing(PlusGround);
        if (given.R3 is null && (given.Rr is null || !subtracts))
            throw target.Missing(MinusInput);
        return new(new(Needed(given.R1, Input), given.R2?.Value, given.R3?.Value, Needed(given.R4, Feedback), given.Rr?.Value),
            subtracts, target.SourceOhms, target.Reference);
    }

    /// <summary>
    /// The bridge is balanced: R1 + Rs to the plus input's foot as R3 to R4. The foot that the reference joins, at the plus
    /// input, or the leg, at the minus input, is a divider whose source resistance is the resistor wanted.
    /// </summary>
    private static Network Choose(ShiftTarget target, Resistors<Toleranced?> given, bool remote)
    {
        double gain = target.Gain, share = target.ReferenceGain, reference = target.ReferenceVolts;
        bool subtracts = share < 0;
        if (subtracts && remote)
            throw new StageProblemException("against", new(ProblemKind.ReferenceJoinsSubtracted));
        double part = subtracts ? -share / gain : share; // what the divider leaves of the reference
        if (part > 1 + 1e-9)
            throw new StageProblemException("offset", new(ProblemKind.DividedReferenceTooHigh, target.Reference!.Rail, "",
                new(Math.Abs(part * reference), Unit.Volts), High: new(Math.Abs(reference), Unit.Volts)));
        var candidates = Candidates(target, given, gain, part, subtracts);
        return target.Best(candidates, n => n.OpAmp.Ideal(), n => n.Unbalance);
    }

    private static IEnumerable<Network> Candidates(ShiftTarget target, Resistors<Toleranced?> given,
        double gain, double part, bool subtracts)
    {
        // The smaller of R3 and R4 lies between 10 and 100 kohm.
        foreach (double r4 in target.Decade(given.R4, 10e3 * Math.Max(1, gain)))
        {
            double leg = r4 / gain;
            foreach (var (r3, minusReference) in subtracts ? Divider(target, given.R3, given.Rr, leg, part) : Single(target, given.R3, leg))
            {
                double actualGain = r4 * ((1 / r3 ?? 0) + (1 / (minusReference + target.ReferenceOhms) ?? 0)); // R4/R3
                double sourceLeg = r4 / actualGain;
                foreach (double r1 in target.Near(given.R1, Math.Max(10, sourceLeg - target.SourceOhms)))
                {
                    double foot = (r1 + target.SourceOhms) * actualGain;
                    foreach (var (r2, plusReference) in subtracts ? Single(target, given.R2, foot)
                        : Divider(target, given.R2, given.Rr, foot, part))
                        yield return new(new(r1, r2, r3, r4, minusReference ?? plusReference), subtracts,
                            target.SourceOhms, target.Reference);
                }
            }
        }
    }

    private static IEnumerable<(double? ToGround, double? ToReference)> Single(ShiftTarget target, Toleranced? given, double ohms)
    {
        foreach (double r in target.Near(given, ohms))
            yield return (r, null);
    }

    /// <summary>A divider that leaves a part of the reference behind a source resistance: Rr = R/part, Rg = R/(1 − part).</summary>
    private static IEnumerable<(double? ToGround, double? ToReference)> Divider(
        ShiftTarget target, Toleranced? givenGround, Toleranced? givenReference, double ohms, double part)
    {
        double?[] absent = [null];
        foreach (double? reference in part == 0 ? absent
            : target.Near(givenReference, ohms / part - target.ReferenceOhms).Select(v => (double?)v))
        {
            foreach (double? ground in part > 1 - 1e-9 ? absent : target.Near(givenGround, ohms / (1 - part)).Select(v => (double?)v))
                yield return (ground, reference);
        }
    }

    private static IEnumerable<HandStep> HandMath(Network n, OpAmpPart amp)
    {
        var v = n.Values;
        var ideal = n.OpAmp.Ideal();
        double source = v.R1!.Value + n.SourceOhms, foot = n.FootOhms, leg = n.LegOhms;
        string r1 = ShiftHandMath.WithSource("R1", n.SourceOhms);
        if (n.ReferenceLeg is { } rr)
        {
            double ground = (n.Subtracts ? v.R3 : v.R2) ?? double.PositiveInfinity;
            string groundName = n.Subtracts ? "R3" : "R2";
            // Without the resistor that loads it, the divider alone stands at the op amp's input.
            string at = n.Subtracts ? amp.Minus : amp.Plus, lifted = amp.Name[..^"U1".Length] + (n.Subtracts ? "R4" : "R1");
            double divided = n.ReferenceVolts * (double.IsInfinity(ground) ? 1 : ground / (ground + rr));
            yield return new("divided reference", double.IsInfinity(ground) ? "Vd = Vref"
                : $"Vd = Vref·{groundName}/({groundName} + {n.ReferenceName})",
                double.IsInfinity(ground) ? ShiftHandMath.V(n.ReferenceVolts)
                : $"{ShiftHandMath.V(n.ReferenceVolts)}·{ShiftHandMath.Ohms(ground)}/({ShiftHandMath.Ohms(ground)} + "
                    + $"{ShiftHandMath.Ohms(rr)})", divided, "V")
            { Measure = new VoltageMeasure(at, lifted) };
            yield return new("its source resistance", double.IsInfinity(ground) ? $"Rd = {n.ReferenceName}"
                : $"Rd = {groundName} ‖ {n.ReferenceName}",
                double.IsInfinity(ground) ? ShiftHandMath.Ohms(rr) : $"{ShiftHandMath.Ohms(ground)} ‖ {ShiftHandMath.Ohms(rr)}",
                n.Subtracts ? leg : foot, "ohm")
            { Measure = new ResistanceMeasure(at, lifted) };
        }
        string footName = v.Rr is not null && !n.Subtracts ? "Rd" : "R2", legName = v.Rr is not null && n.Subtracts ? "Rd" : "R3";
        yield return new("gain of the minus side", $"G− = R4/{legName}", $"{ShiftHandMath.Ohms(v.R4!.Value)}/{ShiftHandMath.Ohms(leg)}",
            v.R4.Value / leg, "")
        { Measure = new GainMeasure(amp.Plus, amp.Output, 1) };
        yield return new("gain of the plus side", $"G = (1 + G−)·{footName}/({r1} + {footName})",
            $"(1 + {SiText.Format(v.R4.Value / leg, "")})·{ShiftHandMath.Ohms(foot)}/({ShiftHandMath.Ohms(source)} + "
                + $"{ShiftHandMath.Ohms(foot)})",
            ideal.Gain, "");
        if (v.Rr is not null)
        {
            yield return n.Subtracts
                ? new("shift", "Vo(0) = −G−·Vd", $"−{SiText.Format(v.R4.Value / leg, "")}·Vd", ideal.OffsetVolts, "V")
                : new("shift", $"Vo(0) = (1 + G−)·Vd·{r1}/({r1} + Rd)",
                    $"(1 + {SiText.Format(v.R4.Value / leg, "")})·Vd·{ShiftHandMath.Ohms(source)}/({ShiftHandMath.Ohms(source)} + "
                        + $"{ShiftHandMath.Ohms(foot)})",
                    ideal.OffsetVolts, "V");
        }
    }

    /// <summary>The five resistors by name; null for one that is not there.</summary>
    private sealed record Resistors<T>(T R1, T R2, T R3, T R4, T Rr);

    private sealed record Network(Resistors<double?> Values, bool Subtracts, double SourceOhms, ShiftReference? Reference)
        : ReferencedNetwork(Reference)
    {
        protected override (string Name, double? Ohms) ToReference => ("Rr", Values.Rr);

        /// <summary>The same with another reference.</summary>
        public Network With(ShiftReference? reference) => new(Values, Subtracts, SourceOhms, reference);

        public OpAmpNetwork OpAmp { get; } = new(
            [
                new Leg(Values.R1!.Value + SourceOhms, 0, IsInput: true),
                .. Values.R2 is { } r2 ? [new Leg(r2, 0)] : Array.Empty<Leg>(),
                .. Subtracts ? [] : ShiftReference.LegOf(Values.Rr, Reference),
            ],
            [
                .. Values.R3 is { } r3 ? [new Leg(r3, 0)] : Array.Empty<Leg>(),
                .. Subtracts ? ShiftReference.LegOf(Values.Rr, Reference) : [],
            ], Values.R4!.Value);

        /// <summary>From the plus input to ground without the input's resistor, ohm.</summary>
        public double FootOhms => 1 / OpAmp.Plus.Where(l => !l.IsInput).Sum(l => l.Siemens);

        /// <summary>From the minus input to ground without the feedback resistor, ohm.</summary>
        public double LegOhms => 1 / OpAmp.Minus.Sum(l => l.Siemens);

        /// <summary>How far the bridge is from balance, which lets the common mode and the bias current through.</summary>
        public double Unbalance => Math.Abs(Math.Log(FootOhms / (Values.R1!.Value + SourceOhms) / (Values.R4!.Value / LegOhms)));
    }
}
