using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language;

/// <summary>When a statement is bound: later ones look at what earlier ones have made, whatever the order of the file.</summary>
internal enum Turn
{
    /// <summary>Needs only names and values.</summary>
    First,

    /// <summary>Looks at rails and sensors.</summary>
    Second,

    /// <summary>Looks at stages, pins and events.</summary>
    Last,
}

/// <summary>
/// A kind of statement: the word that begins it, its form, and what it adds to a front end.
/// A new statement is a new class in a file of its own and a line in <see cref="StatementKinds"/>.
/// </summary>
internal abstract class StatementKind
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
    public virtual ImmutableArray<StatementKind> Body => [];

    /// <summary>When it is bound.</summary>
    public virtual Turn Turn => Turn.First;

    /// <summary>The form of its line without additions, keyword included.</summary>
    public Phrase Line => field ??= new Phrase([Keyword, .. Head]);

    /// <summary>The form of its line with the additions that it may have.</summary>
    public Piece Form => field ??= Additions.IsEmpty ? Line : new Phrase(Line, new AnyOrder(Additions));

    /// <summary>Makes its names known, before any statement is bound.</summary>
    public virtual void Declare(StatementSyntax statement, Scope scope)
    {
    }

    /// <summary>Adds what it says to the front end.</summary>
    public abstract void Bind(StatementSyntax statement, Scope scope);

    /// <summary>The blank for a name that the statement gives.</summary>
    protected static Blank NewName(string what) => new("name", Shape.Name, $"a name for the {what}");

    /// <summary>The blank for the tolerance of a part, which may be left out.</summary>
    protected static Maybe Tolerance => new(Blank.Percentage("tolerance"));
}

/// <summary>The statements of the language.</summary>
internal static class StatementKinds
{
    /// <summary>All that may stand at the left edge of a file.</summary>
    public static ImmutableArray<StatementKind> All { get; } =
    [
        new CircuitStatement(), new IncludeStatement(), new TemperatureStatement(), new LetStatement(), new RailStatement(), new SensorStatement(),
        new StageStatement(), new TemplateStatement(), new PartTypeStatement(),
        new ResistorStatement(), new CapacitorStatement(), new InductorStatement(), new PotentiometerStatement(),
        new DiodeStatement(DiodeKind.Junction), new DiodeStatement(DiodeKind.Zener), new DiodeStatement(DiodeKind.Schottky), new DiodeStatement(DiodeKind.Led),
        new OpAmpStatement(), new GateStatement(), new SwitchStatement(), new SourceStatement(),
        new PinStatement(), new EventStatement(), new RequireStatement(),
    ];

    /// <summary>Those that may stand in a template.</summary>
    public static ImmutableArray<StatementKind> InTemplate { get; } = [.. All.Where(k => k is PartStatement or StageStatement or LetStatement)];

    /// <summary>The statement that begins with that word, or null.</summary>
    public static StatementKind? Find(string keyword) => All.FirstOrDefault(k => k.Keyword == keyword);
}
