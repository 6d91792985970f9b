using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Writing;

/// <summary>
/// A circuit file that is read although its shifting stage is unfinished or left out: what it says so far, and its text, to
/// which a stage can be added. Whether the wiring makes a circuit is not asked.
/// </summary>
public sealed class UnfinishedCircuit
{
    private readonly SyntaxTree _main;

    private UnfinishedCircuit(SyntaxTree main, FrontEnd frontEnd, PartCatalogue catalogue,
        ImmutableArray<UnfinishedStage> stages, bool hasRequirements, string? leftOut)
    {
        _main = main;
        FrontEnd = frontEnd;
        Catalogue = catalogue;
        Stages = stages;
        HasRequirements = hasRequirements;
        LeftOut = leftOut;
    }

    /// <summary>All but the unfinished stages, and what is required of those.</summary>
    public FrontEnd FrontEnd { get; }

    /// <summary>The part types that may be named, the file's own among them.</summary>
    public PartCatalogue Catalogue { get; }

    /// <summary>The unfinished stages.</summary>
    public ImmutableArray<UnfinishedStage> Stages { get; }

    /// <summary>Whether the file requires anything, be it of an unfinished stage.</summary>
    public bool HasRequirements { get; }

    /// <summary>Name of a stage that is left out, if something is required of it; null otherwise.</summary>
    public string? LeftOut { get; }

    /// <summary>Reads a file. Nothing is thrown on account of the file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The circuit, or null if there is an error; and all that was found.</returns>
    public static (UnfinishedCircuit? Circuit, ImmutableArray<Diagnostic> Diagnostics) Load(string path)
    {
        var (file, problem) = SourceFile.Read(path);
        return file is null ? (null, [problem!]) : Load(file);
    }

    /// <summary>Reads a text; files that it includes are read from disk, relative to its path.</summary>
    public static (UnfinishedCircuit? Circuit, ImmutableArray<Diagnostic> Diagnostics) Load(SourceFile main)
    {
        var diagnostics = new DiagnosticList();
        var trees = CircuitFile.Trees(main, diagnostics);
        var unfinished = new List<UnfinishedStage>();
        var (frontEnd, builder) = Binder.Read(trees[0], [.. trees.Skip(1)], diagnostics, unfinished);
        bool requires = trees.SelectMany(t => t.Statements).Any(s => s.Form is RequireStatement);
        return (diagnostics.HasErrors ? null : new(trees[0], frontEnd, builder.Catalogue, [.. unfinished], requires, builder.LeftOut),
            diagnostics.InOrder());
    }

    /// <summary>
    /// The text with a stage in it. An unfinished stage keeps its lines and gets those that it lacks; one that was left out is
    /// written before what it drives. Everything else stays as it is, but for the paths of included files.
    /// </summary>
    /// <param name="path">Where the text will stand, so that included files are found from there.</param>
    /// <param name="comment">What is said above what is added, lines without the comment sign.</param>
    /// <param name="stage">The stage.</param>
    /// <param name="output">The node that the stage drives.</param>
    /// <param name="after">Stages behind it that are added too.</param>
    /// <param name="requirements">Requirements to add at the end, without the keyword.</param>
    /// <exception cref="ArgumentException">The unfinished stage stands in an included file, whose text is not this one's.</exception>
    public string Complete(string path, IReadOnlyList<string> comment, StageText stage, string output,
        IReadOnlyList<StageText> after, IReadOnlyList<string> requirements)
    {
        var lines = _main.File.Lines.ToList();
        var insertions = new List<(int Before, IEnumerable<string> Lines)>(); // before a line, from 0
        string[] said = [.. comment.Select(c => "# " + c)];
        if (Stages.FirstOrDefault() is { } open)
        {
            var statement = open.Statement;
            if (statement.Span.File != _main.File)
                throw new ArgumentException(
                    $"Stage {open.Request.Name} stands in {statement.Span.File.Path}: design for that file, or move the stage out of it.");
            int last = statement.Settings.Select(s => s.Span.Line).Append(statement.Span.Line).Max();
            string given = statement.Settings.IsEmpty ? "    "
                : lines[statement.Settings[0].Span.Line - 1][..(statement.Settings[0].Span.Column - 1)];
            var ends = statement.Settings.First(s => s.Name == "from").Tokens;
            if (ends[^1].Text != output)
                Replace(lines, ends[^1].Span, output);
            insertions.Add((statement.Span.Line - 1, said));
            insertions.Add((last, stage.Settings.Where(s => statement.Settings.All(g => g.Name != s.Key)).Select(s => given + s.Value)));
            insertions.Add((last, after.SelectMany(s => s.Lines.Prepend(""))));
        }
        else
        {
            int place = Before(output);
            string[] added = [.. said, .. stage.Lines, .. after.SelectMany(s => s.Lines.Prepend(""))];
            insertions.Add(place < lines.Count ? (place, [.. added, ""]) : (place, ["", .. added]));
        }
        if (requirements.Count > 0)
            insertions.Add((End(lines), ["", .. requirements.Select(r => "require " + r)]));
        foreach (var include in _main.Statements.Where(s => s.Form is IncludeStatement))
            Retarget(lines, include.Token("file"), path);
        // From the last line up, so that the numbers of the lines above stay true; stable, so that equal places keep their order.
        foreach (var (before, added) in insertions.Select((i, k) => (i, k)).OrderByDescending(x => x.i.Before)
            .ThenByDescending(x => x.k).Select(x => x.i).ToArray())
            lines.InsertRange(before, added);
        string newLine = _main.File.Text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        return string.Join(newLine, lines).TrimEnd() + newLine;
    }

    /// <summary>The line, from 0, ahead of which a stage that drives a node is written: before the stage that starts there or the pin, and
    /// the comment above it.</summary>
    private int Before(string output)
    {
        bool StartsAt(SettingSyntax setting) => setting.Tokens is [{ Text: "from" }, var node, ..] && node.Text == output;
        var next = _main.Statements.FirstOrDefault(s => s.Form is StageStatement && s.Settings.Any(StartsAt))
            ?? _main.Statements.FirstOrDefault(s => s.Form is PinStatement);
        if (next is null)
            return End([.. _main.File.Lines]);
        int line = next.Span.Line - 1;
        while (line > 0 && _main.File.Lines[line - 1].TrimStart().StartsWith('#'))
            line--;
        return line;
    }

    /// <summary>The number of lines without the empty ones at the end.</summary>
    private static int End(List<string> lines) => lines.FindLastIndex(l => l.Trim().Length > 0) + 1;

    private static void Retarget(List<string> lines, Token file, string path)
    {
        string from = Path.GetDirectoryName(Path.GetFullPath(file.Span.File.Path))!, to = Path.GetDirectoryName(Path.GetFullPath(path))!;
        if (from != to && !Path.IsPathRooted(file.Text))
            Replace(lines, file.Span, $"\"{Path.GetRelativePath(to, Path.Combine(from, file.Text)).Replace('\\', '/')}\"");
    }

    private static void Replace(List<string> lines, SourceSpan span, string text)
    {
        string line = lines[span.Line - 1];
        lines[span.Line - 1] = line[..(span.Column - 1)] + text + line[(span.Column - 1 + span.Length)..];
    }
}
