using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>event "24 V on the sensor terminal" at IN</c>, with what happens on the same line or below it.</summary>
internal sealed class EventStatement : StatementKind
{
    public override string Keyword => "event";

    public override string Summary => "Something that may happen at a node: a fault, or a disturbance from a published standard.";

    protected override ImmutableArray<Piece> Head => [new Blank("name", Shape.Text, "the event's name in double quotes"), "at", Blank.Node("node")];

    public override ImmutableArray<Addition> Additions { get; } = [.. Disturbances.All.Select(d => d.Form), new("either", "way")];

    public override Turn Turn => Turn.Second;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (!scope.Draft.HasRoom(scope.Draft.Events.Count, "events", statement.Span))
            return;
        var at = statement.Token("node");
        string node = scope.Node(at);
        scope.Draft.Probes.Add((node, at.Span, $"event \"{name.Text}\""));
        scope.Draft.EventPlaces[name.Text] = statement.Span;
        if (scope.Draft.Events.Any(e => e.Name == name.Text))
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameTwice, $"There are two events named \"{name.Text}\".", null, "give one of the two another name");
            return;
        }
        DisturbanceWords[] given = [.. Disturbances.All.Where(d => statement.Has(d.Form.Name))];
        if (given.Length == 0 && statement.HasUnread)
            return;
        if (given.Length != 1)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.EventUndecided, given.Length == 0 ? "It is not said what happens in this event." : "An event is one thing that happens, but several are given.",
                "one of " + string.Join(", ", Disturbances.All.Select(d => d.Form.Name)));
            return;
        }
        try
        {
            if (given[0].Make(statement, scope) is not { } disturbance)
                return;
            scope.Draft.Events.Add(new FaultEvent(name.Text, node, disturbance));
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
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.NoPolarity, "This has no polarity that could be turned.", null, "leave out either way");
            return;
        }
        string twin = name.Text + ", the other way";
        if (scope.Draft.Events.Any(e => e.Name == twin))
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameTwice, $"There are two events named \"{twin}\".", null, "give one of the two another name");
            return;
        }
        scope.Draft.EventPlaces[twin] = statement.Span;
        scope.Draft.Events.Add(new FaultEvent(twin, node, turned));
        scope.Draft.Twins[name.Text] = twin;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Events.Select(e =>
        new StatementText($"event {ValueText.Quoted(e.Name)} at {e.Node}", Disturbances.Write(e.Disturbance)));
}
