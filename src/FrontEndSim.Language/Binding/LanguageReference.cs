using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Binding;

/// <summary>A statement as the reference shows it.</summary>
/// <param name="Keyword">The word that begins it.</param>
/// <param name="Form">Its whole form; capitals are blanks, brackets hold what may be left out.</param>
/// <param name="Summary">What it is for, in a sentence or two.</param>
/// <param name="Additions">What may follow on its line or below it; empty for none.</param>
public sealed record StatementHelp(string Keyword, string Form, string Summary, ImmutableArray<string> Additions);

/// <summary>The language as a table, for help texts; made from the very grammar that reads files.</summary>
public static class LanguageReference
{
    /// <summary>All statements.</summary>
    public static ImmutableArray<StatementHelp> Statements { get; } =
        [.. StatementKinds.All.Select(k =>
            new StatementHelp(k.Keyword, k.Line.ToString(), k.Summary, [.. k.Additions.Select(a => a.ToString())]))];

    /// <summary>The kinds of part that a file can describe itself, with the settings of each as they are written.</summary>
    public static ImmutableArray<(string Kind, ImmutableArray<string> Settings)> PartKinds { get; } =
        [.. StatementKinds.Sheets.Select(k => (k.Kind, k.Settings.Select(s => s.ToString()).ToImmutableArray()))];

    /// <summary>The settings of a kind of stage, as they are written.</summary>
    /// <param name="kind">A kind of stage.</param>
    public static ImmutableArray<string> SettingsOf(StageKind kind) => [.. SettingForms.Of(kind).Select(f => f.ToString())];
}
