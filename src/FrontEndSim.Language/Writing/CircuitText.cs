using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Binding.Statements;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Syntax;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Writing;

/// <summary>
/// The text of a circuit file, to be changed a value or a statement at a time. What is not changed stays as it is, byte by byte: comments,
/// order, blanks, line ends. Immutable: each change gives another text. Whether the result is a circuit is for
/// <see cref="CircuitFile.Load(SourceFile)"/> to say.
/// </summary>
/// <example>
/// <code>
/// var text = new CircuitText(file).WithValue("guard.R", "1.8 kohm").WithSetting("adc", "leakage 50 nA").With("resistor R9 from PIN to GND 1M");
/// var loaded = CircuitFile.Load(text.File);
/// </code>
/// </example>
public sealed class CircuitText
{
    /// <summary>A text to be changed.</summary>
    /// <param name="file">The circuit file itself; what it includes cannot be changed from here.</param>
    public CircuitText(SourceFile file)
    {
        File = file;
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
        ?? throw new ArgumentException($"No statement of {File.Path} gives the name {name}.", nameof(name));

    /// <summary>The text with another value in it, as one turns a knob.</summary>
    /// <param name="name">
    /// What has the value: a part, rail, source or let (<c>R1</c>); one of its settings (<c>R1.rated</c>, <c>probe.source</c>,
    /// <c>guard.series</c>); or a part of a stage by its own name (<c>guard.R</c>, <c>shift.Rf1</c>), whose setting is then found, and
    /// written where it was chosen by the stage before.
    /// </param>
    /// <param name="value">The value as it is written: <c>4.7 kohm</c>, <c>2k2</c>, <c>-1 V .. 1 V</c>, <c>1N5819</c>. A tolerance beside it stays.</param>
    /// <exception cref="ArgumentException">Nothing of this file has that name and a value; the message says so.</exception>
    public CircuitText WithValue(string name, string value)
    {
        if (Statements.FirstOrDefault(s => s.Name == name) is { } whole)
            return WithBlank(whole.Head, name, value);
        int point = name.IndexOf('.', StringComparison.Ordinal);
        if (point < 0)
            throw new ArgumentException($"No statement of {File.Path} gives the name {name}.", nameof(name));
        var statement = Find(name[..point]);
        string rest = name[(point + 1)..];
        string setting = FormsOf(statement).Any(f => f.Name == rest) ? rest : SettingOf(statement, name);
        if (PhraseOf(statement, setting) is { } phrase)
            return WithBlank(phrase, name, value, setting);
        return WithSetting(statement.Name!, $"{setting} {value}");
    }

    /// <summary>The text with another value in it.</summary>
    /// <param name="name">What has the value; see <see cref="WithValue(string, string)"/>.</param>
    /// <param name="value">The value; it is written with enough digits that nothing of it is lost.</param>
    /// <exception cref="ArgumentException">Nothing of this file has that name and a value.</exception>
    public CircuitText WithValue(string name, Quantity value) => WithValue(name, ValueText.Of(value.Value, value.Unit.Symbol));

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

    /// <summary>The text without a setting of a statement; the text itself where it is not given.</summary>
    /// <param name="name">Name of the statement.</param>
    /// <param name="setting">The setting's first word.</param>
    /// <exception cref="ArgumentException">No statement of this file has that name.</exception>
    public CircuitText WithoutSetting(string name, string setting)
    {
        var statement = Find(name);
        if (statement.Settings.FirstOrDefault(s => s.Name == setting) is { } below)
            return WithoutLines(below.Span.Line, below.Span.Line);
        if (SpanInHead(statement, setting) is not { } beside)
            return this;
        // The blanks ahead of it go with it.
        int start = beside.Column;
        string line = File.Line(beside.Line);
        while (start > 1 && line[start - 2] is ' ' or '\t')
            start--;
        return Replaced(beside with { Column = start, Length = beside.Column + beside.Length - start }, "");
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

    /// <summary>What fills the first blank of a line that has a value, replaced; the type or class where it has none.</summary>
    private CircuitText WithBlank(PhraseSyntax phrase, string name, string value, string? setting = null)
    {
        bool IsType(Filled blank) => blank.Value is Token && (blank.Name is "type" or "kind" or "family" or "series" or "sensor" or "rail" or "node")
            && blank.Name != setting;
        var filled = phrase.Blanks.FirstOrDefault(b => b.Value is Expression or RangeExpression) ?? phrase.Blanks.FirstOrDefault(IsType)
            ?? throw new ArgumentException($"{name} has no value that could be changed.", nameof(name));
        return Replaced(filled.Value switch
        {
            Expression expression => expression.Span,
            RangeExpression range => range.Span,
            _ => ((Token)filled.Value).Span,
        }, value);
    }

    /// <summary>The settings that a statement may have.</summary>
    private ImmutableArray<Addition> FormsOf(StatementSyntax statement)
    {
        if (!statement.Form.SettingsDependOnNames)
            return statement.Form.Additions;
        string kind = statement.Token("kind").Text;
        if (statement.Form is PartTypeStatement)
            return PartTypeStatement.Kinds.FirstOrDefault(k => k.Kind == kind).Settings is { IsDefault: false } settings ? settings : [];
        return Statements.FirstOrDefault(s => s.Form is TemplateStatement && s.Name == kind) is { } template ? TemplateStage.FormsOf(template)
            : StageKinds.Find(kind) is { } shipped ? ShippedStage.FormsOf(shipped) : [];
    }

    /// <summary>What a setting says, below its statement or beside it; null where it is not given.</summary>
    private PhraseSyntax? PhraseOf(StatementSyntax statement, string setting)
    {
        if (statement.Settings.FirstOrDefault(s => s.Name == setting) is { } below)
        {
            return below.Phrase ?? PhraseSyntax.Read(FormsOf(statement).First(f => f.Name == setting), below.Tokens, new DiagnosticList())
                ?? throw new ArgumentException($"'{setting}' of {statement.Name} cannot be read.", nameof(setting));
        }
        int first = statement.Head.Blanks.ToList().FindIndex(b => b.Name == setting && b.Value is Token { Kind: TokenKind.Word } word && word.Text == setting);
        return first < 0 ? null : statement.Head with { Blanks = statement.Head.Blanks[(first + 1)..] };
    }

    /// <summary>Where a setting stands in its statement's own line; null where it does not.</summary>
    private SourceSpan? SpanInHead(StatementSyntax statement, string setting)
    {
        var words = statement.Head.Blanks.Where(b => b.Value is Token t && statement.Form.Additions.Any(a => a.Name == b.Name) && t.Text == b.Name)
            .Select(b => (Token)b.Value).OrderBy(t => t.Span.Column).ToList();
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
        var stage = CircuitFile.Load(File).FrontEnd?.Stages.FirstOrDefault(s => s.Name == statement.Name);
        if (stage?.Request is not { } request || StageKinds.Find(stage.Kind) is not { } kind
            || stage.Parts.FirstOrDefault(p => p.Name == part)?.Value is not { } value)
        {
            throw new ArgumentException($"{statement.Name} has neither a setting nor a part of its own called {part}.", nameof(part));
        }
        // Near the value that it has, so that what else is fixed still goes together with it.
        double other = value.Amount.Value * (1 + 1e-6);
        foreach (string setting in kind.Settings.Where(s => s.Phrase.OfType<Slot>().Any(f => f.Name == "value" && f.Unit == value.Unit)).Select(s => s.Name))
        {
            try
            {
                var tried = request.WithValue(setting, new Quantity(other, value.Unit));
                if (kind.Build(tried).Parts.FirstOrDefault(p => p.Name == part)?.Value?.Amount.Value == other)
                    return setting;
            }
            catch (StageProblemException)
            {
                // another setting, or none
            }
        }
        throw new ArgumentException($"The value of {part} follows from what is asked of stage {statement.Name}: no setting fixes it.", nameof(part));
    }

    private static int LastLine(StatementSyntax statement) =>
        statement.Settings.Select(s => s.Span.Line).Concat(statement.Body.Select(LastLine)).Append(statement.Span.Line).Max();

    private string Indent(SourceSpan span) => File.Line(span.Line)[..(span.Column - 1)];

    private CircuitText Replaced(SourceSpan span, string words)
    {
        int at = File.OffsetOf(span.Line, span.Column);
        return new(new SourceFile(File.Path, string.Concat(File.Text.AsSpan(0, at), words, File.Text.AsSpan(at + span.Length))));
    }

    /// <summary>Lines behind a line, or at the start for 0.</summary>
    private CircuitText Inserted(int line, IEnumerable<string> lines)
    {
        if (line == 0)
            return new(new SourceFile(File.Path, string.Concat(lines.SkipWhile(l => l.Length == 0).Select(l => l + File.LineEnd)) + File.Text));
        int at = File.OffsetOf(line, File.Line(line).Length + 1);
        return new(new SourceFile(File.Path, File.Text[..at] + string.Concat(lines.Select(l => File.LineEnd + l)) + File.Text[at..]));
    }

    private CircuitText WithoutLines(int first, int last)
    {
        bool isEnd = last == File.Lines.Length;
        int from = isEnd && first > 1 ? File.OffsetOf(first - 1, File.Line(first - 1).Length + 1) : File.OffsetOf(first, 1);
        int to = isEnd ? File.Text.Length : File.OffsetOf(last + 1, 1);
        return new(new SourceFile(File.Path, File.Text.Remove(from, to - from)));
    }
}
