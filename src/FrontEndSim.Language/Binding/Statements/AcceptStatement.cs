using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>accept loop.Rb beyond power in "24 V of the loop on the terminal" because "fused by F1"</c></summary>
internal sealed class AcceptStatement : StatementKind
{
    public override string Keyword => "accept";

    public override string Summary =>
        "A part may exceed a rating, in one event or always, for a reason that is listed with every verdict. Without it the verdict is "
            + "not met.";

    protected override ImmutableArray<Piece> Head =>
    [
        new Blank("part", Shape.Name, "a part"), "beyond", new Blank("rating", Shape.Name, "a rating, such as power or peak-current"),
        new Maybe("in", new Blank("event", Shape.Text, "an event's name in double quotes")),
        "because", new Blank("reason", Shape.Text, "the reason in double quotes"),
    ];

    public override Turn Turn => Turn.Last;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("part");
        var parts = scope.Builder.Parts.Concat(scope.Builder.Stages.SelectMany(s => s.Parts))
            .Concat(scope.Builder.Sensors.Select(SensorOutput.Of).OfType<SensorOutput>()).ToList();
        if (parts.FirstOrDefault(p => p.Name == name.Text) is not { } part)
        {
            if (!scope.Diagnostics.HasErrors && scope.Builder.Unfinished is null)
            {
                scope.Diagnostics.Error(name.Span, DiagnosticCode.UnknownName, $"There is no part named {name.Text}.", null,
                    Nearest.Question(name.Text, parts.Select(p => p.Name)));
            }
            return;
        }
        var rating = statement.Token("rating");
        string[] known = [.. part.Ratings().Select(r => r.Kind.Word.Replace(' ', '-')).Distinct()];
        if (!known.Contains(rating.Text))
        {
            scope.Diagnostics.Error(rating.Span, DiagnosticCode.PartWithoutRating,
                $"{name.Text} is a {part.Word}, for which no rating called {rating.Text} is known.",
                known.Length == 0 ? null : "one of " + string.Join(", ", known), Nearest.Question(rating.Text, known));
            return;
        }
        string? happening = null;
        if (statement.Has("event"))
        {
            var named = statement.Token("event");
            happening = named.Text;
            string[] events = [.. scope.Builder.Events.Select(e => e.Name)];
            if (!events.Contains(happening))
            {
                scope.Diagnostics.UnknownEvent(named, events);
                return;
            }
        }
        var reason = statement.Token("reason");
        if (string.IsNullOrWhiteSpace(reason.Text))
            scope.Diagnostics.Error(reason.Span, DiagnosticCode.ReasonMissing, "What is accepted needs a reason.",
                "why it is right, in double quotes");
        else
        {
            string word = rating.Text.Replace('-', ' ');
            scope.Builder.Accepted.Add(new AcceptedStress(name.Text, word, happening, reason.Text));
            if (happening is not null && scope.Builder.Twins.TryGetValue(happening, out string? twin))
                scope.Builder.Accepted.Add(new AcceptedStress(name.Text, word, twin, reason.Text));
        }
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Accepted.Select(a => new StatementText(
        $"accept {a.Part} beyond {a.Rating.Replace(' ', '-')}{(a.Event is { } e ? $" in {ValueText.Quoted(e)}" : "")} because "
            + $"{ValueText.Quoted(a.Reason)}"));
}
