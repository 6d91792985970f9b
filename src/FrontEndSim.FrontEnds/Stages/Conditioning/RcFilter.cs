using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>A passive low-pass filter of one or two sections.</summary>
internal sealed class RcFilter : StageKind
{
    public override string Name => "rc-filter";

    public override string Summary => "Passive low-pass filter of one or two resistor-capacitor sections.";

    private static PartSetting First { get; } = Resistor("resistor", "Resistor of the first section.");

    private static PartSetting Shunt { get; } = Capacitor("capacitor", "Capacitor of the first section.");

    private static AmountSetting Corner { get; } = Amount("corner",
        "Frequency at which the whole filter is 3 dB down; give it with a resistor or a capacitor.", Unit.Hertz);

    private static Setting<int> Poles { get; } = Setting.Of("poles", false,
        "Number of sections, 1 or 2; the second has ten times the impedance of the first.", new CountBlank("count"));

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, First, Shunt, Corner, Poles];

    protected override Stage Assemble(StageRequest request)
    {
        var (input, output) = request.Get(Ends);
        string name = request.Name;
        int poles = request.Get(Poles, 1);
        if (poles is not (1 or 2))
            throw new StageProblemException("poles", new(ProblemKind.Poles, Found: Quantity.Number(poles)));
        double bandwidth = poles == 1 ? 1 : TwoSectionBandwidth(Scale);
        var (ohms, farads) = Values(request, bandwidth);
        double corner = bandwidth / (2 * Math.PI * ohms.Value * farads.Value);

        var parts = ImmutableArray.CreateBuilder<Part>();
        string middle = poles == 1 ? output : name + ".MID";
        parts.Add(new ResistorPart(name + ".R1", input, middle, ohms) { Role = Role.FilterResistor });
        parts.Add(new CapacitorPart(name + ".C1", middle, Circuit.Ground, farads));
        if (poles == 2)
        {
            parts.Add(new ResistorPart(name + ".R2", middle, output,
                ohms with { Value = ohms.Value * Scale })
            { Role = Role.FilterResistor });
            parts.Add(new CapacitorPart(name + ".C2", output, Circuit.Ground, farads with { Value = farads.Value / Scale }));
        }
        string r = SiText.Format(ohms.Value, "ohm"), c = SiText.Format(farads.Value, "F");
        var step = poles == 1
            ? new HandStep("corner frequency", "fc = 1 / (2π · R · C)", $"fc = 1 / (2π · {r} · {c})", corner, "Hz")
            : new HandStep("corner frequency of both sections", "fc = k / (2π · R · C), k from |1 − k² + j·k·(2 + 1/10)| = √2",
                $"fc = {SiText.Format(bandwidth, "")} / (2π · {r} · {c})", corner, "Hz");
        var line = new LinearExpectation(1, 0);
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable())
        {
            HandMath = [step],
            Ideal = line,
            Expected = line,
        };
    }

    private const double Scale = 10;

    /// <summary>
    /// The −3 dB frequency, in units of 1/(2πRC), of two sections with the second <paramref name="scale"/> times higher in
    /// impedance: |1 − x² + j·x·(2 + 1/scale)|² = 2, a quadratic in x².
    /// </summary>
    internal static double TwoSectionBandwidth(double scale)
    {
        double b = Math.Pow(2 + 1 / scale, 2) - 2;
        return Math.Sqrt((-b + Math.Sqrt(b * b + 4)) / 2);
    }

    private static (Toleranced Ohms, Toleranced Farads) Values(StageRequest request, double bandwidth)
    {
        Toleranced? ohms = request.Given(First, UsualSpread.Resistor.Amount), farads = request.Given(Shunt, UsualSpread.Capacitor.Amount);
        double? corner = request.Has(Corner) ? request.Positive(Corner) : null;
        return (ohms, farads, corner) switch
        {
            ({ } r, { } c, null) => (r, c),
            ({ } r, null, { } f) => (r, new(ESeries.E12.Nearest(bandwidth / (2 * Math.PI * f * r.Value)), UsualSpread.Capacitor.Amount)),
            (null, { } c, { } f) => (new(ESeries.E24.Nearest(bandwidth / (2 * Math.PI * f * c.Value)), UsualSpread.Resistor.Amount), c),
            _ => throw new StageProblemException(ohms is not null && farads is not null ? Corner.Name : null,
                new(ProblemKind.TwoOfThree, request.Name)),
        };
    }
}
