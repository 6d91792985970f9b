using Sprache;

namespace FrontEndSim.Language.Syntax;

/// <summary>The smallest parsers, over tokens: keywords, names, quantities and expressions. Statements are built of them.</summary>
internal static class Grammar
{
    /// <summary>Small words that join a phrase together and therefore name nothing.</summary>
    private static readonly HashSet<string> Reserved =
        ["from", "to", "at", "on", "and", "is", "for", "with", "onto", "through", "over", "under", "in", "every"];

    /// <summary>One token that passes a test; <paramref name="expected"/> tells the user what would, unless it is null.</summary>
    private static Parser<Token> One(Func<Token, bool> accepts, string? expected) => input =>
    {
        var at = (TokenInput)input;
        if (at.Token is { } token && accepts(token))
            return Result.Success(token, at.Advance());
        if (expected is not null)
            at.Miss(expected);
        return Result.Failure<Token>(input, "", []);
    };

    public static Parser<Token> Keyword(string word) => One(t => t.Kind == TokenKind.Word && t.Text == word, word);

    private static Parser<Token> Symbol(string symbol, string? expected = null) =>
        One(t => t.Kind == TokenKind.Symbol && t.Text == symbol, expected);

    /// <summary>One of + - * / ( ) = , %, which the user is told to expect.</summary>
    public static Parser<Token> Sign(string symbol) => Symbol(symbol, symbol);

    /// <summary>A name that is given or referred to.</summary>
    public static Parser<Token> Name(string what) => One(IsName, what);

    /// <summary>The name of a type, which may begin with a digit or be a number: 1N4148, 3V6, E96, 2a.</summary>
    public static Parser<Token> TypeName(string what) => One(t => t.Kind is TokenKind.Code or TokenKind.Number || IsName(t), what);

    public static Parser<Token> Text(string what) => One(t => t.Kind == TokenKind.Text, what);

    /// <summary>Succeeds only after the last token.</summary>
    public static readonly Parser<bool> End = input =>
    {
        var at = (TokenInput)input;
        if (at.AtEnd)
            return Result.Success(true, input);
        at.Miss("the end of the line");
        return Result.Failure<bool>(input, "", []);
    };

    /// <summary>A value: literals, names, + - * / ^ and parentheses, with the usual precedence.</summary>
    public static Parser<Expression> Value(string what)
    {
        // Built at its first use, as the grammar of a value holds itself in parentheses.
        var sum = new Lazy<Parser<Expression>>(() => Sum(what));
        return input => sum.Value(input);
    }

    /// <summary>A percentage written as such: 5%.</summary>
    public static Parser<Expression> Percent(string what) =>
        from number in One(t => t.Kind == TokenKind.Number, what)
        from percent in Symbol("%", "%")
        select QuantityWords.Read(number, percent, null, null);

    /// <summary>A range: LOW .. HIGH.</summary>
    public static Parser<RangeExpression> Range(string what) =>
        from low in Value(what)
        from dots in Sign("..")
        from high in Value("the upper end")
        select new RangeExpression(low, high);

    /// <summary>Words that may follow a measured value and are none of its unit.</summary>
    private static readonly HashSet<string> AfterMeasured =
        ["drives", "against", "gives", "plus", "beta", "class", "within", "source", "edge", "accuracy"];

    /// <summary>A number in a unit that only a sensor knows: 20 C, 3000 mm, 40 km/h, 5%.</summary>
    public static Parser<MeasuredExpression> Measured(string what) =>
        from minus in Symbol("-").Optional()
        from value in MeasuredCode(what).XOr(MeasuredNumber(what))
        select minus.IsDefined ? value with { Value = -value.Value, Span = minus.Get().Span.To(value.Span) } : value;

    /// <summary>A range of them: LOW .. HIGH.</summary>
    public static Parser<MeasuredRange> MeasuredRange(string what) =>
        from low in Measured(what)
        from dots in Sign("..")
        from high in Measured("the upper end")
        select new MeasuredRange(low, high);

    private static Parser<MeasuredExpression> MeasuredCode(string what) => One(t => t.Kind == TokenKind.Code, what).Select(code =>
    {
        int digits = Lexer.EndOfNumber(code.Text, 0);
        return QuantityWords.Measured(code.Text[..digits], code.Text[digits..], code.Span);
    });

    private static Parser<MeasuredExpression> MeasuredNumber(string what) =>
        from number in One(t => t.Kind == TokenKind.Number, what)
        from unit in Symbol("%")
            .XOr(One(t => t.Kind == TokenKind.Word && !Reserved.Contains(t.Text) && !AfterMeasured.Contains(t.Text), null)).Optional()
        from below in (from stroke in Symbol("/") from word in One(t => t.Kind == TokenKind.Word, null) select word).Optional()
        select QuantityWords.Measured(number.Text, unit.IsDefined ? unit.Get().Text + (below.IsDefined ? "/" + below.Get().Text : "") : "",
            number.Span.To((below.GetOrDefault() ?? unit.GetOrDefault() ?? number).Span));

    private static Parser<Expression> Sum(string what) => Chain(Product(what), Product("a value"), "+", "-");

    private static Parser<Expression> Product(string what) => Chain(Factor(what), Factor("a value"), "*", "/");

    /// <summary>Left-associative; by repetition and not by recursion, so that a long sum needs no deep stack.</summary>
    private static Parser<Expression> Chain(Parser<Expression> first, Parser<Expression> next, string sign, string otherSign) => input =>
    {
        var done = first(input);
        while (done.WasSuccessful && done.Remainder is TokenInput { Token: { Kind: TokenKind.Symbol } operation } at
            && (operation.Text == sign || operation.Text == otherSign))
        {
            var right = next(at.Advance());
            if (!right.WasSuccessful)
                return right;
            done = Result.Success<Expression>(
                new BinaryExpression(operation.Text[0], done.Value, right.Value, done.Value.Span.To(right.Value.Span)), right.Remainder);
        }
        return done;
    };

    private static Parser<Expression> Factor(string what) =>
        (from sign in Symbol("-")
         from signs in Symbol("-").Many()
         from operand in Raised(what)
         select signs.Reverse().Append(sign).Aggregate(operand, (inner, minus) => new NegativeExpression(inner, minus.Span.To(inner.Span))))
        .XOr(Raised(what));

    // The exponent is a factor again, so that 2^3^2 is 2^9 and 2^-1 a half.
    private static readonly Lazy<Parser<Expression>> Exponent = new(() => Factor("a value"));

    private static Parser<Expression> Raised(string what) =>
        from number in Unsigned(what)
        from exponent in (from sign in Symbol("^") from power in (Parser<Expression>)(input => Exponent.Value(input)) select power)
            .XOptional()
        select exponent.IsDefined ? new BinaryExpression('^', number, exponent.Get(), number.Span.To(exponent.Get().Span)) : number;

    private static Parser<Expression> Unsigned(string what) => Code(what).XOr(Literal(what)).XOr(Parenthesis).XOr(NameOrFunction(what));

    private static readonly Parser<Expression> Parenthesis =
        from open in Symbol("(")
        from inner in Value("a value")
        from close in Sign(")")
        select inner with { Span = open.Span.To(close.Span) };

    private static Parser<Expression> NameOrFunction(string what) =>
        from name in Name(what)
        from arguments in Arguments.Optional()
        select arguments.IsDefined ? new FunctionExpression(name.Text, arguments.Get().Values, name.Span.To(arguments.Get().Close.Span))
            : (Expression)new NameExpression(name.Text, name.Span);

    private static readonly Parser<(ImmutableArray<Expression> Values, Token Close)> Arguments =
        from open in Symbol("(")
        from first in Value("a value")
        from others in (from comma in Sign(",") from next in Value("a value") select next).XMany()
        from close in Sign(")")
        select ((ImmutableArray<Expression>)[first, .. others], close);

    private static Parser<Expression> Code(string what) =>
        One(t => t.Kind == TokenKind.Code, what).Select(code => QuantityWords.Read(code));

    private static Parser<Expression> Literal(string what) =>
        from number in One(t => t.Kind == TokenKind.Number, what)
        from percent in Symbol("%").Optional()
        from unit in One(t => t.Kind == TokenKind.Word && UnitWords.Find(t.Text) is not null, "a unit").Optional()
        from divisor in Divisor.Optional()
        select QuantityWords.Read(number, percent.GetOrDefault(), unit.GetOrDefault(), divisor.GetOrDefault());

    /// <summary>The lower half of V/us or ppm/K; any other stroke divides.</summary>
    private static readonly Parser<Token> Divisor =
        from stroke in Symbol("/")
        from below in One(t => t.Kind == TokenKind.Word && UnitWords.FindDivisor(t.Text) is not null, null)
        select below;

    private static bool IsName(Token token) => token.Kind == TokenKind.Word && !Reserved.Contains(token.Text);
}
