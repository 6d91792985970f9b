namespace FrontEndSim.Fuzz;

/// <summary>Failures of the corpus that are not mended yet: <c>VERB/FILE SIGNATURE</c>, a line each in corpus/open.txt.</summary>
internal static class KnownFailures
{
    /// <summary>The folder of past failures in a clone.</summary>
    public static string Folder(string repository) => Path.Combine(repository, "tests", "FrontEndSim.Fuzz", "corpus");

    /// <summary>What stands in the list; nothing if there is none.</summary>
    public static IReadOnlyList<(string Name, string Signature)> Of(string repository)
    {
        string list = Path.Combine(Folder(repository), "open.txt");
        return !File.Exists(list) ? [] : [.. File.ReadLines(list).Select(l => l.Trim()).Where(l => l.Length > 0 && l[0] != '#')
            .Select(l => l.Split(' ', 2)).Select(l => (l[0], l[1]))];
    }
}
