using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Binding.Statements;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Writing;

/// <summary>
/// The text of a circuit file, to be changed a value or a statement at a time. What is not changed stays as it is, byte by byte: comments,
/// order, blanks, line ends. Immutable: each change gives another text. Whether the result is a circuit is for
/// <see cref="CircuitFile.Load(SourceFile, string?, IReadOnlyCollection{StageKind}?)"/> to say.
/// </summary>
/// <example>
/// <code>
/// var text = new CircuitText(file).WithValue("guard.R", "1.8 kohm").WithSetting("adc", "leakage 50 nA").With("resistor R9 from PIN to GND
/// 1M");
/// var loaded = CircuitFile.Load(text.File);
/// </code>
/// </example>
public sealed class CircuitText
{
    private readonly IReadOnlyCollection<StageKind> _stageKinds;

    /// <summary>A text to be changed.</summary>
    /// <param name="file">The circuit file itself; what it includes cannot be changed from here.</param>
    /// <param name="stageKinds">The kinds of stage that may be named; null for those that come with the tool.</param>
    public CircuitText(SourceFile file, IReadOnlyCollection<StageKind>? stageKinds = null)
    {
        File = file;
        _stageKinds = stageKinds ?? StageKinds.All;
        Statements = CircuitFile.Parse(file).Statements;
    }

    /// <summary>The text with all changes, under the path that it had.</summary>
    public SourceFile File { get; }

    /// <summary>The statements that could be read, in the order of the file. They belong to this text: a change gives others.</summary>
    public ImmutableArray<StatementSyntax> Statements { get; }

    /// <summary>The statement that gives a name.</summary>
    /// <param name="name">A name, or the title of an event.</param>
    /// <exception cref="ArgumentException">No statement of this file gives it.</exception>
    public StatementSyntax Find(string name) => Statements.FirstOrDefault(s => s.Name == name)
        ?? throw new ArgumentException($"No statement of {File.Path} gives the name {name}.");

    /// <summary>The text with another value in it, as one turns a knob.</summary>
    /// <param name="name">
    /// What has the value: a part, rail, source or let (<c>R1</c>); one of its settings (<c>R1.rated</c>, <c>probe.source</c>,
    /// <c>guard.series</c>); or a part of a stage by its own name (<c>guard.R</c>, <c>shift.Rf1</c>), whose setting is then found, and
    /// written where it was chosen by the stage before.
    /// </param>
    /// <param name="value">The value as it is written: <c>4.7 kohm</c>, <c>2k2</c>, <c>-1 V .. 1 V</c>, <c>1N5819</c>. A tolerance beside
    /// it stays.</param>
    /// <exception cref="ArgumentException">Nothing of this file has that name and a value; the message says so.</exception>
    public CircuitText WithValue(string name, string value)
    {
        var (statement, setting, blank) = Locate(name);
        return blank is null ? WithSetting(statement.Name!, $"{setting} {value}") : Replaced(blank.Span, value);
    }

    /// <summary>
    /// The text with another value in it, written in the manner in which the value stands there: 4k7, 10nF or 4.7 kohm. Where a let or a
    /// template's parameter stands, that is changed, with all else that follows it.
    /// </summary>
    /// <param name="name">What has the value; see <see cref="WithValue(string, string)"/>.</param>
    /// <param name="value">The value; it is written with enough digits that nothing of it is lost.</param>
    /// <exception cref="ArgumentException">Nothing of this file has that name and a value, or the value is computed.</exception>
    public CircuitText WithValue(string name, Quantity value)
    {
        var (statement, setting, blank) = Locate(name);
        if (blank is null)
            return WithSetting(statement.Name!, $"{setting} {ValueText.Of(value.Value, value.Unit.Symbol)}");
        if (blank is Filled<Expression> { Value: NameExpression let } && let.Name != name
            && Statements.Any(s => s.Form is LetStatement && s.Name == let.Name))
            return WithValue(let.Name, value);
        if (blank is not Filled<Expression> { Value: LiteralExpression literal })
            throw new ArgumentException($"The value of {name} is computed, or follows from something else.");
        string present = File.Line(literal.Span.Line).Substring(literal.Span.Column - 1, literal.Span.Length);
        return Replaced(literal.Span, InMannerOf(present, value));
    }

    /// <summary>What has a value: its statement, the setting if it is one, and the blank that holds it; null where the setting is not
    /// given.</summary>
    private (StatementSyntax Statement, string? Setting, Filled? Blank) Locate(string name)
    {
        if (Statements.FirstOrDefault(s => s.Name == name) is { } whole)
            return (whole, null, BlankOf(whole.Head, name));
        int point = name.IndexOf('.', StringComparison.Ordinal);
        if (point < 0)
            throw new ArgumentException($"No statement of {File.Path} gives the name {name}.");
        var statement = Find(name[..point]);
        string rest = name[(point + 1)..];
        string setting = FormsOf(statement).Any(f => f.Name == rest) ? rest : ParameterOf(statement, rest) ?? SettingOf(statement, name);
        return (statement, setting, PhraseOf(statement, setting) is { } phrase ? BlankOf(phrase, name, setting) : null);
    }

    /// <summary>The parameter that is the value of a template's part; null where the stage is of no template of this file, or computes
    /// it.</summary>
    private string? ParameterOf(StatementSyntax statement, string part) => statement.Form is StageStatement
        && Statements.FirstOrDefault(s => s.Form is TemplateStatement && s.Name == statement.Token("kind").Text) is { } template
        && template.Body.FirstOrDefault(s => s.Name == part) is { } made
        && made.Head.Blanks.OfType<Filled<Expression>>().FirstOrDefault()?.Value is NameExpression parameter
        && TemplateStage.Parameters(template).Any(p => p.Name == parameter.Name) ? parameter.Name : null;

    /// <summary>A value in the manner of another: as a code, joined to its unit, or apart from it.</summary>
    private static string InMannerOf(string present, Quantity value)
    {
        string apart = ValueText.Of(value.Value, value.Unit.Symbol).Replace('µ', 'u');
        if (present.Contains(' ', StringComparison.Ordinal) || !apart.Contains(' ', StringComparison.Ordinal))
            return apart;
        string joined = apart.Replace(" ", "", StringComparison.Ordinal);
        if (ValueCode.Read(present) is null)
            return joined;
        string number = apart[..apart.IndexOf(' ', StringComparison.Ordinal)],
            letter = apart[(number.Length + 1)..^value.Unit.Symbol.Length];
        letter = letter != "" ? letter : value.Unit == Unit.Ohm ? "R" : value.Unit == Unit.Farad ? "F" : "";
        string code = number.Contains('.', StringComparison.Ordinal) ? number.Replace(".", letter, StringComparison.Ordinal)
            : number + letter;
        // What no code can say is written out.
        return letter != "" && ValueCode.Read(code) is { } read && read.Unit == value.Unit
            && Math.Abs(read.Value - value.Value) <= 1e-9 * Math.Abs(value.Value)
            ? code : joined;
    }

    /// <summary>The text with a setting of a statement: changed where it is given, written below the statement where it is not.</summary>
    /// <param name="name">Name of the statement.</param>
    /// <param name="line">The setting as it is written: <c>schottky-high 1N5817 to VDD</c>. Its first word says which it is.</param>
    /// <exception cref="ArgumentException">No statement of this file has that name.</exception>
    public CircuitText WithSetting(string name, string line)
    {
        var statement = Find(name);
        string setting = line.Split(' ', 2)[0];
        if (statement.Settings.FirstOrDefault(s => s.Name == setting) is { } below)
            return Replaced(below.Span, line);
        if (SpanInHead(statement, setting) is { } beside)
            return Replaced(beside, line);
        int last = LastLine(statement);
        string indent = statement.Settings.Length > 0 ? Indent(statement.Settings[^1].Span) : Indent(statement.Span) + "    ";
        return Inserted(last, [indent + line]);
    }

    /// <summary>The text with other words in a statement's own line; what stands below it stays.</summary>
    /// <param name="statement">A statement of this text.</param>
    /// <param name="line">Its line, without indentation.</param>
    public CircuitText WithLine(StatementSyntax statement, string line) => Replaced(statement.Span, line);

    /// <summary>The text with a statement more: behind the last of its kind, or at the end where there is none.</summary>
    /// <param name="lines">Its line, and the lines below it with their indentation, as they are written.</param>
    public CircuitText With(params IReadOnlyList<string> lines)
    {
        string keyword = lines[0].Split(' ', 2)[0];
        if (Statements.LastOrDefault(s => s.Keyword == keyword) is { } last)
            return Inserted(LastLine(last), lines);
        int end = File.Lines.Length;
        while (end > 0 && File.Line(end).Trim().Length == 0)
            end--;
        return Inserted(end, ["", .. lines]);
    }

    /// <summary>The text without a statement and what stands below it; comments ahead of it stay.</summary>
    /// <param name="statement">A statement of this text.</param>
    public CircuitText Without(StatementSyntax statement) => WithoutLines(statement.Span.Line, LastLine(statement));

    /// <summary>The whole text.</summary>
    public override string ToString() => File.Text;

    /// <summary>What fills the first blank of a line that has a value; the type or class where none has.</summary>
    private static Filled BlankOf(PhraseSyntax phrase, string name, string? setting = null)
    {
        bool IsType(Filled blank) => blank is Filled<Token>
            && (blank.Name is "type" or "kind" or "family" or "series" or "sensor" or "rail" or "node")
            && blank.Name != setting;
        return phrase.Blanks.FirstOrDefault(b => b is Filled<Expression> or Filled<RangeExpression>
                or Filled<MeasuredExpression> or Filled<MeasuredRange>)
            ?? phrase.Blanks.FirstOrDefault(IsType)
            ?? throw new ArgumentException($"{name} has no value that could be changed.");
    }

    /// <summary>The settings that a statement may have.</summary>
    private ImmutableArray<Addition> FormsOf(StatementSyntax statement)
    {
        if (!statement.Form.SettingsDependOnNames)
            return statement.Form.Additions;
        string kind = statement.Token("kind").Text;
        if (statement.Form is PartTypeStatement)
            return StatementKinds.Sheets.FirstOrDefault(k => k.Kind == kind)?.Settings ?? [];
        return Statements.FirstOrDefault(s => s.Form is TemplateStatement && s.Name == kind) is { } template
            ? TemplateStage.FormsOf(template)
            : _stageKinds.FirstOrDefault(k => k.Name == kind) is { } shipped ? SettingForms.Of(shipped) : [];
    }

    /// <summary>What a setting says, below its statement or beside it; null where it is not given.</summary>
    private PhraseSyntax? PhraseOf(StatementSyntax statement, string setting)
    {
        if (statement.Settings.FirstOrDefault(s => s.Name == setting) is { } below)
        {
            return below.Phrase ?? PhraseSyntax.Read(FormsOf(statement).First(f => f.Name == setting), below.Tokens, new DiagnosticList())
                ?? throw new ArgumentException($"'{setting}' of {statement.Name} cannot be read.");
        }
        int first = statement.Head.Blanks.ToList()
            .FindIndex(b => b.Name == setting && b is Filled<Token> { Value: { Kind: TokenKind.Word } word } && word.Text == setting);
        return first < 0 ? null : statement.Head with { Blanks = statement.Head.Blanks[(first + 1)..] };
    }

    /// <summary>Where a setting stands in its statement's own line; null where it does not.</summary>
    private SourceSpan? SpanInHead(StatementSyntax statement, string setting)
    {
        var words = statement.Head.Blanks.OfType<Filled<Token>>()
            .Where(b => statement.Form.Additions.Any(a => a.Name == b.Name) && b.Value.Text == b.Name)
            .Select(b => b.Value).OrderBy(t => t.Span.Column).ToList();
        int at = words.FindIndex(w => w.Text == setting);
        if (at < 0)
            return null;
        var start = words[at].Span;
        int end = at + 1 < words.Count ? words[at + 1].Span.Column : statement.Span.Column + statement.Span.Length;
        string line = File.Line(start.Line);
        while (line[end - 2] is ' ' or '\t')
            end--;
        return start with { Length = end - start.Column };
    }

    /// <summary>The setting of a stage that fixes the value of one of its parts: it is tried out which.</summary>
    private string SettingOf(StatementSyntax statement, string part)
    {
        var stage = CircuitFile.Load(File, stageKinds: _stageKinds).FrontEnd?.Stages.FirstOrDefault(s => s.Name == statement.Name);
        if (stage?.Request is not { } request || stage.Parts.FirstOrDefault(p => p.Name == part)?.Value is not { } value)
        {
            throw new ArgumentException($"{statement.Name} has neither a setting nor a part of its own called {part}.");
        }
        // Near the value that it has, so that what else is fixed still goes together with it.
        double other = value.Amount.Value * (1 + 1e-6);
        foreach (var setting in request.Kind.Settings)
        {
            try
            {
                var tried = request.WithAmount(setting, new Quantity(other, value.Unit));
                if (tried?.Build().Parts.FirstOrDefault(p => p.Name == part)?.Value?.Amount.Value == other)
                    return setting.Name;
            }
            catch (StageProblemException)
            {
                // another setting, or none
            }
        }
        throw new ArgumentException($"The value of {part} follows from what is asked of stage {statement.Name}: no setting fixes it.");
    }

    private static int LastLine(StatementSyntax statement) =>
        statement.Settings.Select(s => s.Span.Line).Concat(statement.Body.Select(LastLine)).Append(statement.Span.Line).Max();

    private string Indent(SourceSpan span) => File.Line(span.Line)[..(span.Column - 1)];

    private CircuitText Replaced(SourceSpan span, string words)
    {
        int at = File.OffsetOf(span.Line, span.Column);
        return With(string.Concat(File.Text.AsSpan(0, at), words, File.Text.AsSpan(at + span.Length)));
    }

    /// <summary>Lines behind a line, or at the start for 0.</summary>
    private CircuitText Inserted(int line, IEnumerable<string> lines)
    {
        if (line == 0)
            return With(string.Concat(lines.SkipWhile(l => l.Length == 0).Select(l => l + File.LineEnd)) + File.Text);
        int at = File.OffsetOf(line, File.Line(line).Length + 1);
        return With(File.Text[..at] + string.Concat(lines.Select(l => File.LineEnd + l)) + File.Text[at..]);
    }

    private CircuitText WithoutLines(int first, int last)
    {
        bool isEnd = last == File.Lines.Length;
        int from = isEnd && first > 1 ? File.OffsetOf(first - 1, File.Line(first - 1).Length + 1) : File.OffsetOf(first, 1);
        int to = isEnd ? File.Text.Length : File.OffsetOf(last + 1, 1);
        return With(File.Text.Remove(from, to - from));
    }

    private CircuitText With(string text) => new(new SourceFile(File.Path, text), _stageKinds);
}
