using System.Buffers;

namespace FrontEndSim.Language.Text;

/// <summary>Characters that change what a terminal shows of other text: control characters, and those that turn the direction of
/// writing.</summary>
public static class Unprintable
{
    private static readonly SearchValues<char> Those = SearchValues.Create(
        [.. Enumerable.Range(0, 0x20).Concat(Enumerable.Range(0x7F, 0x21)).Concat(Enumerable.Range(0x202A, 5))
            .Concat(Enumerable.Range(0x2066, 4)).Where(c => c != '\t').Select(c => (char)c)]);

    /// <summary>Whether a character is one of them. A tabulator is none; a line end is.</summary>
    public static bool Is(char character) => Those.Contains(character);

    /// <summary>Where the first of them stands; -1 if there is none.</summary>
    public static int IndexIn(ReadOnlySpan<char> text) => text.IndexOfAny(Those);
}
