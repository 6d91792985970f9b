using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>multiplexer M1 hc-analog-switch from HOT, COLD, LEVEL to COMMON on VDD and GND selects COLD</c></summary>
internal sealed class MultiplexerStatement : PartStatement<MultiplexerPart>
{
    public override string Keyword => "multiplexer";

    public override string Summary =>
        "An external analog multiplexer: as many switches of a class to one node as it has channels, of which one is closed.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("multiplexer"), new Blank("type", Shape.TypeName, "a class of analog switch, such as hc-analog-switch"),
        "from", new Listed("channels", new Phrase(Blank.Node("channel"))), "to", Blank.Node("to"),
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    public override ImmutableArray<Addition> Additions { get; } = [new("selects", Blank.Node("selected"))];

    protected override MultiplexerPart? Of(PartReader read)
    {
        var (statement, scope, name) = (read.Statement, read.Scope, read.Name);
        Token[] tokens = [.. statement.Get<ImmutableArray<PhraseSyntax>>("channels").Select(item => item.Get<Token>("channel"))];
        ImmutableArray<string> channels = [.. tokens.Select(scope.Node)];
        string common = read.To, high = read.Node("positive"), low = read.Node("negative");
        string selected = statement.Has("selects") ? read.Node("selected") : channels[0];
        var type = read.Type<AnalogSwitchType>("analog switch");
        string? problem = channels.Length < 2 ? "A multiplexer has at least two channels."
            : channels.GroupBy(c => c).FirstOrDefault(g => g.Count() > 1) is { Key: var twice }
                ? $"{twice} stands twice among the channels."
            : channels.Contains(common) ? $"{common} is both a channel and the node that all lead to."
            : !channels.Contains(selected) ? $"{selected} is no channel of {name}, which has {string.Join(", ", channels)}."
            : null;
        if (problem is not null)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ChannelsUnclear, problem,
                "from A, B, C to COMMON, one of them selected");
        return type is null || problem is not null ? null : new MultiplexerPart(name, channels, common, high, low, type, selected);
    }

    protected override string LineOf(MultiplexerPart m) =>
        $"multiplexer {m.Name} {m.Type.Name} from {string.Join(", ", m.Channels)} to {m.Common} on {m.PositiveRail} and {m.NegativeRail} "
        + $"selects {m.Selected}";
}
