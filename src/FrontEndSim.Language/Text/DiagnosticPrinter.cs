using System.Text;

namespace FrontEndSim.Language.Text;

/// <summary>Prints diagnostics: place and message, the source line, a caret under the place, what was expected, what to try.</summary>
public static class DiagnosticPrinter
{
    /// <summary>How much of a long source line is shown, characters.</summary>
    private const int Window = 96;

    /// <summary>How long a line of what was expected grows at most, characters.</summary>
    private const int LongestLine = 120;

    /// <summary>One diagnostic as lines of text without a final line end.</summary>
    public static string Print(Diagnostic diagnostic)
    {
        var text = new StringBuilder(diagnostic.ToString());
        if (diagnostic.SourceLine is { } line && diagnostic.Column > 0)
            PrintSource(text, diagnostic, line);
        if (diagnostic.Expected is { } expected)
            AppendWrapped(text, "expected: ", expected);
        if (diagnostic.Suggestion is { } suggestion)
            AppendWrapped(text, "try: ", suggestion);
        return text.ToString();
    }

    /// <summary>Appends words behind a label, broken at blanks where a line grows long.</summary>
    private static void AppendWrapped(StringBuilder text, string label, string words)
    {
        text.Append("\n    ").Append(label);
        int length = 4 + label.Length;
        foreach (string word in Printable(words).Split(' '))
        {
            if (length > 4 + label.Length && length + word.Length > LongestLine)
            {
                text.Append("\n    ").Append(' ', label.Length);
                length = 4 + label.Length;
            }
            else if (length > 4 + label.Length)
            {
                text.Append(' ');
                length++;
            }
            text.Append(word);
            length += word.Length;
        }
    }

    /// <summary>All of them in order, then one line that counts them; empty for none.</summary>
    public static string Print(IReadOnlyCollection<Diagnostic> diagnostics)
    {
        if (diagnostics.Count == 0)
            return "";
        int errors = diagnostics.Count(d => d.IsError), warnings = diagnostics.Count - errors;
        return string.Join("\n", diagnostics.Select(Print)) + $"\n{Counted(errors, "error")}, {Counted(warnings, "warning")}";
    }

    private static string Counted(int count, string what) => count == 1 ? $"1 {what}" : $"{count} {what}s";

    private static void PrintSource(StringBuilder text, Diagnostic diagnostic, string line)
    {
        int at = Math.Min(diagnostic.Column - 1, line.Length);
        int start = line.Length <= Window ? 0 : Math.Clamp(at - Window / 2, 0, line.Length - Window);
        int end = Math.Min(line.Length, start + Window);
        string number = diagnostic.Line.ToString();
        string before = start > 0 ? "…" : "", after = end < line.Length ? "…" : "";
        text.Append("\n    ").Append(number).Append(" | ").Append(before).Append(Printable(line[start..end])).Append(after);
        // Tabs are kept under tabs, so that the caret stays under its character whatever the tab width.
        text.Append("\n    ").Append(' ', number.Length).Append(" | ").Append(' ', before.Length);
        foreach (char c in line[start..at])
            text.Append(c == '\t' ? '\t' : ' ');
        text.Append('^', Math.Max(1, Math.Min(diagnostic.Length, end - at)));
    }

    /// <summary>A line with dots for what would move the cursor, colour the terminal or turn the writing round.</summary>
    private static string Printable(string line) => string.Concat(line.Select(c => Unprintable.Is(c) ? '·' : c));
}
