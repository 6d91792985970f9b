using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>in-amp U1 precision-in-amp plus A minus B output C reference GND gain G1 and G2 on VP and VN</c></summary>
internal sealed class InAmpStatement : PartStatement<InAmpPart>
{
    public override string Keyword => "in-amp";

    public override string Summary =>
        "An instrumentation amplifier in one part by its class, its nodes and its supplies; a resistor between its two gain pins sets its "
            + "gain.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        SheetWords<InAmpType>.Like("in-amp", "instrumentation amplifier", "precision-in-amp",
            (read, name) => read.Scope.Builder.FindType<InAmpType>(name, "instrumentation amplifier") is { } like
                ? like with { Name = read.Name, Source = read.SourceLike(like.Name) } : null,
            new("gain-resistance", Blank.Of("ohms", Unit.Ohm), (u, x) => u with { GainOhms = x }),
            new(new("offset", Blank.Of("offset-volts", Unit.Volts), new Maybe("output", Blank.Of("output-offset", Unit.Volts))),
                (u, read) => u with
                {
                    MostOffsetVolts = read.NotNegative("offset-volts"),
                    MostOutputOffsetVolts = read.NotNegative("output-offset", u.MostOutputOffsetVolts),
                }),
            new("drift", new Blank("volts-per-kelvin", Shape.Value, "a voltage per kelvin, such as 1 uV/K", Unit.Volts / Unit.Celsius),
                (u, x) => u with { OffsetVoltsPerKelvin = x }, NumberRule.NotNegative),
            new("bias", Blank.Of("bias-amps", Unit.Amps), (u, x) => u with { MostBiasAmps = x }, NumberRule.NotNegative),
            new("offset-current", Blank.Of("offset-amps", Unit.Amps), (u, x) => u with { OffsetAmps = x }, NumberRule.NotNegative),
            new(new("rejection", new Blank("decibels", Shape.Value, "a plain number of dB, such as 80", Unit.None), "dB"),
                (u, read) => u with { RejectionDecibels = read.Positive("decibels") }),
            new("gain-error", new Blank("percent", Shape.Value, "a percentage, such as 0.5%", Unit.Percent),
                (u, x) => u with { GainError = x }, NumberRule.Fraction),
            new(SheetReader.CommonMode,
                (u, read) => u with
                {
                    Input = u.Input with { CommonModeHighVolts = read.Number("mode-high"), CommonModeLowVolts = read.Number("mode-low") },
                }),
            new(SheetReader.Swing,
                (u, read) => u with
                {
                    Output = u.Output with { DropHighVolts = read.Number("drop-high"), DropLowVolts = read.Number("drop-low") },
                }),
            new("bandwidth", Blank.Of("hertz", Unit.Hertz), (u, x) => u with
            {
                Input = u.Input with { GainBandwidthHertz = x },
                Output = u.Output with { GainBandwidthHertz = x },
            }),
            new(new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
                (u, read) => read.Span("supply-volts") is { } volts ? u with { SupplyVolts = (volts.Low, volts.High) } : u)),
    ];

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("instrumentation amplifier"),
        new Blank("type", Shape.TypeName, "a class of instrumentation amplifier, such as precision-in-amp"),
        "plus", Blank.Node("plus"), "minus", Blank.Node("minus"), "output", Blank.Node("output"), "reference", Blank.Node("reference"),
        new Maybe("gain", Blank.Node("gain-plus"), "and", Blank.Node("gain-minus")),
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    protected override InAmpPart? Of(PartReader read) => read.Type<InAmpType>("instrumentation amplifier") is { } type
        ? new(read.Name, read.Node("plus"), read.Node("minus"), read.Node("output"), read.Node("reference"), read.Node("positive"),
            read.Node("negative"), type)
        {
            GainPins = read.Has("gain-plus") ? (read.Node("gain-plus"), read.Node("gain-minus")) : null,
        } : null;

    protected override string LineOf(InAmpPart u) =>
        $"in-amp {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} reference {u.Reference}"
        + (u.GainPins is { } pins ? $" gain {pins.AtPlus} and {pins.AtMinus}" : "") + $" on {u.PositiveRail} and {u.NegativeRail}";
}
