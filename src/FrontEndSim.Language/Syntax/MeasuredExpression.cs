namespace FrontEndSim.Language.Syntax;

/// <summary>A number in whatever unit a sensor measures in: 20 C, 3000 mm, 5%.</summary>
/// <param name="Value">The number; of a percentage the fraction.</param>
/// <param name="UnitText">Symbol of its unit, as results show it; empty for none.</param>
/// <param name="Span">Where it stands.</param>
public sealed record MeasuredExpression(double Value, string UnitText, SourceSpan Span)
{
    /// <summary>The same number in another unit; null where one does not follow from the other.</summary>
    /// <param name="unit">Symbol of the other unit.</param>
    public double? In(string unit)
    {
        if (unit == UnitText)
            return Value;
        return UnitWords.Find(UnitText) is var (mine, power) && UnitWords.Find(unit) is var (other, otherPower) && mine == other
            ? Value * Math.Pow(10, power - otherPower) : null;
    }

    /// <summary>"20 °C".</summary>
    public override string ToString() => ValueText.Measured(Value, UnitText);
}

/// <summary>A range of them: LOW .. HIGH.</summary>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
public sealed record MeasuredRange(MeasuredExpression Low, MeasuredExpression High)
{
    /// <summary>Where it stands.</summary>
    public SourceSpan Span => Low.Span.To(High.Span);
}
