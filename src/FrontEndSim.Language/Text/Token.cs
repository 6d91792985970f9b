namespace FrontEndSim.Language.Text;

/// <summary>What a token is.</summary>
public enum TokenKind
{
    /// <summary>A keyword or a name: letters first, then letters, digits, underscores, and hyphens or points between them.</summary>
    Word,

    /// <summary>A plain decimal number: <c>4.7</c>, <c>1e-6</c>.</summary>
    Number,

    /// <summary>Digits with letters: a value code or a number with its unit (<c>4k7</c>, <c>10nF</c>), or a type number
    /// (<c>1N4148</c>).</summary>
    Code,

    /// <summary>A text in double quotes; the token's text is what stands between them.</summary>
    Text,

    /// <summary>One of <c>..</c> <c>+</c> <c>-</c> <c>*</c> <c>/</c> <c>(</c> <c>)</c> <c>=</c> <c>,</c> <c>%</c>.</summary>
    Symbol,
}

/// <summary>A word, number, text or symbol and where it stands.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">Its characters; of a quoted text, those between the quotes.</param>
/// <param name="Span">Where it stands, quotes included.</param>
public sealed record Token(TokenKind Kind, string Text, SourceSpan Span)
{
    /// <summary>As a person would point at it: in quotes.</summary>
    public override string ToString() => Kind == TokenKind.Text ? $"the text \"{Text}\"" : $"'{Text}'";
}
