using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Forms;

/// <summary>A file read but not yet understood: its statements, with their places, and what is wrong with its form.</summary>
public sealed class SyntaxTree
{
    private SyntaxTree(SourceFile file, ImmutableArray<StatementSyntax> statements,
        ImmutableArray<Diagnostic> diagnostics, ImmutableHashSet<string> unread)
    {
        File = file;
        Statements = statements;
        Diagnostics = diagnostics;
        Unread = unread;
    }

    /// <summary>The file.</summary>
    public SourceFile File { get; }

    /// <summary>The statements that could be read, in the order of the file.</summary>
    public ImmutableArray<StatementSyntax> Statements { get; }

    /// <summary>What is wrong with the form of the others; empty if all could be read.</summary>
    public ImmutableArray<Diagnostic> Diagnostics { get; }

    /// <summary>Words of statements that could not be read. A name among them is probably declared there, so its absence is not reported
    /// again.</summary>
    internal ImmutableHashSet<string> Unread { get; }

    /// <summary>Reads a text. Any text gives a tree and diagnostics; nothing is thrown.</summary>
    /// <param name="file">The text.</param>
    /// <param name="language">The statements that there are.</param>
    /// <param name="otherWords">What to write instead for a word that begins no statement, or null.</param>
    internal static SyntaxTree Parse(SourceFile file, ImmutableArray<StatementForm> language, Func<string, string?> otherWords)
    {
        var diagnostics = new DiagnosticList();
        var unread = ImmutableHashSet.CreateBuilder<string>();
        var lines = LineTree.Read(file, diagnostics);
        if (lines.Count == 0 && !diagnostics.HasErrors)
        {
            diagnostics.Add(Diagnostic.Of(file.Path, Severity.Error, DiagnosticCode.EmptyFile, "The file has no statement.") with
            {
                Expected = "a circuit, beginning with: circuit \"what it is for\"",
            });
        }
        var statements = new Reader(language, diagnostics, unread, otherWords).ReadAll(lines, language);
        return new SyntaxTree(file, statements, diagnostics.InOrder(), unread.ToImmutable());
    }

    /// <summary>Reads lines by the forms of a language.</summary>
    private sealed class Reader(ImmutableArray<StatementForm> language, DiagnosticList diagnostics,
        ImmutableHashSet<string>.Builder unread, Func<string, string?> otherWords)
    {
        public ImmutableArray<StatementSyntax> ReadAll(List<LineNode> lines, ImmutableArray<StatementForm> allowed)
        {
            var statements = ImmutableArray.CreateBuilder<StatementSyntax>();
            foreach (var line in lines.Where(l => !l.IsBroken))
            {
                if (diagnostics.IsFull)
                    break;
                if (Read(line, allowed) is { } statement)
                    statements.Add(statement);
                else
                    unread.UnionWith(line.Tokens.Where(t => t.Kind == TokenKind.Word).Select(t => t.Text));
            }
            return statements.ToImmutable();
        }

        private StatementSyntax? Read(LineNode line, ImmutableArray<StatementForm> allowed)
        {
            var first = line.Tokens[0];
            var form = first.Kind == TokenKind.Word ? allowed.FirstOrDefault(k => k.Keyword == first.Text) : null;
            if (form is null)
            {
                bool misplaced = language.Any(k => k.Keyword == first.Text);
                diagnostics.Error(first.Span, DiagnosticCode.NoStatement,
                    misplaced ? $"A {first.Text} cannot stand here." : $"{first} does not begin a statement.",
                    "one of " + string.Join(", ", allowed.Select(k => k.Keyword)),
                    misplaced ? "put it at the left edge" : otherWords(first.Text)
                        ?? Nearest.Question(first.Text, allowed.Select(k => k.Keyword)));
                return null;
            }
            var head = PhraseSyntax.Read(form.Form, line.Tokens, diagnostics);
            ImmutableArray<SettingSyntax> settings = [];
            ImmutableArray<StatementSyntax> body = [];
            if (form.Body.Length > 0)
                body = ReadAll(line.Below, form.Body);
            else
                settings = [.. line.Below.Where(l => !l.IsBroken).Select(l => ReadSetting(form, l)).OfType<SettingSyntax>()];
            SettingSyntax.RefuseTwins(head, settings, form.Additions, diagnostics);
            bool hasUnread = form.Body.IsEmpty && settings.Length < line.Below.Count;
            return head is null ? null : new StatementSyntax(form, head, settings, body) { HasUnread = hasUnread };
        }

        private SettingSyntax? ReadSetting(StatementForm form, LineNode line)
        {
            foreach (var deeper in line.Below.Where(l => !l.IsBroken).Take(1))
            {
                diagnostics.Error(deeper.Tokens[0].Span, DiagnosticCode.SettingOfSetting, "A setting has no settings of its own.", null,
                    "indent it like the line above");
            }
            if (form.SettingsDependOnNames)
                return new SettingSyntax(line.Tokens, null);
            bool isStatement = language.Any(s => s.Keyword == line.Tokens[0].Text);
            return SettingSyntax.Read($"a {form.Keyword}", form.Additions, line.Tokens, diagnostics, isStatement);
        }
    }
}
