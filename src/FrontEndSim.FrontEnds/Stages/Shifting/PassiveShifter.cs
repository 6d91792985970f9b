using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Conditioning;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>Three resistors to one node: from the input, from a reference, to ground. No supply, and no gain above one.</summary>
internal sealed class PassiveShifter : StageKind
{
    public override string Name => "passive-shifter";

    public override string Summary =>
        "Scales a sensor's span down and shifts it by a reference with three resistors; without a reference it is a divider.";

    private static PartSetting Reference { get; } = Resistor("reference", "Resistor from the reference to the output, R2.", "R2");

    private static PartSetting Ground { get; } = Resistor("ground", "Resistor from the output to ground, R3.", "R3");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Maps, OffsetFrom, Potentiometer, Turned, Divider.Impedance, PreferredResistors, Divider.Input, Reference, Ground];

    protected override Stage Assemble(StageRequest request)
    {
        var target = ShiftTarget.Read(request);
        Divider.RefuseImpedance(request, Divider.Input);
        var (first, second, third) = (target.Given(request, Divider.Input), target.Given(request, Reference),
            target.Given(request, Ground));
        if (second is not null && target.Reference is null)
            throw target.Unreferenced();
        Network values = target.Mapping is null
            ? new(first?.Value ?? throw target.Missing(Divider.Input), second?.Value, third?.Value, target.SourceOhms, target.Reference)
            : Choose(target, request, first, second, third);
        target = target.Turned(reference => (values with { Reference = reference }).Line);
        values = values with { Reference = target.Reference };

        var (input, output) = request.Get(Ends);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(request.Name + ".R1", input, output, first ?? target.Chosen(values.R1)) { Role = Role.InputResistor });
        if (values.R2 is { } r2)
        {
            parts.Add(new ResistorPart(request.Name + ".R2", target.Reference!.Node, output, second ?? target.Chosen(r2))
            {
                Role = Role.ReferenceResistor,
            });
        }
        if (values.R3 is { } r3)
        {
            parts.Add(new ResistorPart(request.Name + ".R3", output, Circuit.Ground, third ?? target.Chosen(r3))
            {
                Role = Role.ResistorToGround,
            });
        }
        parts.AddRange(target.Reference?.Parts ?? []);
        return new Stage(request.Name, Name, [new("from", input), new("to", output)], parts.ToImmutable())
        {
            HandMath = [.. ShiftHandMath.Wanted(target), .. target.Reference?.HandMath ?? [], .. HandMath(values, target, output)],
            Ideal = values.Line,
            Expected = values.Line,
            Mapping = target.Mapping,
        };
    }

    /// <summary>R1 over a decade around what the impedance asks for; R2 and R3 follow from the mapping for each.</summary>
    private static Network Choose(ShiftTarget target, StageRequest request, Toleranced? first, Toleranced? second, Toleranced? third)
    {
        double gain = target.Gain, share = target.ReferenceGain, rest = 1 - gain - share;
        if (share < 0)
            throw new StageProblemException("offset", new(ProblemKind.AverageOfOtherSign, target.Reference!.Rail, "",
                new(target.Offset, Unit.Volts), High: new(target.ReferenceVolts, Unit.Volts)));
        if (rest < -1e-9)
            throw new StageProblemException("maps", new(ProblemKind.AverageAboveOne, Found: Quantity.Number(gain))
            {
                Wanted = share > 0 ? Quantity.Number(share) : null,
            });
        double impedance = request.Positive(Divider.Impedance, 4.7e3);
        double conductance = 1 / impedance; // G1 is its share `gain`, G2 its share `share`
        var candidates = from r1 in target.Decade(first, impedance / gain / Math.Sqrt(10))
                         let total = 1 / ((r1 + target.SourceOhms) * gain)
                         from r2 in share == 0 ? Absent : Some(target.Near(second, 1 / (share * total) - target.ReferenceOhms))
                         from r3 in rest < 1e-9 ? Absent : Some(target.Near(third, 1 / (rest * total)))
                         select new Network(r1, r2, r3, target.SourceOhms, target.Reference);
        return target.Best(candidates, n => n.Line, n => Math.Abs(Math.Log(n.OutputOhms * conductance)));
    }

    private static readonly double?[] Absent = [null];

    private static IEnumerable<double?> Some(IEnumerable<double> values) => values.Select(v => (double?)v);

    private static IEnumerable<HandStep> HandMath(Network n, ShiftTarget target, string output)
    {
        string source = n.SourceOhms > 0 ? $"({ShiftHandMath.Ohms(n.R1)} + {ShiftHandMath.Ohms(n.SourceOhms)})" : ShiftHandMath.Ohms(n.R1);
        string r1 = ShiftHandMath.WithSource("R1", n.SourceOhms);
        string[] formulas = [$"1/{r1}", .. n.R2 is null ? Array.Empty<string>()
            : [$"1/{n.ReferenceName}"], .. n.R3 is null ? Array.Empty<string>() : ["1/R3"]];
        string[] numbers =
        [
            $"1/{source}", .. n.ReferenceLeg is { } r2 ? [$"1/{ShiftHandMath.Ohms(r2)}"] : Array.Empty<string>(),
            .. n.R3 is { } r3 ? [$"1/{ShiftHandMath.Ohms(r3)}"] : Array.Empty<string>(),
        ];
        double resistance = n.OutputOhms;
        yield return new("output resistance", $"Ro = 1/({string.Join(" + ", formulas)})",
            $"1/({string.Join(" + ", numbers)})", resistance, "ohm")
        { Measure = new ResistanceMeasure(output) };
        yield return new("gain", $"G = Ro/{r1}", $"{ShiftHandMath.Ohms(resistance)}/{source}", n.Line.Gain, "");
        if (n.ReferenceLeg is { } reference)
            yield return new("shift", $"Vo(0) = Vref·Ro/{n.ReferenceName}",
                $"{SiText.Format(target.ReferenceVolts, "V")}·{ShiftHandMath.Ohms(resistance)}/{ShiftHandMath.Ohms(reference)}",
                    n.Line.OffsetVolts, "V");
        foreach (var step in ShiftHandMath.Ends(target, n.Line))
            yield return step;
    }

    /// <summary>Millman's theorem: vo = (v1·G1 + vref·G2)/(G1 + G2 + G3).</summary>
    private sealed record Network(double R1, double? R2, double? R3, double SourceOhms, ShiftReference? Reference)
        : ReferencedNetwork(Reference)
    {
        protected override (string Name, double? Ohms) ToReference => ("R2", R2);

        public double OutputOhms => 1 / (1 / (R1 + SourceOhms) + (1 / ReferenceLeg ?? 0) + (1 / R3 ?? 0));

        public LinearExpectation Line => new(OutputOhms / (R1 + SourceOhms), ReferenceLeg is { } r2
            ? Reference!.Volts * OutputOhms / r2 : 0);
    }
}
