using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Binding;

/// <summary>What reading a circuit file gives.</summary>
/// <param name="FrontEnd">The front end, or null if there is an error.</param>
/// <param name="Diagnostics">Errors and warnings in the order of the files' lines.</param>
/// <param name="Files">The files that were read, the main file first.</param>
public sealed record LoadResult(FrontEnd? FrontEnd, ImmutableArray<Diagnostic> Diagnostics, ImmutableArray<SourceFile> Files)
{
    /// <summary>The part types that may be named: those that come with the tool, and those that the circuit describes, which go
    /// first.</summary>
    public PartCatalogue Catalogue { get; init; } = PartCatalogue.Standard;

    /// <summary>Where each requirement was written.</summary>
    public ImmutableDictionary<Requirement, SourceSpan> RequirementPlaces { get; init; } = ImmutableDictionary<Requirement,
        SourceSpan>.Empty;

    /// <summary>Whether nothing is wrong but that the file holds no circuit of its own: it is there to be included by others.</summary>
    public bool IsMeantForInclusion => Diagnostics is [var only] && only.Code == DiagnosticCode.NoCircuit.Text;
}

/// <summary>A circuit file becomes a front end: read, parse, follow the includes, bind.</summary>
public static class CircuitFile
{
    /// <summary>So many files at most make one circuit.</summary>
    public const int MostFiles = 100;

    /// <summary>Reads the form of a text, and nothing of its meaning. Any text gives a tree and diagnostics; nothing is thrown.</summary>
    public static SyntaxTree Parse(SourceFile file) => SyntaxTree.Parse(file, StatementKinds.Forms, OtherWords.LineFor);

    /// <summary>Reads a circuit file from disk. Nothing is thrown on account of the file; what is wrong is in the diagnostics.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="includesBelow">The folder that included files must lie in or below; null for the file's own.</param>
    /// <param name="stageKinds">The kinds of stage that may be named; null for those that come with the tool.</param>
    public static LoadResult Load(string path, string? includesBelow = null, IReadOnlyCollection<StageKind>? stageKinds = null)
    {
        var (file, problem) = SourceFile.Read(path);
        return file is null ? new LoadResult(null, [problem!], []) : Load(file, includesBelow, stageKinds);
    }

    /// <summary>Reads a circuit from a text; files that it includes are read from disk, relative to its path.</summary>
    /// <param name="main">The text.</param>
    /// <param name="includesBelow">The folder that included files must lie in or below; null for the text's own.</param>
    /// <param name="stageKinds">The kinds of stage that may be named; null for those that come with the tool.</param>
    public static LoadResult Load(SourceFile main, string? includesBelow = null, IReadOnlyCollection<StageKind>? stageKinds = null)
    {
        var diagnostics = new DiagnosticList();
        var trees = Trees(main, diagnostics, includesBelow);
        var bound = Binder.Bind(trees[0], [.. trees.Skip(1)], diagnostics, stageKinds);
        return new LoadResult(bound.FrontEnd, bound.Diagnostics, [.. trees.Select(t => t.File)])
        {
            Catalogue = bound.Catalogue,
            RequirementPlaces = bound.RequirementPlaces,
        };
    }

    /// <summary>The syntax trees of a file and of all that it includes, the file's own first.</summary>
    internal static List<SyntaxTree> Trees(SourceFile main, DiagnosticList diagnostics, string? includesBelow = null)
    {
        var trees = new List<SyntaxTree> { Parse(main) };
        var includes = new Dictionary<string, List<string>>();
        string root = includesBelow is null ? Path.GetDirectoryName(Canonical(main.Path)) ?? "" : Canonical(includesBelow);
        for (int i = 0; i < trees.Count; i++)
            Follow(trees[i], root, trees, includes, diagnostics);
        return trees;
    }

    /// <summary>Reads the files that a file includes and that have not been read yet.</summary>
    private static void Follow(SyntaxTree tree, string root, List<SyntaxTree> trees, Dictionary<string,
        List<string>> includes, DiagnosticList diagnostics)
    {
        string here = Canonical(tree.File.Path);
        var targets = includes[here] = [];
        var seen = new HashSet<string>();
        foreach (var name in tree.Statements.Where(s => s.Form is IncludeStatement).Select(s => s.Token("file")))
        {
            string path = Path.Combine(Path.GetDirectoryName(tree.File.Path) ?? "", name.Text), target = Canonical(path);
            if (!seen.Add(target))
                continue; // a file is read once, however often it is named
            targets.Add(target);
            if (seen.Count > MostFiles || trees.Count >= MostFiles && trees.All(t => Canonical(t.File.Path) != target))
            {
                diagnostics.Error(name.Span, DiagnosticCode.TooManyFiles, $"The circuit has more than {MostFiles} files.");
                return;
            }
            if (!IsBelow(path, root))
            {
                diagnostics.Error(name.Span, DiagnosticCode.IncludeElsewhere,
                    $"{name.Text} lies outside of the folder that included files may come from.",
                    null, "put the file beside the circuit or in a folder below it");
            }
            else if (Reaches(target, here, includes))
            {
                diagnostics.Error(name.Span, DiagnosticCode.CircularInclude,
                    target == here ? "The file includes itself."
                        : $"The files include each other in a circle: {name.Text} includes this file again.");
            }
            else if (trees.All(t => Canonical(t.File.Path) != target))
                Include(path, name, trees, diagnostics);
        }
    }

    private static void Include(string path, Token name, List<SyntaxTree> trees, DiagnosticList diagnostics)
    {
        var (file, problem) = SourceFile.Read(path);
        if (file is null)
        {
            diagnostics.Error(name.Span, DiagnosticCode.IncludeUnreadable, $"{path}: {problem!.Message}", null, problem.Suggestion);
            return;
        }
        var included = Parse(file);
        // Of a file in which not one statement can be read nothing is shown: it may be anything, and nobody's to see.
        if (included.Statements.IsEmpty && included.Diagnostics.Length > 0)
            diagnostics.Error(name.Span, DiagnosticCode.NoCircuitFile,
                $"{name.Text} is no circuit file: not one statement of it can be read.", null, "check that it is the right file");
        else
            trees.Add(included);
    }

    /// <summary>Whether a file, be there one or not, lies in a folder or below it, links followed.</summary>
    private static bool IsBelow(string path, string folder)
    {
        try
        {
            string relative = Path.GetRelativePath(RealPath.Of(folder), RealPath.Of(path));
            return !Path.IsPathRooted(relative) && relative != ".."
                && !relative.StartsWith(".." + Path.DirectorySeparatorChar, StringComparison.Ordinal);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return true; // what cannot be looked at cannot be read either, which is said then
        }
    }

    private static bool Reaches(string from, string to, Dictionary<string, List<string>> includes)
    {
        var seen = new HashSet<string>();
        var open = new Stack<string>([from]);
        while (open.TryPop(out string? next))
        {
            if (next == to)
                return true;
            if (seen.Add(next) && includes.TryGetValue(next, out var targets))
                targets.ForEach(open.Push);
        }
        return false;
    }

    private static string Canonical(string path)
    {
        try
        {
            return Path.GetFullPath(path);
        }
        catch (ArgumentException)
        {
            return path;
        }
    }
}
