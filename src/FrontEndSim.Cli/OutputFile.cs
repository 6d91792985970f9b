using System.Text;

namespace FrontEndSim.Cli;

/// <summary>A file that is written whole or not at all.</summary>
internal static class OutputFile
{
    /// <summary>Writes text as UTF-8.</summary>
    /// <exception cref="InputException">The file cannot be written; whatever stood there still does.</exception>
    public static void Write(string path, string text) => Write(path, new UTF8Encoding(false).GetBytes(text));

    /// <summary>Finds out, before any work is done, whether there is a place for the file.</summary>
    /// <exception cref="InputException">The path is a directory, or its directory does not exist.</exception>
    public static void Check(string path)
    {
        if (path == "" || Directory.Exists(path))
            throw new InputException($"cannot write '{path}': it is a directory; name a file in it");
        if (!Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path))))
            throw new InputException($"cannot write '{path}': there is no directory '{Path.GetDirectoryName(path)}'");
    }

    /// <summary>Writes bytes to a new file beside the one wanted, then gives it that name.</summary>
    /// <exception cref="InputException">The file cannot be written; whatever stood there still does.</exception>
    public static void Write(string path, byte[] bytes)
    {
        Check(path);
        string full = Path.GetFullPath(path);
        string? draft = null;
        try
        {
            if (File.Exists(full) && WroteInPlace(full, bytes))
                return;
            if (new FileInfo(full).LinkTarget is not null) // the link stays and its target is replaced
                full = File.ResolveLinkTarget(full, returnFinalTarget: true)!.FullName;
            draft = $"{full}.{Environment.ProcessId}.part";
            File.WriteAllBytes(draft, bytes);
            File.Move(draft, full, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (draft is not null)
                File.Delete(draft);
            throw new InputException($"cannot write '{path}': {(e is UnauthorizedAccessException ? "permission denied" : e is FileNotFoundException ? "no file can be made there" : e.Message.TrimEnd('.'))}");
        }
    }

    /// <summary>Writes to a device or a pipe, which must stay what it is. Opening also shows that a file may be written at all.</summary>
    private static bool WroteInPlace(string full, byte[] bytes)
    {
        using var existing = new FileStream(full, FileMode.Open, FileAccess.Write);
        if (existing.CanSeek && !full.StartsWith("/dev/", StringComparison.Ordinal))
            return false;
        existing.Write(bytes);
        return true;
    }
}
