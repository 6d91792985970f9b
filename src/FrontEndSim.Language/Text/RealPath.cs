namespace FrontEndSim.Language.Text;

/// <summary>Where a file really lies.</summary>
public static class RealPath
{
    // Links may lead to links; as deep as the operating system goes.
    private const int MostLinks = 40;

    /// <summary>The full path with every link on the way followed, that of a folder as that of the file; as far as there is one.</summary>
    /// <param name="path">The path of a file or folder, which need not exist.</param>
    /// <exception cref="IOException">The working directory is gone.</exception>
    /// <exception cref="ArgumentException">The path is empty or holds a zero.</exception>
    public static string Of(string path)
    {
        string full = Path.GetFullPath(path), real = Path.GetPathRoot(full)!;
        var rest = new Stack<string>(Parts(full[real.Length..]).Reverse());
        for (int links = 0; rest.TryPop(out string? part);)
        {
            string next = Path.Combine(real, part);
            if (links < MostLinks && Target(next) is { } target)
            {
                links++;
                string to = Path.GetFullPath(target, real);
                real = Path.GetPathRoot(to)!;
                foreach (string piece in Parts(to[real.Length..]).Reverse())
                    rest.Push(piece);
            }
            else
                real = next;
        }
        return real;
    }

    private static string[] Parts(string path) =>
        path.Split([Path.DirectorySeparatorChar, Path.AltDirectorySeparatorChar], StringSplitOptions.RemoveEmptyEntries);

    private static string? Target(string path)
    {
        try
        {
            return new FileInfo(path).LinkTarget;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null; // what may not be looked at is told when it is opened
        }
    }
}
