namespace FrontEndSim.Language.Text;

/// <summary>Cuts one line into tokens; a comment runs from # to the end of the line.</summary>
internal static class Lexer
{
    private const string Symbols = "+-*/^()=,%";

    /// <summary>The tokens of a line; null after a diagnostic, when the line makes no sense even as words.</summary>
    public static ImmutableArray<Token>? Read(SourceFile file, int number, DiagnosticList diagnostics)
    {
        string line = file.Line(number);
        var tokens = ImmutableArray.CreateBuilder<Token>();
        int at = 0;
        while (at < line.Length && line[at] != '#')
        {
            char c = line[at];
            if (char.IsWhiteSpace(c))
            {
                at++;
                continue;
            }
            int start = at;
            SourceSpan Span() => new(file, number, start + 1, Math.Max(1, at - start));
            if (char.IsAsciiDigit(c) || (c == '.' && IsDigit(line, at + 1)))
            {
                at = EndOfNumber(line, at);
                int endOfDigits = at;
                at = EndOfName(line, at);
                tokens.Add(new Token(at == endOfDigits ? TokenKind.Number : TokenKind.Code, line[start..at], Span()));
            }
            else if (IsLetter(c))
            {
                at = EndOfName(line, at);
                tokens.Add(new Token(TokenKind.Word, line[start..at], Span()));
            }
            else if (c == '"')
            {
                int end = line.IndexOf('"', at + 1);
                if (end < 0)
                {
                    at = line.Length;
                    diagnostics.Error(new(file, number, start + 1, 1), DiagnosticCode.OpenQuote,
                        "The quote opened here is never closed.", "a closing \" on the same line");
                    return null;
                }
                at = end + 1;
                int strange = Unprintable.IndexIn(line.AsSpan(start + 1, end - start - 1));
                if (strange >= 0)
                {
                    int place = start + 1 + strange;
                    diagnostics.Error(new(file, number, place + 1, 1), DiagnosticCode.StrangeCharacter,
                        $"A control character (U+{(int)line[place]:X4}) is not allowed in a text.");
                    return null;
                }
                tokens.Add(new Token(TokenKind.Text, line[(start + 1)..end], Span()));
            }
            else if (c == '.' && at + 1 < line.Length && line[at + 1] == '.')
            {
                at += 2;
                tokens.Add(new Token(TokenKind.Symbol, "..", Span()));
            }
            else if (Symbols.Contains(c) || c == '\u2212')
            {
                at++;
                tokens.Add(new Token(TokenKind.Symbol, c == '\u2212' ? "-" : c.ToString(), Span()));
            }
            else
            {
                at++;
                diagnostics.Error(Span(), DiagnosticCode.StrangeCharacter, Refusal(c, line, start), null, Replacement(c));
                return null;
            }
        }
        return tokens.ToImmutable();
    }

    public static bool IsLetter(char c) => char.IsAsciiLetter(c) || c is '_' or 'µ' or '\u03BC' or 'Ω' or '\u2126' or '°';

    private static bool IsDigit(string line, int at) => at < line.Length && char.IsAsciiDigit(line[at]);

    private static bool IsNamePart(string line, int at) => at < line.Length && (IsLetter(line[at]) || char.IsAsciiDigit(line[at]));

    public static int EndOfNumber(string line, int at)
    {
        while (IsDigit(line, at))
            at++;
        if (at < line.Length && line[at] == '.' && IsDigit(line, at + 1))
        {
            at++;
            while (IsDigit(line, at))
                at++;
        }
        if (at < line.Length && line[at] is 'e' or 'E')
        {
            int digits = at + 1 < line.Length && line[at + 1] is '+' or '-' ? at + 2 : at + 1;
            if (IsDigit(line, digits))
            {
                at = digits;
                while (IsDigit(line, at))
                    at++;
            }
        }
        return at;
    }

    /// <summary>A hyphen or a point belongs to a name if a letter or digit follows it directly: pin-guard, shift.R1.</summary>
    private static int EndOfName(string line, int at)
    {
        while (IsNamePart(line, at) || (at > 0 && at < line.Length && line[at] is '-' or '.'
            && IsNamePart(line, at - 1) && IsNamePart(line, at + 1)
            && char.IsLetterOrDigit(line[at - 1]) && !IsDigitRun(line, at)))
        {
            at++;
        }
        return at;
    }

    /// <summary>After digits alone a hyphen is a minus and a point ended the number: <c>5-3</c>, <c>1.2.3</c>.</summary>
    private static bool IsDigitRun(string line, int at)
    {
        int start = at;
        while (start > 0 && (IsNamePart(line, start - 1) || line[start - 1] is '-' or '.'))
            start--;
        for (int i = start; i < at; i++)
        {
            if (IsLetter(line[i]))
                return false;
        }
        return true;
    }

    private static string Refusal(char c, string line, int at) => c switch
    {
        '\u201C' or '\u201D' or '\u201E' or '\'' or '`' or '\u2018' or '\u2019' => "This is not the quote that the language uses.",
        _ when Unprintable.Is(c) => $"A control character (U+{(int)c:X4}) is not allowed here.",
        _ when char.IsHighSurrogate(c) && at + 1 < line.Length && char.IsLowSurrogate(line[at + 1]) =>
            $"The character U+{char.ConvertToUtf32(c, line[at + 1]):X} is not allowed here.",
        _ when char.IsSurrogate(c) => $"The character U+{(int)c:X4} is not allowed here.",
        _ => $"The character '{c}' is not allowed here.",
    };

    private static string? Replacement(char c) => c switch
    {
        '\u201C' or '\u201D' or '\u201E' or '\'' or '`' or '\u2018' or '\u2019' => "the straight double quote \"",
        '\u2013' or '\u2014' => "a minus sign -",
        '\u2026' => "two points ..",
        ';' => "# for a comment, or a new line for a new statement",
        '×' => "* to multiply",
        '÷' => "/ to divide",
        '±' => "tolerance, such as tolerance 5%",
        _ when char.IsLetter(c) => "names of the letters a to z, digits, _ and -",
        _ => null,
    };
}
