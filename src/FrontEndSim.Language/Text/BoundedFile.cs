using System.Text;

namespace FrontEndSim.Language.Text;

/// <summary>Reads no more of a file than is of use: a device has no length of its own and may never end.</summary>
public static class BoundedFile
{
    /// <summary>The first bytes of a file.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="most">How many at most.</param>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read.</exception>
    public static byte[] Read(string path, long most)
    {
        using var stream = File.OpenRead(path);
        using var bytes = new MemoryStream();
        byte[] block = new byte[64 * 1024];
        for (int read; bytes.Length < most && (read = stream.Read(block)) > 0;)
            bytes.Write(block, 0, read);
        return bytes.ToArray();
    }

    /// <summary>The text of a file, in the encoding that its first bytes tell of or else in UTF-8; null where it is longer.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="most">How many bytes it may have.</param>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read.</exception>
    public static string? ReadText(string path, long most)
    {
        byte[] bytes = Read(path, most + 1);
        if (bytes.Length > most)
            return null;
        using var reader = new StreamReader(new MemoryStream(bytes), Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
