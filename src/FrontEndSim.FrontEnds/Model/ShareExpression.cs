namespace FrontEndSim.FrontEnds.Model;

/// <summary>A formula in the shares that pins read of the range of their converters, as data: what firmware computes, whoever writes
/// it.</summary>
public abstract record ShareExpression
{
    /// <summary>Its value. What has none there (a zero by zero) is not a number.</summary>
    /// <param name="shares">The share of each converter's range, 0 to 1.</param>
    public abstract double Of(double[] shares);

    /// <summary>Whether a pin stands in it, so that its value moves.</summary>
    public abstract bool HasPins { get; }
}

/// <summary>The share that a pin reads.</summary>
/// <param name="Place">Place of the pin among those of the reading, from 0.</param>
public sealed record PinShare(int Place) : ShareExpression
{
    /// <inheritdoc/>
    public override double Of(double[] shares) => shares[Place];

    /// <inheritdoc/>
    public override bool HasPins => true;
}

/// <summary>A number.</summary>
/// <param name="Value">Its value.</param>
public sealed record FixedNumber(double Value) : ShareExpression
{
    /// <inheritdoc/>
    public override double Of(double[] shares) => Value;

    /// <inheritdoc/>
    public override bool HasPins => false;
}

/// <summary>Something made of one formula or of several.</summary>
/// <param name="Kind">What is made of them.</param>
/// <param name="Operands">What it is made of: one; two of a sum, difference, product, quotient and power; two or more of which the least or
/// the greatest is taken.</param>
public sealed record Calculation(CalculationKind Kind, params ImmutableArray<ShareExpression> Operands) : ShareExpression
{
    /// <inheritdoc/>
    public override bool HasPins => Operands.Any(o => o.HasPins);

    /// <inheritdoc/>
    public override double Of(double[] shares)
    {
        double first = Operands[0].Of(shares);
        return Kind switch
        {
            CalculationKind.Negative => -first,
            CalculationKind.Sum => first + Operands[1].Of(shares),
            CalculationKind.Difference => first - Operands[1].Of(shares),
            CalculationKind.Product => first * Operands[1].Of(shares),
            CalculationKind.Quotient => first / Operands[1].Of(shares),
            CalculationKind.Power => Math.Pow(first, Operands[1].Of(shares)),
            CalculationKind.Exponential => Math.Exp(first),
            CalculationKind.NaturalLogarithm => Math.Log(first),
            CalculationKind.DecimalLogarithm => Math.Log10(first),
            // Codes that no sensor makes may lead below zero.
            CalculationKind.SquareRoot => Math.Sqrt(Math.Max(0, first)),
            CalculationKind.Magnitude => Math.Abs(first),
            CalculationKind.Least => Operands.Skip(1).Aggregate(first, (least, o) => Math.Min(least, o.Of(shares))),
            _ => Operands.Skip(1).Aggregate(first, (greatest, o) => Math.Max(greatest, o.Of(shares))),
        };
    }

    /// <summary>Whether two are alike, operand by operand.</summary>
    public bool Equals(Calculation? other) => other is not null && Kind == other.Kind && Operands.SequenceEqual(other.Operands);

    /// <inheritdoc/>
    public override int GetHashCode() => Operands.Aggregate((int)Kind, HashCode.Combine);
}

/// <summary>What is made of formulas.</summary>
public enum CalculationKind
{
    /// <summary>−a.</summary>
    Negative,

    /// <summary>a + b.</summary>
    Sum,

    /// <summary>a − b.</summary>
    Difference,

    /// <summary>a · b.</summary>
    Product,

    /// <summary>a / b.</summary>
    Quotient,

    /// <summary>a to the power of b.</summary>
    Power,

    /// <summary>e to the power of a.</summary>
    Exponential,

    /// <summary>ln a.</summary>
    NaturalLogarithm,

    /// <summary>log10 a.</summary>
    DecimalLogarithm,

    /// <summary>The square root; that of less than zero is zero.</summary>
    SquareRoot,

    /// <summary>|a|.</summary>
    Magnitude,

    /// <summary>The least of several.</summary>
    Least,

    /// <summary>The greatest of several.</summary>
    Greatest,
}
