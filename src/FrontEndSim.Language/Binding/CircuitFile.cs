using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Statements;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding;

/// <summary>What reading a circuit file gives.</summary>
/// <param name="FrontEnd">The front end, or null if there is an error.</param>
/// <param name="Diagnostics">Errors and warnings in the order of the files' lines.</param>
/// <param name="Files">The files that were read, the main file first.</param>
public sealed record LoadResult(FrontEnd? FrontEnd, ImmutableArray<Diagnostic> Diagnostics, ImmutableArray<SourceFile> Files)
{
    /// <summary>The part types that may be named: those that come with the tool, and those that the circuit describes, which go first.</summary>
    public PartCatalogue Catalogue { get; init; } = PartCatalogue.Standard;

    /// <summary>Whether nothing is wrong but that the file holds no circuit of its own: it is there to be included by others.</summary>
    public bool IsMeantForInclusion => Diagnostics is [var only] && only.Code == DiagnosticCode.NoCircuit.Text;
}

/// <summary>A circuit file becomes a front end: read, parse, follow the includes, bind.</summary>
public static class CircuitFile
{
    /// <summary>So many files at most make one circuit.</summary>
    public const int MostFiles = 100;

    /// <summary>Reads the form of a text, and nothing of its meaning. Any text gives a tree and diagnostics; nothing is thrown.</summary>
    public static SyntaxTree Parse(SourceFile file) => SyntaxTree.Parse(file, StatementKinds.Forms);

    /// <summary>Reads a circuit file from disk. Nothing is thrown on account of the file; what is wrong is in the diagnostics.</summary>
    public static LoadResult Load(string path)
    {
        var (file, problem) = SourceFile.Read(path);
        return file is null ? new LoadResult(null, [problem!], []) : Load(file);
    }

    /// <summary>Reads a circuit from a text; files that it includes are read from disk, relative to its path.</summary>
    public static LoadResult Load(SourceFile main)
    {
        var diagnostics = new DiagnosticList();
        var trees = Trees(main, diagnostics);
        var bound = Binder.Bind(trees[0], [.. trees.Skip(1)], diagnostics);
        return new LoadResult(bound.FrontEnd, bound.Diagnostics, [.. trees.Select(t => t.File)]) { Catalogue = bound.Catalogue };
    }

    /// <summary>The syntax trees of a file and of all that it includes, the file's own first.</summary>
    internal static List<SyntaxTree> Trees(SourceFile main, DiagnosticList diagnostics)
    {
        var trees = new List<SyntaxTree> { Parse(main) };
        var includes = new Dictionary<string, List<string>>();
        for (int i = 0; i < trees.Count; i++)
            Follow(trees[i], trees, includes, diagnostics);
        return trees;
    }

    /// <summary>Reads the files that a file includes and that have not been read yet.</summary>
    private static void Follow(SyntaxTree tree, List<SyntaxTree> trees, Dictionary<string, List<string>> includes, DiagnosticList diagnostics)
    {
        string here = Canonical(tree.File.Path);
        var targets = includes[here] = [];
        foreach (var name in tree.Statements.Where(s => s.Form is IncludeStatement).Select(s => s.Token("file")))
        {
            string path = Path.Combine(Path.GetDirectoryName(tree.File.Path) ?? "", name.Text), target = Canonical(path);
            targets.Add(target);
            if (Reaches(target, here, includes))
                diagnostics.Error(name.Span, DiagnosticCode.CircularInclude, target == here ? "The file includes itself." : $"The files include each other in a circle: {name.Text} includes this file again.");
            else if (trees.All(t => Canonical(t.File.Path) != target))
            {
                var (file, problem) = trees.Count < MostFiles ? SourceFile.Read(path) : (null, null);
                if (file is not null)
                    trees.Add(Parse(file));
                else
                    {
                    diagnostics.Error(name.Span, problem is null ? DiagnosticCode.TooManyFiles : DiagnosticCode.IncludeUnreadable,
                        problem is null ? $"The circuit has more than {MostFiles} files." : $"{path}: {problem.Message}", null, problem?.Suggestion);
                }
            }
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
