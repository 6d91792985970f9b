namespace FrontEndSim.Language.Text;

/// <summary>Finds the known name that a misspelt one most probably means.</summary>
public static class Nearest
{
    /// <summary>
    /// The known name with the fewest changed, missing, extra or swapped letters (case does not count), or null if none is near:
    /// at most one change in a short word and a third of a long one's letters.
    /// </summary>
    public static string? Of(string word, IEnumerable<string> known)
    {
        string? best = null;
        int least = int.MaxValue;
        foreach (string name in known)
        {
            int limit = Math.Max(1, Math.Min(word.Length, name.Length) / 3);
            if (name == word || name.Length == 0 || Math.Abs(name.Length - word.Length) > limit || word.Length > 64)
                continue;
            int distance = Distance(word.ToLowerInvariant(), name.ToLowerInvariant());
            // A word of one or two letters is near to any other: one letter more or less may differ, or the case.
            bool isShort = Math.Max(word.Length, name.Length) <= 2 || Math.Min(word.Length, name.Length) == 1;
            if (distance > (isShort ? 0 : limit) || distance >= least)
                continue;
            (best, least) = (name, distance);
        }
        return best;
    }

    /// <summary>"did you mean NAME?", or null.</summary>
    internal static string? Question(string word, IEnumerable<string> known) =>
        Of(word, known) is { } near ? $"did you mean {near}?" : null;

    /// <summary>Damerau-Levenshtein distance with adjacent swaps (Damerau, Communications of the ACM 7(3), 1964).</summary>
    private static int Distance(string a, string b)
    {
        var rows = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
            rows[i, 0] = i;
        for (int j = 0; j <= b.Length; j++)
            rows[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            for (int j = 1; j <= b.Length; j++)
            {
                int cost = a[i - 1] == b[j - 1] ? 0 : 1;
                int least = Math.Min(Math.Min(rows[i - 1, j] + 1, rows[i, j - 1] + 1), rows[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    least = Math.Min(least, rows[i - 2, j - 2] + 1);
                rows[i, j] = least;
            }
        }
        return rows[a.Length, b.Length];
    }
}
