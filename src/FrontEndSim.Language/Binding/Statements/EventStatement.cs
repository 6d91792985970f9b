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

    public override ImmutableArray<Addition> Additions { get; } = [.. Disturbances.All.Select(d => d.Form)];

    public override Turn Turn => Turn.Second;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
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
        if (given.Length != 1)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.EventUndecided, given.Length == 0 ? "It is not said what happens in this event." : "An event is one thing that happens, but several are given.",
                "one of " + string.Join(", ", Additions.Select(a => a.Name)));
            return;
        }
        try
        {
            if (given[0].Make(statement, scope) is { } disturbance)
                scope.Draft.Events.Add(new FaultEvent(name.Text, node, disturbance));
        }
        catch (ArgumentException e)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ImpossibleDisturbance, e.Message);
        }
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Events.Select(e =>
        new StatementText($"event {ValueText.Quoted(e.Name)} at {e.Node}", Disturbances.Write(e.Disturbance)));
}
