using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>stage shift is two-stage-shifter</c>, with the settings of what it is below it.</summary>
internal sealed class StageStatement : StatementKind
{
    public override string Keyword => "stage";

    public override string Summary => "A stage of a shipped kind or of one of your templates; its settings stand below it.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("stage"), "is", new Blank("kind", Shape.Name, "a kind of stage, such as pin-guard")];

    public override bool SettingsDependOnNames => true;

    public override Turn Turn => Turn.Second;

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "stage");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var kind = statement.Token("kind");
        if (scope.Builder.Templates.TryGetValue(kind.Text, out var template))
            TemplateStage.Bind(statement, template, scope);
        else if (scope.Builder.StageKinds.FirstOrDefault(k => k.Name == kind.Text) is { } shipped)
            ShippedStage.Bind(statement, shipped, scope);
        else if (!scope.Builder.MayBeUnread(kind.Text) || !scope.Diagnostics.HasErrors)
        {
            string[] known = [.. scope.Builder.StageKinds.Select(k => k.Name), .. scope.Builder.Templates.Keys];
            scope.Diagnostics.Error(kind.Span, DiagnosticCode.UnknownStage, $"There is no kind of stage {kind.Text}.", "one of "
                + string.Join(", ", known), Nearest.Question(kind.Text, known));
        }
    }

    /// <summary>Reads the settings of a stage, now that it is known which there are; complains of those missing.</summary>
    /// <returns>The settings by name, and whether they are all there and right in form.</returns>
    internal static (Dictionary<string, PhraseSyntax> Settings, bool IsComplete) ReadSettings(StatementSyntax statement,
        ImmutableArray<Addition> allowed, Func<string, bool> isRequired, DiagnosticList diagnostics)
    {
        string kind = statement.Token("kind").Text;
        SettingSyntax?[] read = [.. statement.Settings.Select(s => SettingSyntax.Read($"a {kind}", allowed, s.Tokens, diagnostics))];
        var settings = new Dictionary<string, PhraseSyntax>();
        bool isComplete = !read.Contains(null);
        foreach (var setting in read.OfType<SettingSyntax>())
        {
            if (settings.TryAdd(setting.Name, setting.Phrase!))
                continue;
            diagnostics.Error(setting.Span, DiagnosticCode.SettingTwice, $"'{setting.Name}' is given twice.", null, "keep one of the two");
            isComplete = false;
        }
        string[] missing = [.. allowed.Where(a => isRequired(a.Name) && statement.Settings.All(s => s.Name != a.Name))
            .Select(a => a.ToString())];
        // A setting that could not be read may be the one that is missing.
        if (missing.Length > 0 && !read.Contains(null))
            diagnostics.Error(statement.Span, DiagnosticCode.SettingMissing,
                $"Stage {statement.Token("name").Text} needs more settings.", string.Join("; ", missing));
        return (settings, isComplete && missing.Length == 0);
    }

    /// <summary>The stages of shipped kinds; a template's parts are written for themselves.</summary>
    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) =>
        frontEnd.Stages.Select(s => s.Request).OfType<StageRequest>().Select(ShippedStage.Write);
}
