using Sprache;

namespace FrontEndSim.Language.Syntax;

/// <summary>
/// The tokens of one statement as Sprache's input: a position is a token's index. All positions of one statement share
/// a record of the farthest miss, which makes the error message.
/// </summary>
internal sealed class TokenInput : IInput
{
    private readonly ImmutableArray<Token> _tokens;
    private readonly Farthest _farthest;

    public TokenInput(ImmutableArray<Token> tokens) : this(tokens, 0, new Farthest())
    {
    }

    private TokenInput(ImmutableArray<Token> tokens, int position, Farthest farthest) =>
        (_tokens, Position, _farthest) = (tokens, position, farthest);

    public int Position { get; }

    public bool AtEnd => Position >= _tokens.Length;

    public Token? Token => AtEnd ? null : _tokens[Position];

    public char Current => Token is { Text.Length: > 0 } token ? token.Text[0] : '\0';

    public int Line => Token?.Span.Line ?? 0;

    public int Column => Token?.Span.Column ?? 0;

    public string Source => string.Join(" ", _tokens.Select(t => t.Text));

    public IDictionary<object, object> Memos => field ??= new Dictionary<object, object>();

    /// <summary>The position of the farthest miss, as a token's index.</summary>
    public int MissPosition => _farthest.Position;

    /// <summary>What would have been right at the farthest miss, each once, in the order tried.</summary>
    public IReadOnlyList<string> MissExpected => _farthest.Expected;

    public IInput Advance() => new TokenInput(_tokens, Position + 1, _farthest);

    public void Miss(string expected)
    {
        if (Position > _farthest.Position)
        {
            _farthest.Position = Position;
            _farthest.Expected.Clear();
        }
        if (Position == _farthest.Position && !_farthest.Expected.Contains(expected))
            _farthest.Expected.Add(expected);
    }

    public bool Equals(IInput? other) => other is TokenInput input && input._tokens == _tokens && input.Position == Position;

    public override bool Equals(object? other) => Equals(other as IInput);

    public override int GetHashCode() => Position;

    private sealed class Farthest
    {
        public int Position = -1;
        public readonly List<string> Expected = [];
    }
}
