using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>require adc inside rating in every event</c></summary>
internal sealed class RequireStatement : StatementKind
{
    public override string Keyword => "require";

    public override string Summary => "What must hold; check says whether it does, and by how much.";

    protected override ImmutableArray<Piece> Head =>
        [
            new OneOf("every", new Blank("subject", Shape.Name, "a pin, reading, node, rail, stage or part")),
            new OneOf([.. Requirements.All.Select(r => (Piece)r.Form)]),
        ];

    public override Turn Turn => Turn.Last;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var words = Requirements.All.First(r => statement.Has(r.Form.Name));
        if (statement["subject"] is null)
        {
            if (words.Form.Name is not ("sensor" or "fault" or "part"))
            {
                scope.Diagnostics.Error(statement.Span, DiagnosticCode.Unexpected, "This is not required of every pin at once.",
                    $"a pin, stage or part after {Keyword}");
                return;
            }
        }
        else if (IsOfStageToCome(statement.Token("subject").Text, words, scope.Builder))
            return;
        string text = statement.Span.File.Line(statement.Span.Line)
            .Substring(statement.Span.Column - 1 + Keyword.Length, statement.Span.Length - Keyword.Length).Trim();
        if (!scope.Builder.HasRoom(scope.Builder.Requirements.Count, "requirements", statement.Span)
            || words.Make(statement, scope, text) is not { } requirement)
            return;
        scope.Builder.Requirements.Add(requirement);
        scope.Builder.RequirementPlaces[requirement] = statement.Span;
        // What must hold in an event that may come either way must hold in both.
        if (requirement.Happening is { } happening && scope.Builder.Twins.TryGetValue(happening, out string? twin))
        {
            var other = requirement.In(twin);
            other = other with { Text = Requirements.Write(other) };
            scope.Builder.Requirements.Add(other);
            scope.Builder.RequirementPlaces[other] = statement.Span;
        }
    }

    /// <summary>Whether it is required of a stage that is still to be designed, so that it can be judged only once the stage is
    /// there.</summary>
    private static bool IsOfStageToCome(string subject, RequirementWords words, FrontEndBuilder builder)
    {
        if (builder.Unfinished is not { } unfinished)
            return false;
        string stage = subject.Split('.')[0];
        if (unfinished.Any(u => u.Request.Name == stage))
            return true;
        // A stage that is left out is known from what is required of it alone.
        bool namesStage = words.Form.Name == "headroom" || subject.Contains('.');
        if (unfinished.Count > 0 || !namesStage || builder.Names.ContainsKey(stage) || (builder.LeftOut ?? stage) != stage)
            return false;
        builder.LeftOut = stage;
        return true;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Requirements
        .Where(Requirements.AreSaid).Select(r => new StatementText("require " + Requirements.Write(r)));
}
