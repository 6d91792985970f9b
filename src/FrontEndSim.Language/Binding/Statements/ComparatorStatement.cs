using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>comparator U1 open-collector plus A minus B output C on VP and GND</c></summary>
internal sealed class ComparatorStatement : PartStatement
{
    public override string Keyword => "comparator";

    public override string Summary =>
        "A comparator by its class, its three signal nodes and its two supply nodes. One with an open collector needs a resistor to a "
        + "supply.";

    protected override ImmutableArray<Piece> Head => AmplifierHead("comparator", "a class of comparator, such as open-collector");

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        return scope.Draft.FindType<ComparatorType>(statement.Token("type"), "comparator") is { } type
            ? new ComparatorPart(name, Node("plus"), Node("minus"), Node("output"), Node("positive"), Node("negative"), type) : null;
    }

    protected override StatementText? Write(Part part) => part is not ComparatorPart u ? null
        : new($"comparator {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} on {u.PositiveRail} and "
            + $"{u.NegativeRail}");
}

/// <summary>The words of a comparator's data sheet: a class of the catalogue, and what is different from it.</summary>
internal static class ComparatorTypeWords
{
    /// <summary>How a class of comparator is described.</summary>
    public static SheetWords Words { get; } = new("comparator",
    [
        new("like", new Blank("class", Shape.TypeName, "a class of comparator, such as open-collector")),
        new("offset", Blank.Of("offset-volts", Unit.Volts)),
        new("hysteresis", Blank.Of("hysteresis-volts", Unit.Volts)),
        new("delay", Blank.Of("delay-time", Unit.Seconds)),
        new("bias", Blank.Of("bias-amps", Unit.Amps), new Maybe("at", "most", Blank.Of("most-bias-amps", Unit.Amps))),
        new("common-mode", Blank.Of("mode-high", Unit.Volts), "from", "high", Blank.Of("mode-low", Unit.Volts), "from", "low"),
        new("low", Blank.Of("low-volts", Unit.Volts), "at", Blank.Of("low-amps", Unit.Amps)),
        new("sinks", Blank.Of("sink-amps", Unit.Amps)),
        new("delivers", Blank.Of("source-amps", Unit.Amps)),
        new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("stands", Blank.Of("supply-limit", Unit.Volts)),
        new("draws", Blank.Of("supply-amps", Unit.Amps)),
        new("rated", Blank.Of("watts", Unit.Watt)),
        SheetReader.Sheet,
    ], Into);

    private static PartCatalogue? Into(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("like", "a class of the catalogue to start from: like CLASS, such as like open-collector") is null
            || scope.Draft.FindType<ComparatorType>(statement.Token("class"), "comparator") is not { } like)
            return null;
        var model = like.Model;
        double low = read.Positive("low-volts") ?? 0, at = read.Positive("low-amps") ?? 1;
        model = model with
        {
            HysteresisVolts = read.NotNegative("hysteresis-volts") ?? model.HysteresisVolts,
            DelaySeconds = read.Positive("delay-time") ?? model.DelaySeconds,
            BiasAmps = read.Number("bias-amps") ?? model.BiasAmps,
            CommonModeHighVolts = read.Number("mode-high") ?? model.CommonModeHighVolts,
            CommonModeLowVolts = read.Number("mode-low") ?? model.CommonModeLowVolts,
            SinkOhms = low > 0 ? low / at : model.SinkOhms,
            SinkAmps = read.Positive("sink-amps") ?? model.SinkAmps,
            SourceAmps = read.NotNegative("source-amps") ?? model.SourceAmps,
            SupplyAmps = read.NotNegative("supply-amps") ?? model.SupplyAmps,
        };
        var supply = read.Span("supply-volts");
        double? most = read.Positive("supply-limit");
        var type = like with
        {
            Name = read.Name,
            Model = model with { LeastSupplyVolts = supply is { } s ? 0.8 * s.Low : model.LeastSupplyVolts },
            MostOffsetVolts = read.NotNegative("offset-volts") ?? like.MostOffsetVolts,
            MostBiasAmps = read.NotNegative("most-bias-amps") ?? (statement.Has("bias") ? Math.Abs(model.BiasAmps) : like.MostBiasAmps),
            SupplyVolts = supply is { } range ? (range.Low, range.High) : like.SupplyVolts,
            MostSupplyVolts = most ?? Math.Max(like.MostSupplyVolts, supply?.High ?? 0),
            RatedWatts = read.Positive("watts") ?? like.RatedWatts,
            Source = statement.Has("source") ? read.Source : $"given in the circuit file, otherwise like {like.Name}",
        };
        if (type.Model.SinkAmps < at && low > 0)
        {
            throw new FrontEnds.Parts.Fits.DataSheetException(
                $"{type.Name} is low at {SiText.Format(at, "A")}, but sinks {SiText.Format(type.Model.SinkAmps, "A")} at most.");
        }
        return read.IsComplete ? scope.Draft.Catalogue.With(type) : null;
    }
}
