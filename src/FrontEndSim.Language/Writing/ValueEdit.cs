using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Writing;

/// <summary>
/// Changes the value of a part in the text that it came from. One number is exchanged, in the manner in which it was written;
/// everything else keeps its place, comments included. The change is only given if the text, read again, has the part at the
/// new value.
/// </summary>
public static class ValueEdit
{
    /// <summary>The text with a part's value changed, or null where no number of the text alone sets it: it is computed, or stands in an included file.</summary>
    /// <param name="file">The text.</param>
    /// <param name="part">Name of the part: "R1", "guard.R".</param>
    /// <param name="value">The new value, in the unit of the part's value, above zero.</param>
    public static string? Change(SourceFile file, string part, double value)
    {
        if (CircuitFile.Load(file).FrontEnd is not { } before || before.AllParts.FirstOrDefault(p => p.Name == part)?.Value is not { } present)
            return null;
        if (present.Amount.Value == value)
            return file.Text;
        var statement = CircuitFile.Parse(file).Statements.FirstOrDefault(s => Owns(Lexer.Read(file, s.Span.Line, new DiagnosticList()) ?? [], part));
        string? best = null;
        int fewest = int.MaxValue;
        foreach (var place in Places(file, present).OrderBy(p => statement is null ? 0 : Away(p.Span.Line, statement.Span.Line)))
        {
            string changed = Exchange(file, place.Span, place.Written(value, present.Unit));
            if (CircuitFile.Load(new SourceFile(file.Path, changed)).FrontEnd is not { } after || after.AllParts.FirstOrDefault(p => p.Name == part)?.Value is not { } now
                || Math.Abs(now.Amount.Value - value) > 1e-9 * Math.Abs(value))
                continue;
            // A number that sets other parts as well is taken only where none sets this part alone.
            int others = before.AllParts.Zip(after.AllParts).Count(p => p.First.Name != part && p.First.ValueText != p.Second.ValueText);
            if (others < fewest)
                (best, fewest) = (changed, others);
            if (fewest == 0)
                break;
        }
        return best;
    }

    /// <summary>A line below the statement comes before one above it.</summary>
    private static int Away(int line, int statement) => line >= statement ? line - statement : 100_000 + statement - line;

    private static bool Owns(ImmutableArray<Token> head, string part) => head is [_, var name, ..] && (name.Text == part || part.StartsWith(name.Text + ".", StringComparison.Ordinal));

    /// <summary>The places where the part's present value is written.</summary>
    private static IEnumerable<Place> Places(SourceFile file, PartValue present)
    {
        for (int line = 1; line <= file.Lines.Length; line++)
        {
            if (Lexer.Read(file, line, new DiagnosticList()) is not { } tokens)
                continue;
            for (int k = 0; k < tokens.Length; k++)
            {
                var token = tokens[k];
                if (token.Kind == TokenKind.Code && ValueCode.Read(token.Text) is { } code && code.Unit == present.Unit && Same(code.Value, present))
                    yield return new(token.Span, Manner.Code);
                else if (token.Kind == TokenKind.Code && Read(token.Text, present))
                    yield return new(token.Span, Manner.Joined);
                else if (token.Kind == TokenKind.Number && k + 1 < tokens.Length && tokens[k + 1].Kind == TokenKind.Word
                    && token.Span.To(tokens[k + 1].Span) is var both && Read($"{token.Text} {tokens[k + 1].Text}", present))
                    yield return new(both, Manner.Apart);
            }
        }
    }

    private static bool Read(string text, PartValue present) => QuantityReader.Read(text, present.Unit).Value is { } value && Same(value, present);

    private static bool Same(double value, PartValue present) => Math.Abs(value - present.Amount.Value) <= 1e-12 * Math.Abs(value);

    private static string Exchange(SourceFile file, SourceSpan span, string by)
    {
        // The text keeps its own line ends: the line is found by counting them.
        int at = file.Text.StartsWith('\uFEFF') ? 1 : 0;
        for (int line = 1; line < span.Line; line++)
        {
            at = file.Text.IndexOfAny(['\r', '\n'], at);
            at += at + 1 < file.Text.Length && file.Text[at] == '\r' && file.Text[at + 1] == '\n' ? 2 : 1;
        }
        int start = at + span.Column - 1;
        return file.Text[..start] + by + file.Text[(start + span.Length)..];
    }

    /// <summary>How a quantity is written.</summary>
    private enum Manner
    {
        /// <summary>4k7.</summary>
        Code,

        /// <summary>10nF.</summary>
        Joined,

        /// <summary>4.7 kohm.</summary>
        Apart,
    }

    private sealed record Place(SourceSpan Span, Manner Manner)
    {
        public string Written(double value, Unit unit)
        {
            string apart = SiText.Typed(value, unit.Symbol).Replace('µ', 'u');
            if (Manner == Manner.Apart)
                return apart;
            string joined = apart.Replace(" ", "", StringComparison.Ordinal);
            if (Manner == Manner.Joined)
                return joined;
            string number = apart[..apart.IndexOf(' ', StringComparison.Ordinal)];
            string letter = apart[(number.Length + 1)..^unit.Symbol.Length];
            letter = letter != "" ? letter : unit == Unit.Ohm ? "R" : unit == Unit.Farad ? "F" : "";
            string code = number.Contains('.', StringComparison.Ordinal) ? number.Replace(".", letter, StringComparison.Ordinal) : number + letter;
            // What no code can say is written out.
            return letter != "" && ValueCode.Read(code) is { } read && read.Unit == unit && Math.Abs(read.Value - value) <= 1e-9 * value ? code
                : joined;
        }
    }
}
