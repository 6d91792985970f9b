using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;
using Sprache;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>event "24 V on the sensor terminal" at IN</c>, with what happens on the same line or below it.</summary>
internal sealed class EventStatement : StatementKind
{
    public override string Keyword => "event";

    public override string Summary => "Something that may happen at a node: a fault, or a disturbance from a published standard.";

    protected override ImmutableArray<Piece> Head =>
        [new Blank("name", Shape.Text, "the event's name in double quotes"), "at", Blank.Node("node")];

    private static readonly Addition With = new("with", new Elsewhere());

    public override ImmutableArray<Addition> Additions { get; } = [.. Disturbances.All.Select(d => d.Form), With, new("either", "way")];

    public override Turn Turn => Turn.Second;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (!scope.Builder.HasRoom(scope.Builder.Events.Count, "events", statement.Span))
            return;
        var at = statement.Token("node");
        string node = scope.Node(at);
        scope.Builder.Probes.Add((node, at.Span, $"event \"{name.Text}\""));
        scope.Builder.EventPlaces[name.Text] = statement.Span;
        if (scope.Builder.Events.Any(e => e.Name == name.Text))
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameTwice, $"There are two events named \"{name.Text}\".",
                null, "give one of the two another name");
            return;
        }
        try
        {
            if (Happening(statement, scope) is not { } disturbance)
                return;
            scope.Builder.Events.Add(new FaultEvent(name.Text, node, disturbance));
            if (statement.Has("either"))
                AddTurned(statement, scope, node, disturbance);
        }
        catch (ArgumentException e)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ImpossibleDisturbance, e.Message);
        }
    }

    /// <summary>The same with the other polarity, an event of its own that is meant wherever the first is named.</summary>
    private static void AddTurned(StatementSyntax statement, Scope scope, string node, Disturbance disturbance)
    {
        var name = statement.Token("name");
        if (disturbance.Scaled(-1) is not { } turned)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.NoPolarity,
                "This has no polarity that could be turned.", null, "leave out either way");
            return;
        }
        string twin = name.Text + ", the other way";
        if (scope.Builder.Events.Any(e => e.Name == twin))
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameTwice, $"There are two events named \"{twin}\".",
                null, "give one of the two another name");
            return;
        }
        scope.Builder.EventPlaces[twin] = statement.Span;
        scope.Builder.Events.Add(new FaultEvent(twin, node, turned));
        scope.Builder.Twins[name.Text] = twin;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Events.Select(e =>
        new StatementText($"event {ValueText.Quoted(e.Name)} at {e.Node}", Said(e.Disturbance)));

    private static string[] Said(Disturbance disturbance) => disturbance is not Together several ? [Disturbances.Write(disturbance)]
        : [Disturbances.Write(several.First), "with "
            + string.Join(", ", several.Others.Select(o => $"{o.Node} {Disturbances.Write(o.Disturbance)}"))];

    /// <summary>What happens at the event's node, with what happens elsewhere; null after a complaint.</summary>
    private Disturbance? Happening(StatementSyntax statement, Scope scope)
    {
        DisturbanceWords[] given = [.. Disturbances.All.Where(d => statement.Has(d.Form.Name))];
        if (given.Length == 0 && statement.HasUnread)
            return null;
        if (given.Length != 1)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.EventUndecided, given.Length == 0
                ? "It is not said what happens in this event."
                : "At the event's node one thing happens, but several are given.", "one of "
                    + string.Join(", ", Disturbances.All.Select(d => d.Form.Name)));
            return null;
        }
        var first = given[0].Make(statement, scope);
        if (!statement.Has(Elsewhere.Name))
            return first;
        var others = ImmutableArray.CreateBuilder<(string, Disturbance)>();
        foreach (var line in statement.Get<ImmutableArray<PhraseSyntax>>(Elsewhere.Name))
        {
            // The disturbances read the node of the statement that they stand in.
            var one = new StatementSyntax(statement.Form, line with { Span = statement.Span }, [], []);
            var at = one.Token("node");
            string node = scope.Node(at);
            scope.Builder.Probes.Add((node, at.Span, "this event"));
            if (Disturbances.All.First(d => one.Has(d.Form.Name)).Make(one, scope) is not { } other)
                return null;
            others.Add((node, other));
        }
        return first is null ? null : new Together(first, others.ToImmutable());
    }

    /// <summary>What happens at other nodes, with commas between.</summary>
    private sealed record Elsewhere : Piece
    {
        public const string Name = "elsewhere";

        public override Parser<ImmutableArray<Filled>> Parser { get; } =
            new Listed(Name, new Phrase(Blank.Node("node"), new OneOf([.. Disturbances.All.Select(d => (Piece)d.Form)]))).Parser;

        public override string ToString() => "NODE WHAT-HAPPENS, …";
    }
}
