using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>template two-pole from A to B with R = 10k, C = 10n</c>, with parts and stages below it.</summary>
internal sealed class TemplateStatement : StatementKind
{
    public override string Keyword => "template";

    public override string Summary =>
        "A stage of your own, made of parts and other stages. Its parameters may have values to fall back on, or be nodes.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("template"), "from", new Blank("input", Shape.Name, "a name for the input node"),
            "to", new Blank("output", Shape.Name, "a name for the output node"),
        new Maybe("with", new Listed("parameters", new OneOf(
            new Addition("node", new Blank("parameter", Shape.Name, "a name for the node")),
            new Phrase(new Blank("parameter", Shape.Name, "a name for the parameter"),
                new Maybe(new Mark("="), new Blank("default", Shape.Value, "a value")))))),
    ];

    public override ImmutableArray<StatementForm> Body => StatementKinds.InTemplate;

    public override void Declare(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (scope.Builder.StageKinds.Any(k => k.Name == name.Text))
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameIsShippedStage,
                $"{name.Text} is a shipped kind of stage.", null, "give the template another name");
        else if (scope.Declare(name, "template"))
            scope.Builder.Templates[name.Text] = statement;
    }

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (statement.Body.IsEmpty && !scope.Diagnostics.HasErrors)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.EmptyTemplate,
                $"Template {statement.Token("name").Text} has no parts.", "parts and stages below it, indented");
        string[] names =
            [statement.Token("input").Text, statement.Token("output").Text, .. TemplateStage.Written(statement).Select(p => p.Name)];
        if (names.GroupBy(n => n).FirstOrDefault(g => g.Count() > 1) is { } twice)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.NameTwice, $"The template gives the name {twice.Key} twice.");
    }
}
