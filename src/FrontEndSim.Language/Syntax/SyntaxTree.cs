using System.Collections.Immutable;

namespace FrontEndSim.Language;

/// <summary>A file read but not yet understood: its statements, with their places, and what is wrong with its form.</summary>
public sealed class SyntaxTree
{
    private SyntaxTree(SourceFile file, ImmutableArray<StatementSyntax> statements, ImmutableArray<Diagnostic> diagnostics, ImmutableHashSet<string> unread)
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

    /// <summary>Words of statements that could not be read. A name among them is probably declared there, so its absence is not reported again.</summary>
    internal ImmutableHashSet<string> Unread { get; }

    /// <summary>Reads a text. Any text gives a tree and diagnostics; nothing is thrown.</summary>
    public static SyntaxTree Parse(SourceFile file)
    {
        var diagnostics = new DiagnosticList();
        var unread = ImmutableHashSet.CreateBuilder<string>();
        var lines = LineTree.Read(file, diagnostics);
        if (lines.Count == 0 && !diagnostics.HasErrors)
        {
            diagnostics.Add(new Diagnostic(Severity.Error, "FES110", file.Path, 0, 0, 0, "The file has no statement.")
            {
                Expected = "a circuit, beginning with: circuit \"what it is for\"",
            });
        }
        var statements = ReadAll(lines, StatementKinds.All, diagnostics, unread);
        return new SyntaxTree(file, statements, diagnostics.InOrder(), unread.ToImmutable());
    }

    private static ImmutableArray<StatementSyntax> ReadAll(List<LineNode> lines, ImmutableArray<StatementKind> allowed, DiagnosticList diagnostics,
        ImmutableHashSet<string>.Builder unread)
    {
        var statements = ImmutableArray.CreateBuilder<StatementSyntax>();
        foreach (var line in lines.Where(l => !l.IsBroken))
        {
            if (diagnostics.IsFull)
                break;
            if (Read(line, allowed, diagnostics, unread) is { } statement)
                statements.Add(statement);
            else
                unread.UnionWith(line.Tokens.Where(t => t.Kind == TokenKind.Word).Select(t => t.Text));
        }
        return statements.ToImmutable();
    }

    private static StatementSyntax? Read(LineNode line, ImmutableArray<StatementKind> allowed, DiagnosticList diagnostics, ImmutableHashSet<string>.Builder unread)
    {
        var first = line.Tokens[0];
        var kind = first.Kind == TokenKind.Word ? allowed.FirstOrDefault(k => k.Keyword == first.Text) : null;
        if (kind is null)
        {
            bool misplaced = StatementKinds.All.Any(k => k.Keyword == first.Text);
            diagnostics.Error(first.Span, "FES222", misplaced ? $"A {first.Text} cannot stand here." : $"{first} does not begin a statement.",
                "one of " + string.Join(", ", allowed.Select(k => k.Keyword)),
                misplaced ? "put it at the left edge" : Nearest.Question(first.Text, allowed.Select(k => k.Keyword)));
            return null;
        }
        var head = PhraseSyntax.Read(kind.Form, line.Tokens, diagnostics);
        ImmutableArray<SettingSyntax> settings = [];
        ImmutableArray<StatementSyntax> body = [];
        if (kind.Body.Length > 0)
            body = ReadAll(line.Below, kind.Body, diagnostics, unread);
        else
            settings = [.. line.Below.Where(l => !l.IsBroken).Select(l => ReadSetting(kind, l, diagnostics)).OfType<SettingSyntax>()];
        SettingSyntax.RefuseTwins(head, settings, kind.Additions, diagnostics);
        return head is null ? null : new StatementSyntax(kind, head, settings, body);
    }

    private static SettingSyntax? ReadSetting(StatementKind kind, LineNode line, DiagnosticList diagnostics)
    {
        foreach (var deeper in line.Below.Where(l => !l.IsBroken).Take(1))
            diagnostics.Error(deeper.Tokens[0].Span, "FES214", "A setting has no settings of its own.", null, "indent it like the line above");
        if (kind.SettingsDependOnNames)
            return new SettingSyntax(line.Tokens, null);
        return SettingSyntax.Read($"a {kind.Keyword}", kind.Additions, line.Tokens, diagnostics);
    }
}

/// <summary>One statement: a line with the lines indented below it.</summary>
public sealed class StatementSyntax
{
    internal StatementSyntax(StatementKind kind, PhraseSyntax head, ImmutableArray<SettingSyntax> settings, ImmutableArray<StatementSyntax> body)
    {
        Kind = kind;
        Head = head;
        Settings = settings;
        Body = body;
    }

    /// <summary>The word that begins it: "rail", "stage".</summary>
    public string Keyword => Kind.Keyword;

    /// <summary>Its line, from the first token to the last.</summary>
    public SourceSpan Span => Head.Span;

    /// <summary>The statements inside it; empty unless it is a template.</summary>
    public ImmutableArray<StatementSyntax> Body { get; }

    internal StatementKind Kind { get; }

    internal PhraseSyntax Head { get; }

    internal ImmutableArray<SettingSyntax> Settings { get; }

    /// <summary>What fills a blank of its line or of one of the lines below it; null if none does.</summary>
    internal Filled? this[string blank]
    {
        get
        {
            if (Head[blank] is { } here)
                return here;
            foreach (var setting in Settings)
            {
                if (setting.Phrase?[blank] is { } below)
                    return below;
            }
            return null;
        }
    }

    /// <summary>
    /// This statement with its settings read, now that it is known which there may be; null after a complaint.
    /// </summary>
    /// <param name="owner">Whose settings they are, in the user's words.</param>
    /// <param name="allowed">The settings there may be.</param>
    /// <param name="diagnostics">Where complaints go.</param>
    internal StatementSyntax? WithSettings(string owner, IReadOnlyCollection<Addition> allowed, DiagnosticList diagnostics)
    {
        SettingSyntax?[] read = [.. Settings.Select(s => SettingSyntax.Read(owner, allowed, s.Tokens, diagnostics))];
        bool isRight = !read.Contains(null) && SettingSyntax.RefuseTwins(Head, read.OfType<SettingSyntax>(), allowed, diagnostics);
        return isRight ? new StatementSyntax(Kind, Head, [.. read.OfType<SettingSyntax>()], Body) : null;
    }

    internal bool Has(string blank) => this[blank] is not null;

    /// <summary>The token in a blank for a name, a type or a text.</summary>
    internal Token Token(string blank) => (Token)this[blank]!.Value;
}
