using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Builds a stage from a user's template: its statements are bound once more, in a scope of the stage's own.</summary>
internal static class TemplateStage
{
    /// <summary>So many templates at most may use each other in turn.</summary>
    private const int Deepest = 16;

    /// <summary>A parameter of a template.</summary>
    internal sealed record Parameter(string Name, bool IsNode, Expression? Default);

    /// <summary>The parameters; of two by one name, which the template is told of, the first.</summary>
    public static ImmutableArray<Parameter> Parameters(StatementSyntax template) => [.. Written(template).DistinctBy(p => p.Name)];

    /// <summary>The parameters as they are written.</summary>
    public static IEnumerable<Parameter> Written(StatementSyntax template) => !template.Has("parameters") ? []
        : template.Get<ImmutableArray<PhraseSyntax>>("parameters").Select(p => new Parameter(p.Get<Token>("parameter").Text,
            p["node"] is not null, (p["default"] as Filled<Expression>)?.Value));

    /// <summary>The settings of a stage that a template makes: its ends and its parameters.</summary>
    public static ImmutableArray<Addition> FormsOf(StatementSyntax template) =>
    [
        new("from", Blank.Node("input"), "to", Blank.Node("output")),
        .. Parameters(template)
            .Select(p => new Addition(p.Name, p.IsNode ? Blank.Node("value") : new Blank("value", Shape.Value, "a value"))),
    ];

    public static void Bind(StatementSyntax statement, StatementSyntax template, Scope scope)
    {
        var kind = statement.Token("kind");
        if (scope.Builder.Names.TryGetValue(kind.Text, out var declaration))
            declaration.IsUsed = true;
        if (scope.Templates.Contains(kind.Text) || scope.Templates.Count >= Deepest)
        {
            scope.Diagnostics.Error(kind.Span, DiagnosticCode.CircularTemplate, scope.Templates.Contains(kind.Text)
                ? $"Template {kind.Text} uses itself: "
                    + $"{string.Join(" uses ", scope.Templates.SkipWhile(t => t != kind.Text).Append(kind.Text))}."
                : $"Templates use each other more than {Deepest} deep.");
            return;
        }
        // No part is added by a stage of stages alone: each use counts, so that empty towers of templates end too.
        if (!scope.Builder.Admit(1, statement.Span))
            return;
        var parameters = Parameters(template);
        var forms = FormsOf(template);
        var (settings, isComplete) = StageStatement.ReadSettings(statement, forms, name =>
            name == "from" || parameters.First(p => p.Name == name) is { IsNode: true } or { Default: null }, scope.Diagnostics);
        if (isComplete)
            Expand(statement, template, settings, parameters, scope);
    }

    private static void Expand(StatementSyntax statement, StatementSyntax template, Dictionary<string, PhraseSyntax> settings,
        ImmutableArray<Parameter> parameters, Scope scope)
    {
        string Node(PhraseSyntax setting, string blank) => scope.Node(setting.Get<Token>(blank));
        string kind = statement.Token("kind").Text, name = scope.FullName(statement.Token("name"));
        string input = Node(settings["from"], "input"), output = Node(settings["from"], "output");
        var inside = new Scope(scope.Builder, scope.Whole, name + ".") { Templates = [.. scope.Templates, kind], Parts = [] };
        inside.Connect(template.Token("input").Text, input);
        inside.Connect(template.Token("output").Text, output);
        foreach (var parameter in parameters)
        {
            if (settings.TryGetValue(parameter.Name, out var given))
            {
                if (parameter.IsNode)
                    inside.Connect(parameter.Name, Node(given, "value"));
                else
                    inside.Define(parameter.Name, given.Get<Expression>("value"), scope);
            }
            else
                inside.Define(parameter.Name, parameter.Default!, inside);
        }
        StatementOrder.Bind(template.Body, inside);
        scope.Add(new Stage(name, kind, [new StagePort("from", input), new StagePort("to", output)], [.. inside.Parts]), statement.Span);
    }
}
