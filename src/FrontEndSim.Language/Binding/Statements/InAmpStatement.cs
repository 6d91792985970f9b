using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>in-amp U1 precision-in-amp plus A minus B output C reference GND gain G1 and G2 on VP and VN</c></summary>
internal sealed class InAmpStatement : PartStatement
{
    public override string Keyword => "in-amp";

    public override string Summary =>
        "An instrumentation amplifier in one part by its class, its nodes and its supplies; a resistor between its two gain pins sets its "
            + "gain.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("instrumentation amplifier"),
        new Blank("type", Shape.TypeName, "a class of instrumentation amplifier, such as precision-in-amp"),
        "plus", Blank.Node("plus"), "minus", Blank.Node("minus"), "output", Blank.Node("output"), "reference", Blank.Node("reference"),
        new Maybe("gain", Blank.Node("gain-plus"), "and", Blank.Node("gain-minus")),
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        return scope.Draft.FindType<InAmpType>(statement.Token("type"), "instrumentation amplifier") is { } type
            ? new InAmpPart(name, Node("plus"), Node("minus"), Node("output"), Node("reference"), Node("positive"), Node("negative"), type)
            {
                GainPins = statement.Has("gain-plus") ? (Node("gain-plus"), Node("gain-minus")) : null,
            } : null;
    }

    protected override StatementText? Write(Part part) => part is not InAmpPart u ? null
        : new($"in-amp {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} reference {u.Reference}"
            + (u.GainPins is { } pins ? $" gain {pins.AtPlus} and {pins.AtMinus}" : "") + $" on {u.PositiveRail} and {u.NegativeRail}");
}

/// <summary>The words of an instrumentation amplifier's data sheet: a class of the catalogue, and what is different from it.</summary>
internal static class InAmpTypeWords
{
    /// <summary>How a class of instrumentation amplifier is described.</summary>
    public static SheetWords Words { get; } = new("in-amp",
    [
        new("like", new Blank("class", Shape.TypeName, "a class of instrumentation amplifier, such as precision-in-amp")),
        new("gain-resistance", Blank.Of("ohms", Unit.Ohm)),
        new("offset", Blank.Of("offset-volts", Unit.Volts), new Maybe("output", Blank.Of("output-offset", Unit.Volts))),
        new("drift", new Blank("volts-per-kelvin", Shape.Value, "a voltage per kelvin, such as 1 uV/K", Unit.Volts / Unit.Celsius)),
        new("bias", Blank.Of("bias-amps", Unit.Amps)),
        new("rejection", new Blank("decibels", Shape.Value, "a plain number of dB, such as 80", Unit.None), "dB"),
        new("gain-error", new Blank("percent", Shape.Value, "a percentage, such as 0.5%", Unit.Percent)),
        new("common-mode", Blank.Of("mode-high", Unit.Volts), "from", "high", Blank.Of("mode-low", Unit.Volts), "from", "low"),
        new("swing", Blank.Of("drop-high", Unit.Volts), "from", "high", Blank.Of("drop-low", Unit.Volts), "from", "low"),
        new("bandwidth", Blank.Of("hertz", Unit.Hertz)),
        new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        SheetReader.Sheet,
    ], Into);

    private static PartCatalogue? Into(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("like", "a class of the catalogue to start from: like CLASS, such as like precision-in-amp") is null
            || scope.Draft.FindType<InAmpType>(statement.Token("class"), "instrumentation amplifier") is not { } like)
            return null;
        double hertz = read.Positive("hertz") ?? like.Input.GainBandwidthHertz;
        var supply = read.Span("supply-volts");
        double high = read.Number("drop-high") ?? like.Output.DropHighVolts, low = read.Number("drop-low") ?? like.Output.DropLowVolts;
        var type = like with
        {
            Name = read.Name,
            Input = like.Input with
            {
                GainBandwidthHertz = hertz,
                CommonModeHighVolts = read.Number("mode-high") ?? like.Input.CommonModeHighVolts,
                CommonModeLowVolts = read.Number("mode-low") ?? like.Input.CommonModeLowVolts,
            },
            Output = like.Output with { GainBandwidthHertz = hertz, DropHighVolts = high, DropLowVolts = low },
            GainOhms = read.Positive("ohms") ?? like.GainOhms,
            MostOffsetVolts = read.NotNegative("offset-volts") ?? like.MostOffsetVolts,
            MostOutputOffsetVolts = read.NotNegative("output-offset") ?? like.MostOutputOffsetVolts,
            OffsetVoltsPerKelvin = read.NotNegative("volts-per-kelvin") ?? like.OffsetVoltsPerKelvin,
            MostBiasAmps = read.NotNegative("bias-amps") ?? like.MostBiasAmps,
            RejectionDecibels = read.Positive("decibels") ?? like.RejectionDecibels,
            GainError = read.Fraction("percent") ?? like.GainError,
            SupplyVolts = supply is { } s ? (s.Low, s.High) : like.SupplyVolts,
            Source = statement.Has("source") ? read.Source : $"given in the circuit file, otherwise like {like.Name}",
        };
        return read.IsComplete ? scope.Draft.Catalogue.With(type) : null;
    }
}
