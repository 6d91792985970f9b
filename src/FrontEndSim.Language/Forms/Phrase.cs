using FrontEndSim.Language.Syntax;
using Sprache;

namespace FrontEndSim.Language.Forms;

/// <summary>A piece of a phrase: what may stand at one place of a statement. It is a parser that fills blanks.</summary>
internal abstract record Piece
{
    /// <summary>A parser for this piece that gives the blanks it fills.</summary>
    public abstract Parser<ImmutableArray<Filled>> Parser { get; }

    /// <summary>The piece as the language reference writes it: <c>tolerance PERCENT</c>.</summary>
    public abstract override string ToString();

    public static implicit operator Piece(string word) => new Word(word);
}

/// <summary>A blank that a phrase has filled.</summary>
/// <param name="Name">The blank's name.</param>
/// <param name="Span">Where what fills it stands.</param>
internal abstract record Filled(string Name, SourceSpan Span)
{
    /// <summary>The unit that a value should have, or null if any will do.</summary>
    public Unit? Unit { get; init; }
}

/// <summary>A blank with what fills it.</summary>
/// <typeparam name="T">A <see cref="Token"/>, an <see cref="Expression"/>, a <see cref="RangeExpression"/>, something measured, or the
/// items of a list.</typeparam>
/// <param name="Name">The blank's name.</param>
/// <param name="Value">What fills it.</param>
/// <param name="Span">Where that stands.</param>
internal sealed record Filled<T>(string Name, T Value, SourceSpan Span) : Filled(Name, Span);

/// <summary>A word that stands there as it is.</summary>
internal sealed record Word(string Text) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } = Grammar.Keyword(Text).Select(_ => ImmutableArray<Filled>.Empty);

    public override string ToString() => Text;
}

/// <summary>A sign that stands there as it is, such as = or /.</summary>
internal sealed record Mark(string Text) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } = Grammar.Sign(Text).Select(_ => ImmutableArray<Filled>.Empty);

    public override string ToString() => Text;
}

/// <summary>What a blank takes.</summary>
internal enum Shape
{
    Name,
    TypeName,
    Text,
    Value,
    Percent,
    Range,
    Measured,
    MeasuredRange,
}

/// <summary>A place that the user fills.</summary>
/// <param name="Name">The blank's name.</param>
/// <param name="Shape">What it takes.</param>
/// <param name="What">What it takes in the user's words: "a node", "a voltage, such as 3.3 V".</param>
/// <param name="Unit">For values and ranges, their unit; null if any will do.</param>
internal sealed record Blank(string Name, Shape Shape, string What, Unit? Unit = null) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } = Shape switch
    {
        Shape.Name => Fill(Name, null, Grammar.Name(What), t => t.Span),
        Shape.TypeName => Fill(Name, null, Grammar.TypeName(What), t => t.Span),
        Shape.Text => Fill(Name, null, Grammar.Text(What), t => t.Span),
        Shape.Value => Fill(Name, Unit, Grammar.Value(What), e => e.Span),
        Shape.Measured => Fill(Name, null, Grammar.Measured(What), m => m.Span),
        Shape.MeasuredRange => Fill(Name, null, Grammar.MeasuredRange(What), m => m.Span),
        Shape.Percent => Fill(Name, FrontEnds.Quantities.Unit.Percent, Grammar.Percent(What), e => e.Span),
        _ => Fill(Name, Unit, Grammar.Range(What), r => r.Span),
    };

    public static Blank Node(string name) => new(name, Shape.Name, "a node");

    public static Blank Of(string name, Unit unit) => new(name, Shape.Value, UnitWords.Describe(unit), unit);

    /// <summary>A percentage written as such: it may be left out without a word in front of it.</summary>
    public static Blank Percentage(string name) => new(name, Shape.Percent, "a percentage, such as 5%");

    private static Parser<ImmutableArray<Filled>> Fill<T>(string name, Unit? unit, Parser<T> value, Func<T, SourceSpan> span) =>
        value.Select(v => ImmutableArray.Create<Filled>(new Filled<T>(name, v, span(v)) { Unit = unit }));

    public override string ToString() => Name.ToUpperInvariant()
        + (Shape is Shape.Range or Shape.MeasuredRange ? " .. " + Name.ToUpperInvariant() : "");
}

/// <summary>Pieces one after the other.</summary>
internal sealed record Phrase(params ImmutableArray<Piece> Pieces) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } = PieceParsers.Sequence([.. Pieces.Select(p => p.Parser)]);

    public override string ToString() => string.Join(" ", Pieces);
}

/// <summary>Pieces that may be left out; once the first of them stands there, the others must follow.</summary>
internal sealed record Maybe(params ImmutableArray<Piece> Pieces) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } =
        new Phrase(Pieces).Parser.XOptional().Select(filled => filled.GetOrElse([]));

    public override string ToString() => $"[{(Pieces is [OneOf only] ? only.ToString()[1..^1] : string.Join(" ", Pieces))}]";
}

/// <summary>One of several pieces, told apart by their first token.</summary>
internal sealed record OneOf(params ImmutableArray<Piece> Choices) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } = Choices.Select(c => c.Parser).Aggregate((a, b) => a.XOr(b));

    public override string ToString() => $"({string.Join(" | ", Choices)})";
}

/// <summary>
/// A word with what follows it, which may be left out. It fills a blank of the word's name with the word,
/// so that one can see whether it is there.
/// </summary>
/// <param name="Name">The word that begins it.</param>
/// <param name="Rest">What follows the word.</param>
internal sealed record Addition(string Name, params ImmutableArray<Piece> Rest) : Piece
{
    /// <summary>Whether it may stand in several lines below a statement.</summary>
    public bool MayRepeat { get; init; }

    public override Parser<ImmutableArray<Filled>> Parser { get; } = PieceParsers.Sequence(
    [
        Grammar.Keyword(Name).Select(word => ImmutableArray.Create<Filled>(new Filled<Token>(Name, word, word.Span))),
        .. Rest.Select(p => p.Parser),
    ]);

    public override string ToString() => string.Join(" ", [Name, .. Rest]);
}

/// <summary>Additions in any order.</summary>
internal sealed record AnyOrder(params ImmutableArray<Addition> Additions) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } =
        PieceParsers.AnyOrder(Additions.ToDictionary(a => a.Name, a => a.Parser));

    public override string ToString() => string.Join(" ", Additions.Select(a => $"[{a}]"));
}

/// <summary>One or more of the same, with commas between them.</summary>
internal sealed record Listed(string Name, Piece Item) : Piece
{
    public override Parser<ImmutableArray<Filled>> Parser { get; } =
        from first in Item.Parser
        from others in (from comma in Grammar.Sign(",") from next in Item.Parser select next).XMany()
        select ImmutableArray.Create<Filled>(new Filled<ImmutableArray<PhraseSyntax>>(Name, [.. others.Prepend(first).Select(Line)],
            Line(first).Span.To(Line(others.LastOrDefault(first)).Span)));

    private static PhraseSyntax Line(ImmutableArray<Filled> blanks) => new(blanks, blanks[0].Span.To(blanks[^1].Span));

    public override string ToString() => $"{Item}, …";
}
