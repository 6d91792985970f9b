using FrontEndSim.Engine.Circuits;
using FrontEndSim.Language.Syntax;
using Sprache;

namespace FrontEndSim.Language.Forms;

/// <summary>The blanks that one line has filled.</summary>
/// <param name="Blanks">The blanks in the order of the line.</param>
/// <param name="Span">The line from its first token to its last.</param>
internal sealed record PhraseSyntax(ImmutableArray<Filled> Blanks, SourceSpan Span)
{
    // Characters of a form, about three lines of a page.
    private const int MostShown = 300;

    /// <summary>What fills a blank, or null.</summary>
    public Filled? this[string blank] => Blanks.FirstOrDefault(s => s.Name == blank);

    /// <summary>What fills a blank, which is filled.</summary>
    /// <typeparam name="T">What such a blank takes.</typeparam>
    public T Get<T>(string blank) => ((Filled<T>)this[blank]!).Value;

    /// <summary>
    /// Reads tokens by a form. A miss becomes one diagnostic at the farthest token that could be understood,
    /// with what would have been right there, and gives null.
    /// </summary>
    public static PhraseSyntax? Read(Piece form, ImmutableArray<Token> tokens, DiagnosticList diagnostics)
    {
        var input = new TokenInput(tokens);
        var result = form.Parser(input);
        var span = tokens[0].Span.To(tokens[^1].Span);
        if (result.WasSuccessful && Grammar.End(result.Remainder).WasSuccessful)
        {
            if (result.Value.GroupBy(s => s.Name).FirstOrDefault(g => g.Count() > 1) is not { } twice)
                return new PhraseSyntax(result.Value, span);
            diagnostics.Error(span, DiagnosticCode.BlankTwice, $"'{twice.Key}' is given twice.", form.ToString());
            return null;
        }
        Complain(form, tokens, input, diagnostics);
        return null;
    }

    private static void Complain(Piece form, ImmutableArray<Token> tokens, TokenInput input, DiagnosticList diagnostics)
    {
        string[] expected = [.. input.MissExpected.Select(e => e == "," ? "','" : e)];
        var spoken = Spoken(form, tokens.Take(input.MissPosition)) ?? form;
        string wanted = expected.Length switch
        {
            0 => Shown(spoken),
            1 => expected[0],
            _ => string.Join(", ", expected[..^1]) + " or " + expected[^1],
        };
        if (input.MissPosition >= tokens.Length)
        {
            var last = tokens[^1].Span;
            var end = last with { Column = last.Column + last.Length, Length = 1 };
            diagnostics.Error(end, DiagnosticCode.EndsTooEarly, "The line ends too early.", wanted, $"the form {Shown(spoken)}");
            return;
        }
        var found = tokens[Math.Max(0, input.MissPosition)];
        diagnostics.Error(found.Span, DiagnosticCode.Unexpected, $"{found} is not expected here.",
            wanted, Advice(spoken, tokens, input, found));
    }

    /// <summary>The addition that the user was writing when the words ceased to make sense, or null.</summary>
    private static Piece? Spoken(Piece form, IEnumerable<Token> before)
    {
        var additions = form is Phrase { Pieces: [.., AnyOrder last] } ? last.Additions : [];
        return before.Reverse().Select(t => additions.FirstOrDefault(a => a.Name == t.Text)).FirstOrDefault(a => a is not null);
    }

    private static string Advice(Piece form, ImmutableArray<Token> tokens, TokenInput input, Token found)
    {
        if (found.Kind == TokenKind.Word)
        {
            var before = input.MissPosition > 0 ? tokens[input.MissPosition - 1] : null;
            if (Nearest.Question(found.Text, input.MissExpected.Where(e => !e.Contains(' '))) is { } keyword)
                return keyword;
            if (before?.Kind == TokenKind.Number && UnitWords.NearestTo(found.Text) is { } unit)
                return $"the unit {unit}";
            if (before?.Kind == TokenKind.Number && ValueCode.Read(before.Text + found.Text) is { } code)
                return $"{before.Text}{found.Text} without the blank, if it is the value code, or the unit with it: {code.ToString()}";
        }
        if (found.Text == "0" && input.MissExpected.Contains("a node"))
            return $"{Circuit.Ground}, if it is ground";
        // A sheet says "type 1N4148"; here the word itself was read as the type's name.
        if (input.MissPosition > 0 && tokens[input.MissPosition - 1].Text == "type"
            && !form.ToString()!.Contains("type ", StringComparison.Ordinal))
            return $"{found.Text} alone, without the word type";
        if (found.Text == "," && input.MissPosition > 0 && tokens[input.MissPosition - 1].Kind == TokenKind.Number)
            return "a point for the decimals: 1.2 and not 1,2";
        return $"the form {Shown(form)}";
    }

    /// <summary>A form for a message: of one with so many additions that nobody would find the line, only how they begin.</summary>
    private static string Shown(Piece form) => form.ToString()! is var whole && whole.Length > MostShown
        && form is Phrase { Pieces: [var line, AnyOrder last] }
            ? $"{line}, and then or below it: {string.Join(", ", last.Additions.Select(a => a.Name).Distinct())}" : whole;
}
