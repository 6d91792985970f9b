using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>comparator U1 open-collector plus A minus B output C on VP and GND</c></summary>
internal sealed class ComparatorStatement : PartStatement<ComparatorPart>
{
    public override string Keyword => "comparator";

    public override string Summary =>
        "A comparator by its class, its three signal nodes and its two supply nodes. One with an open collector needs a resistor to a "
        + "supply.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        SheetWords<ComparatorType>.Like("comparator", "comparator", "open-collector",
            (read, name) => read.Scope.Builder.FindType<ComparatorType>(name, "comparator") is { } like
                ? like with { Name = read.Name, Source = read.SourceLike(like.Name) } : null,
            new("offset", Blank.Of("offset-volts", Unit.Volts), (c, x) => c with { MostOffsetVolts = x }, NumberRule.NotNegative),
            OfModel("hysteresis", Blank.Of("hysteresis-volts", Unit.Volts),
                (m, x) => m with { HysteresisVolts = x }, NumberRule.NotNegative),
            OfModel("delay", Blank.Of("delay-time", Unit.Seconds), (m, x) => m with { DelaySeconds = x }),
            new(new("bias", Blank.Of("bias-amps", Unit.Amps), new Maybe("at", "most", Blank.Of("most-bias-amps", Unit.Amps))),
                (c, read) => c with
                {
                    Model = c.Model with { BiasAmps = read.Number("bias-amps") },
                    MostBiasAmps = read.NotNegative("most-bias-amps", Math.Abs(read.Number("bias-amps"))),
                }),
            new(SheetReader.CommonMode,
                (c, read) => c with
                {
                    Model = c.Model with { CommonModeHighVolts = read.Number("mode-high"), CommonModeLowVolts = read.Number("mode-low") },
                }),
            new(new("low", Blank.Of("low-volts", Unit.Volts), "at", Blank.Of("low-amps", Unit.Amps)),
                (c, read) => c with { Model = c.Model with { SinkOhms = read.Positive("low-volts") / LowAmps(c, read) } }),
            OfModel("sinks", Blank.Of("sink-amps", Unit.Amps), (m, x) => m with { SinkAmps = x }),
            OfModel("delivers", Blank.Of("source-amps", Unit.Amps), (m, x) => m with { SourceAmps = x }, NumberRule.NotNegative),
            new(new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
                (c, read) => read.Span("supply-volts") is { } volts ? c with
                {
                    Model = c.Model with { LeastSupplyVolts = 0.8 * volts.Low },
                    SupplyVolts = (volts.Low, volts.High),
                    MostSupplyVolts = Math.Max(c.MostSupplyVolts, volts.High),
                } : c),
            new("stands", Blank.Of("supply-limit", Unit.Volts), (c, x) => c with { MostSupplyVolts = x }),
            OfModel("draws", Blank.Of("supply-amps", Unit.Amps), (m, x) => m with { SupplyAmps = x }, NumberRule.NotNegative),
            new("rated", Blank.Of("watts", Unit.Watt), (c, x) => c with { RatedWatts = x })),
    ];

    protected override ImmutableArray<Piece> Head => AmplifierHead("comparator", "a class of comparator, such as open-collector");

    protected override ComparatorPart? Of(PartReader read) => read.Type<ComparatorType>("comparator") is { } type
        ? new(read.Name, read.Node("plus"), read.Node("minus"), read.Node("output"), read.Node("positive"),
            read.Node("negative"), type) : null;

    protected override string LineOf(ComparatorPart u) =>
        $"comparator {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} on {u.PositiveRail} and {u.NegativeRail}";

    // The current that its low voltage is stated at, which it has to sink.
    private static double LowAmps(ComparatorType type, FigureReader read)
    {
        double at = read.Positive("low-amps"), most = read.Positive("sink-amps", type.Model.SinkAmps);
        return !read.IsComplete || most >= at ? at : throw new FrontEnds.Parts.Fits.DataSheetException(
            $"{type.Name} is low at {SiText.Format(at, "A")}, but sinks {SiText.Format(most, "A")} at most.");
    }

    private static Detail<ComparatorType> OfModel(string word, Blank number, Func<ComparatorModel, double, ComparatorModel> with,
        NumberRule rule = NumberRule.Positive) => new(word, number, (c, x) => c with { Model = with(c.Model, x) }, rule);
}
