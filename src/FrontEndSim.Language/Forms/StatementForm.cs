namespace FrontEndSim.Language.Forms;

/// <summary>How a statement is written: the word that begins it, and its form.</summary>
internal abstract class StatementForm
{
    /// <summary>The word that begins it.</summary>
    public abstract string Keyword { get; }

    /// <summary>What it is for, in a sentence.</summary>
    public abstract string Summary { get; }

    /// <summary>What follows the keyword.</summary>
    protected abstract ImmutableArray<Piece> Head { get; }

    /// <summary>What may follow on the same line or below it, indented.</summary>
    public virtual ImmutableArray<Addition> Additions => [];

    /// <summary>Whether its settings are known only when names are: a stage's depend on what it is.</summary>
    public virtual bool SettingsDependOnNames => false;

    /// <summary>The statements that may stand below it, indented; none for all but a template.</summary>
    public virtual ImmutableArray<StatementForm> Body => [];

    /// <summary>The form of its line without additions, keyword included.</summary>
    public Phrase Line => field ??= new Phrase([Keyword, .. Head]);

    /// <summary>The form of its line with the additions that it may have.</summary>
    public Piece Form => field ??= Additions.IsEmpty ? Line : new Phrase(Line, new AnyOrder(Additions));

    /// <summary>The blank for a name that the statement gives.</summary>
    protected static Blank NewName(string what) => new("name", Shape.Name, $"a name for the {what}");

    /// <summary>The blank for the tolerance of a part, which may be left out.</summary>
    protected static Maybe Tolerance => new(Blank.Percentage("tolerance"));
}
