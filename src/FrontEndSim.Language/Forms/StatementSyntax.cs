namespace FrontEndSim.Language.Forms;

/// <summary>One statement: a line with the lines indented below it.</summary>
public sealed class StatementSyntax
{
    internal StatementSyntax(StatementForm form, PhraseSyntax head, ImmutableArray<SettingSyntax> settings,
        ImmutableArray<StatementSyntax> body)
    {
        Form = form;
        Head = head;
        Settings = settings;
        Body = body;
    }

    /// <summary>The word that begins it: "rail", "stage".</summary>
    public string Keyword => Form.Keyword;

    /// <summary>The name that it gives, or the title of an event; null where it gives none.</summary>
    public string? Name => Head["name"] is Filled<Token> given ? given.Value.Text : null;

    /// <summary>Its line, from the first token to the last.</summary>
    public SourceSpan Span => Head.Span;

    /// <summary>The statements inside it; empty unless it is a template.</summary>
    public ImmutableArray<StatementSyntax> Body { get; }

    internal StatementForm Form { get; }

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
        return isRight ? new StatementSyntax(Form, Head, [.. read.OfType<SettingSyntax>()], Body) : null;
    }

    /// <summary>Whether one of its settings could not be read, so that what is missing may have been there.</summary>
    internal bool HasUnread { get; init; }

    internal bool Has(string blank) => this[blank] is not null;

    /// <summary>What fills a blank, which is filled.</summary>
    /// <typeparam name="T">What such a blank takes.</typeparam>
    internal T Get<T>(string blank) => ((Filled<T>)this[blank]!).Value;

    /// <summary>The token in a blank for a name, a type or a text.</summary>
    internal Token Token(string blank) => Get<Token>(blank);
}
