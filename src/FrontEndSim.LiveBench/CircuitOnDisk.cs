using FrontEndSim.Language.Text;

namespace FrontEndSim.LiveBench;

/// <summary>The circuit file: the only file that the bench reads for the browser, and the only one that it ever writes, when asked to
/// save.</summary>
internal sealed class CircuitOnDisk(string path, string? includesBelow = null)
{
    /// <summary>Its path.</summary>
    public string Path { get; } = path;

    /// <summary>The folder that files which it includes must lie below; null for its own.</summary>
    public string? IncludesBelow { get; } = includesBelow;

    /// <summary>Its name without directory.</summary>
    public string Name => System.IO.Path.GetFileName(Path);

    /// <summary>Its text, or what keeps it from being read.</summary>
    public (string? Text, string? Problem) Read()
    {
        var (file, problem) = SourceFile.Read(Path);
        return file is null ? (null, problem!.Message) : (file.Text, null);
    }

    /// <summary>Writes the text, whole or not at all; gives what keeps it from being written, or null.</summary>
    public string? Write(string text)
    {
        string beside = Path + ".saving";
        try
        {
            if (File.Exists(Path) && File.GetAttributes(Path).HasFlag(FileAttributes.ReadOnly))
                return "The file is read-only.";
            bool hasMark = text.StartsWith('\uFEFF');
            File.WriteAllText(beside, hasMark ? text[1..] : text, new System.Text.UTF8Encoding(hasMark));
            if (!OperatingSystem.IsWindows() && File.Exists(Path))
                File.SetUnixFileMode(beside, File.GetUnixFileMode(Path));
            File.Move(beside, Path, overwrite: true);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            File.Delete(beside);
            return e.Message;
        }
    }
}
