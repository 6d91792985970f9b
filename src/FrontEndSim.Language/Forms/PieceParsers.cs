using FrontEndSim.Language.Syntax;
using Sprache;

namespace FrontEndSim.Language.Forms;

/// <summary>Parsers of pieces put together.</summary>
internal static class PieceParsers
{
    /// <summary>Parsers one after the other; what they fill, in order.</summary>
    public static Parser<ImmutableArray<Filled>> Sequence(ImmutableArray<Parser<ImmutableArray<Filled>>> parsers) => input =>
    {
        var filled = ImmutableArray.CreateBuilder<Filled>();
        foreach (var parser in parsers)
        {
            var next = parser(input);
            if (!next.WasSuccessful)
                return next;
            filled.AddRange(next.Value);
            input = next.Remainder;
        }
        return Result.Success(filled.ToImmutable(), input);
    };

    /// <summary>Parsers by their first word, any number of them in any order.</summary>
    public static Parser<ImmutableArray<Filled>> AnyOrder(Dictionary<string, Parser<ImmutableArray<Filled>>> parsers) => input =>
    {
        var filled = ImmutableArray.CreateBuilder<Filled>();
        var at = (TokenInput)input;
        while (at.Token is { Kind: TokenKind.Word } word && parsers.TryGetValue(word.Text, out var parser))
        {
            var next = parser(at);
            if (!next.WasSuccessful)
                return next;
            filled.AddRange(next.Value);
            at = (TokenInput)next.Remainder;
        }
        foreach (string word in parsers.Keys)
            at.Miss(word);
        return Result.Success(filled.ToImmutable(), (IInput)at);
    };
}
