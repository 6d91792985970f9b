namespace FrontEndSim.Adversary.Tests;

/// <summary>
/// The circuits in tests/adversary: each dies or misreads on a bench for the reason in its first lines, or is the sound twin of
/// one that does. What the program judges wrongly today stands in open.txt, a name and a reason a line.
/// </summary>
internal static class Corpus
{
    /// <summary>Its folder.</summary>
    public static string Folder { get; } = Path.Combine(Find(AppContext.BaseDirectory), "tests", "adversary");

    /// <summary>Names of all circuits, as folder/file, sorted.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. Directory.EnumerateFiles(Folder, "*.fes", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(Folder, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    /// <summary>Circuits that today's program judges wrongly, with why.</summary>
    public static IReadOnlyDictionary<string, string> Open { get; } =
        File.ReadLines(Path.Combine(Folder, "open.txt")).Select(l => l.Trim()).Where(l => l.Length > 0 && l[0] != '#')
            .Select(l => l.Split((char[]?)null, 2, StringSplitOptions.RemoveEmptyEntries))
            .ToDictionary(l => l[0], l => l.Length > 1 ? l[1] : "");

    /// <summary>The words after "Right verdict:" in the circuit's first lines.</summary>
    public static IReadOnlyList<string> RightVerdicts(string name)
    {
        const string mark = "# Right verdict: ";
        string line = File.ReadLines(Path.Combine(Folder, name)).First(l => l.StartsWith(mark, StringComparison.Ordinal));
        return line[mark.Length..].TrimEnd('.').Split(" or ");
    }

    private static string Find(string folder) => File.Exists(Path.Combine(folder, "FrontEndSim.sln")) ? folder
        : Find(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("No folder above the tests holds FrontEndSim.sln."));
}
