using System.Text;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Cli;

/// <summary>A file that is written whole or not at all, and that is no input of the run.</summary>
internal static class OutputFile
{
    private const string Written = "write";

    /// <summary>Writes text as UTF-8.</summary>
    /// <exception cref="InputException">The file cannot be written; whatever stood there still does.</exception>
    public static void Write(string path, string text) => Write(path, new UTF8Encoding(false).GetBytes(text));

    /// <summary>Finds out, before any work is done, whether there is a place for the file.</summary>
    /// <exception cref="InputException">The path is a directory, or its directory does not exist.</exception>
    public static void Check(string path)
    {
        if (path == "" || Directory.Exists(path))
            throw new InputException($"cannot write '{path}': it is a directory; name a file in it");
        if (!Directory.Exists(Path.GetDirectoryName(Full(path))))
            throw new InputException($"cannot write '{path}': there is no directory '{Path.GetDirectoryName(path)}'");
    }

    /// <summary>Finds out whether outputs are files of their own: none an input, through whatever name, and no two the same.</summary>
    /// <param name="outputs">Option and path of each; null for one that was not given.</param>
    /// <param name="inputs">Files that the run reads.</param>
    /// <exception cref="InputException">One is not.</exception>
    public static void Check(IEnumerable<(string Option, string? Path)> outputs, IEnumerable<string> inputs)
    {
        var given = outputs.Where(o => o.Path is not (null or "") && IsFile(o.Path)).ToList();
        if (given.Count == 0)
            return; // what cannot be read is told when it is read
        string[] read = [.. inputs.Where(i => i != "").Select(i => Real(i, "read"))];
        var written = new List<(string Option, string Path)>();
        foreach (var (option, path) in given)
        {
            string real = Real(path!, Written);
            if (read.FirstOrDefault(i => Same(i, real)) is { } input)
                throw new InputException(
                    $"{option} '{path}' is {(input == read[0] ? "the circuit file itself" : "a file that this run reads")}; name another "
                    + $"file");
            if (written.FirstOrDefault(w => Same(w.Path, real)) is { Option: { } other })
                throw new InputException($"{option} '{path}' is the file of {other} too; name another file");
            written.Add((option, real));
        }
    }

    /// <summary>Writes bytes to a new file beside the one wanted, then gives it that name; permissions stay as they were.</summary>
    /// <exception cref="InputException">The file cannot be written; whatever stood there still does.</exception>
    public static void Write(string path, byte[] bytes)
    {
        Check(path);
        string? draft = null;
        try
        {
            string full = Full(path);
            if (File.Exists(full) && WroteInPlace(full, bytes))
                return;
            full = RealPath.Of(full); // a link stays and its target is replaced
            draft = Path.Combine(Path.GetDirectoryName(full)!, $".{Environment.ProcessId}-{Guid.NewGuid():N}"[..24] + ".part");
            File.WriteAllBytes(draft, bytes);
            if (!OperatingSystem.IsWindows() && File.Exists(full))
                File.SetUnixFileMode(draft, File.GetUnixFileMode(full));
            File.Move(draft, full, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (draft is not null)
                Delete(draft);
            throw new InputException($"cannot write '{path}': " + e switch
            {
                UnauthorizedAccessException => "permission denied",
                FileNotFoundException => "no file can be made there",
                PathTooLongException => "the name is too long",
                _ => e.Message.Replace($" : '{Path.GetFullPath(path)}'", "", StringComparison.Ordinal).TrimEnd('.'),
            });
        }
    }

    /// <summary>Deletes a draft, which may never have come to be.</summary>
    private static void Delete(string draft)
    {
        try
        {
            File.Delete(draft);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
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

    /// <summary>A device may be named twice.</summary>
    private static bool IsFile(string path) => !Full(path).StartsWith("/dev/", StringComparison.Ordinal);

    private static bool Same(string a, string b) =>
        a.Equals(b, OperatingSystem.IsWindows() || OperatingSystem.IsMacOS() ? StringComparison.OrdinalIgnoreCase
            : StringComparison.Ordinal);

    private static string Full(string path) => Found(path, Written, Path.GetFullPath);

    private static string Real(string path, string purpose) => Found(path, purpose, RealPath.Of);

    private static string Found(string path, string purpose, Func<string, string> find)
    {
        try
        {
            return find(path);
        }
        catch (Exception e) when (e is IOException or ArgumentException)
        {
            throw new InputException(
                $"cannot {purpose} '{path}': {(e is ArgumentException ? e.Message.TrimEnd('.') : "the working directory is gone")}");
        }
    }
}
