using System.Text;

namespace FrontEndSim.Language.Text;

/// <summary>A text and where it came from: what the reader reads and what diagnostics point into.</summary>
public sealed class SourceFile
{
    /// <summary>The largest file that is read, bytes.</summary>
    public const int LargestBytes = 4 * 1024 * 1024;

    /// <summary>A text in memory.</summary>
    /// <param name="path">Path shown in diagnostics; included files are found relative to its folder.</param>
    /// <param name="text">The whole text; lines may end with LF, CRLF or CR.</param>
    public SourceFile(string path, string text)
    {
        Path = path;
        Text = text;
        Lines = [.. text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Replace('\r', '\n').Split('\n')];
    }

    /// <summary>Path as the user gave it.</summary>
    public string Path { get; }

    /// <summary>The whole text as it was read.</summary>
    public string Text { get; }

    /// <summary>Its lines without line ends; never empty (an empty text is one empty line).</summary>
    public ImmutableArray<string> Lines { get; }

    /// <summary>
    /// Reads a file. A missing, unreadable, too large, binary or wrongly encoded file gives no file and one diagnostic; nothing is thrown.
    /// </summary>
    public static (SourceFile? File, Diagnostic? Problem) Read(string path)
    {
        try
        {
            if (Directory.Exists(path))
                return Refuse(path, DiagnosticCode.IsFolder, "This is a folder, not a circuit file.", "give the path of a .fes file in it");
            var info = new FileInfo(path);
            if (!info.Exists)
                return Refuse(path, DiagnosticCode.NoSuchFile, "There is no such file.", NeighbourOf(path));
            if (info.Length > LargestBytes)
            {
                return Refuse(path, DiagnosticCode.FileTooLong, FormattableString.Invariant(
                    $"The file is {info.Length / 1e6:0.0} MB long; a circuit file has at most {LargestBytes / 1024 / 1024} MB."),
                        "split it with include, or check that it is the right file");
            }
            return FromBytes(path, BoundedFile.Read(path, LargestBytes + 1));
        }
        catch (FileNotFoundException e) when (e.FileName is null)
        {
            return Refuse(path, DiagnosticCode.Unreadable, "The file cannot be read: the working directory is gone.", null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Refuse(path, DiagnosticCode.Unreadable, $"The file cannot be read: {e.Message}", null);
        }
    }

    /// <summary>A text from bytes: UTF-8 with or without a byte-order mark. Other bytes give one diagnostic.</summary>
    public static (SourceFile? File, Diagnostic? Problem) FromBytes(string path, byte[] bytes)
    {
        if (bytes.Length > LargestBytes)
        {
            return Refuse(path, DiagnosticCode.FileTooLong,
                $"The text is too long; a circuit file has at most {LargestBytes / 1024 / 1024} MB.",
                "split it with include, or check that it is the right file");
        }
        if (bytes is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..])
            return Refuse(path, DiagnosticCode.IsUtf16, "The file is UTF-16 text; a circuit file is UTF-8.", "save it as UTF-8");
        int zero = Array.IndexOf(bytes, (byte)0);
        if (zero >= 0)
            return Refuse(path, DiagnosticCode.NotText, $"The file is not text: it has a zero byte at position {zero}.",
                "check that it is the right file");
        try
        {
            return (new SourceFile(path, new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes)), null);
        }
        catch (DecoderFallbackException e)
        {
            int at = Math.Clamp(e.Index, 0, bytes.Length);
            int line = 1 + bytes.AsSpan(0, at).Count((byte)'\n');
            int column = at - bytes.AsSpan(0, at).LastIndexOf((byte)'\n');
            return Refuse(path, DiagnosticCode.NotUtf8, "The file is not UTF-8 text.", "save it as UTF-8", line, column);
        }
    }

    /// <summary>Where a place of the file stands in <see cref="Text"/>, from 0.</summary>
    /// <param name="line">Line, from 1 to the number of lines.</param>
    /// <param name="column">Column, from 1; one past the last character for the end of the line.</param>
    internal int OffsetOf(int line, int column)
    {
        int at = Text.Length - Text.TrimStart('\uFEFF').Length;
        for (int number = 1; number < line; number++)
        {
            at += Lines[number - 1].Length;
            at += Text[at] == '\r' && at + 1 < Text.Length && Text[at + 1] == '\n' ? 2 : 1; // any other line end is one character
        }
        return at + column - 1;
    }

    /// <summary>The line end that the file uses first; a line feed where it has one line.</summary>
    internal string LineEnd
    {
        get
        {
            int end = Text.AsSpan().IndexOfAny('\r', '\n');
            return end < 0 ? "\n" : Text[end] == '\n' ? "\n" : end + 1 < Text.Length && Text[end + 1] == '\n' ? "\r\n" : "\r";
        }
    }

    /// <summary>The text of a line (from 1), or an empty string outside the file.</summary>
    public string Line(int number) => number >= 1 && number <= Lines.Length ? Lines[number - 1] : "";

    /// <inheritdoc/>
    public override string ToString() => Path;

    private static (SourceFile?, Diagnostic) Refuse(string path, DiagnosticCode code, string message,
        string? suggestion, int line = 0, int column = 0) =>
        (null, new Diagnostic(Severity.Error, code.Text, path, line, column, line > 0 ? 1 : 0, message) { Suggestion = suggestion });

    private static string? NeighbourOf(string path)
    {
        string folder = System.IO.Path.GetDirectoryName(path) is { Length: > 0 } given ? given : ".";
        if (!Directory.Exists(folder))
            return null;
        // The name alone is what start was told.
        string name = System.IO.Path.GetFileName(path);
        string? near = File.Exists(path + ".fes") ? name + ".fes" : Nearest.Of(name, Directory.EnumerateFiles(folder, "*.fes")
            .Take(1000).Select(f => System.IO.Path.GetFileName(f)!));
        return near is null ? null : $"did you mean {near}?";
    }
}
