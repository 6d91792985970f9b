using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>How a kind of part is described from its data sheet.</summary>
/// <param name="Kind">The word after <c>is</c>.</param>
/// <param name="Settings">What may be said of it.</param>
internal abstract record SheetWords(string Kind, ImmutableArray<Addition> Settings)
{
    /// <summary>The catalogue with the type described, or null after a complaint; throws where its numbers contradict each other.</summary>
    public abstract PartCatalogue? Into(StatementSyntax statement, Scope scope);
}

/// <summary>The same for a type, or for the sheet that a type's model is fitted to.</summary>
/// <param name="Kind">The word after <c>is</c>.</param>
/// <param name="Start">What the numbers that it cannot do without make; null after a complaint.</param>
/// <param name="Details">All that may be said of it but where the numbers come from.</param>
internal sealed record SheetWords<T>(string Kind, Func<SheetReader, T?> Start, ImmutableArray<Detail<T>> Details)
    : SheetWords(Kind, [.. Details.Select(d => d.Words), SheetReader.Sheet]) where T : class
{
    /// <summary>How the catalogue takes it; may be left out for a type.</summary>
    public Func<PartCatalogue, T, PartCatalogue> Added { get; init; } = (catalogue, type) => catalogue.With((PartType)(object)type);

    /// <summary>A type that is like a class of the catalogue but for what is said.</summary>
    /// <param name="kind">The word after <c>is</c>.</param>
    /// <param name="what">What a person calls the kind.</param>
    /// <param name="example">A class.</param>
    /// <param name="start">The class of that name as the file's own; null after a complaint.</param>
    /// <param name="details">What may be said.</param>
    public static SheetWords<T> Like(string kind, string what, string example, Func<SheetReader, Token, T?> start,
        params ImmutableArray<Detail<T>> details) => new(kind, read => start(read, read.Token("class")),
        [
            new(new Addition("like", new Blank("class", Shape.TypeName, $"a class of {what}, such as {example}")))
            {
                Needed = $"a class of the catalogue to start from: like CLASS, such as like {example}",
            },
            .. details,
        ]);

    public override PartCatalogue? Into(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (Details.Any(d => d.Needed is { } what && !read.Requires(d.Words.Name, what)))
            return null;
        return Detail<T>.FillUp(Start(read), Details, read) is { } made && read.IsComplete ? Added(scope.Builder.Catalogue, made) : null;
    }
}

/// <summary>Reads a data sheet.</summary>
internal sealed class SheetReader(StatementSyntax statement, Scope scope) : FigureReader(blank => statement[blank], scope)
{
    /// <summary>Where the numbers come from.</summary>
    public static Addition Sheet { get; } = new("sheet", new Blank("source", Shape.Text, "where the numbers come from, in double quotes"));

    /// <summary>How far from either supply inputs work.</summary>
    public static Addition CommonMode { get; } =
        new("common-mode", Blank.Of("mode-high", Unit.Volts), "from", "high", Blank.Of("mode-low", Unit.Volts), "from", "low");

    /// <summary>How near an output comes to either supply.</summary>
    public static Addition Swing { get; } =
        new("swing", Blank.Of("drop-high", Unit.Volts), "from", "high", Blank.Of("drop-low", Unit.Volts), "from", "low");

    public string Name => Token("name").Text;

    public string Source => SourceOr("given in the circuit file");

    public Token Token(string blank) => statement.Token(blank);

    /// <summary>Where the numbers come from that are not those of a class.</summary>
    public string SourceLike(string like) => SourceOr($"given in the circuit file, otherwise like {like}");

    /// <summary>What each line of a setting says.</summary>
    public ImmutableArray<T> Each<T>(string setting, Func<FigureReader, T> read) =>
        [.. EachLine().Where(l => l.Setting == setting).Select(l => read(l.Line))];

    /// <summary>The lines in their order, each with a reader of its own.</summary>
    public IEnumerable<(string Setting, FigureReader Line)> EachLine()
    {
        foreach (var setting in statement.Settings)
        {
            var line = new FigureReader(blank => setting.Phrase![blank], Scope);
            yield return (setting.Name, line);
            IsComplete &= line.IsComplete;
        }
    }

    /// <summary>Complains if a setting is not there; false then.</summary>
    public bool Requires(string setting, string what)
    {
        if (statement.Settings.Any(s => s.Name == setting))
            return true;
        if (!statement.HasUnread)
            Scope.Diagnostics.Error(statement.Span, DiagnosticCode.SettingMissing, $"{Name} needs {what}.");
        return IsComplete = false;
    }

    private string SourceOr(string otherwise) => Has("source") ? Token("source").Text : otherwise;
}
