using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Binding;

/// <summary>The circuit files beside a file that include it, for a message to name them.</summary>
internal static class Includers
{
    private const int MostFiles = 200;

    /// <summary>Names of the files in the same folder that include a file, in order; none where the folder cannot be read.</summary>
    public static IReadOnlyList<string> Of(string path)
    {
        try
        {
            string full = Path.GetFullPath(path);
            string? folder = Path.GetDirectoryName(full);
            return folder is null || !Directory.Exists(folder) ? []
                : [.. Directory.EnumerateFiles(folder, "*.fes").Where(f => f != full).Order(StringComparer.Ordinal)
                    .Take(MostFiles).Where(f => Includes(f, folder, full)).Select(f => Path.GetFileName(f))];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return [];
        }
    }

    private static bool Includes(string file, string folder, string target) => SourceFile.Read(file).File is { } read
        && CircuitFile.Parse(read).Statements.Any(s =>
            s.Form is IncludeStatement && Path.GetFullPath(Path.Combine(folder, s.Token("file").Text)) == target);
}
