namespace FrontEndSim.Language.Syntax;

/// <summary>A value as written: not yet calculated. It knows where it stands.</summary>
/// <param name="Span">Where it stands.</param>
public abstract record Expression(SourceSpan Span);

/// <summary>A number with its unit as written, or an IEC 60062 code.</summary>
/// <param name="Quantity">What it says, in SI units.</param>
/// <param name="IsPercent">Whether it was written with a percent sign.</param>
/// <param name="Span">Where it stands.</param>
public sealed record LiteralExpression(Quantity Quantity, bool IsPercent, SourceSpan Span) : Expression(Span);

/// <summary>Digits and letters that are no quantity; the binder says so.</summary>
/// <param name="Text">As written.</param>
/// <param name="Problem">Why it is none.</param>
/// <param name="Suggestion">What may have been meant, or null.</param>
/// <param name="Span">Where it stands.</param>
public sealed record UnreadableExpression(string Text, string Problem, string? Suggestion, SourceSpan Span) : Expression(Span);

/// <summary>The value of a let, a rail or a template's parameter.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Span">Where it stands.</param>
public sealed record NameExpression(string Name, SourceSpan Span) : Expression(Span);

/// <summary>The opposite of a value.</summary>
/// <param name="Operand">The value.</param>
/// <param name="Span">Where it stands, sign included.</param>
public sealed record NegativeExpression(Expression Operand, SourceSpan Span) : Expression(Span);

/// <summary>A sum, difference, product, quotient or power.</summary>
/// <param name="Operator">One of + - * / ^.</param>
/// <param name="Left">Left of the sign.</param>
/// <param name="Right">Right of it.</param>
/// <param name="Span">Where it stands, both sides included.</param>
public sealed record BinaryExpression(char Operator, Expression Left, Expression Right, SourceSpan Span) : Expression(Span);

/// <summary>A function of values: sqrt(2), min(A, B).</summary>
/// <param name="Function">Its name.</param>
/// <param name="Arguments">What stands in the parentheses, in order; at least one.</param>
/// <param name="Span">Where it stands, parentheses included.</param>
public sealed record FunctionExpression(string Function, ImmutableArray<Expression> Arguments, SourceSpan Span) : Expression(Span);
