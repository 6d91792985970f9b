namespace FrontEndSim.Language.Syntax;

/// <summary>A range as written: LOW .. HIGH.</summary>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
public sealed record RangeExpression(Expression Low, Expression High)
{
    /// <summary>Where it stands.</summary>
    public SourceSpan Span => Low.Span.To(High.Span);
}
