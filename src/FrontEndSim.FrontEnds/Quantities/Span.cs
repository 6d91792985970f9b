namespace FrontEndSim.FrontEnds.Quantities;

/// <summary>A range of values, both ends included, never empty and never reversed.</summary>
public readonly record struct Span
{
    /// <summary>The range from <paramref name="low"/> to <paramref name="high"/>.</summary>
    /// <exception cref="ArgumentException">An end is not finite, or <paramref name="low"/> is not below
    /// <paramref name="high"/>.</exception>
    public Span(double low, double high)
    {
        if (!double.IsFinite(low) || !double.IsFinite(high) || !(low < high))
            throw new ArgumentException($"A span runs from a lower to a higher value, but {low} .. {high} does not.");
        (Low, High) = (low, high);
    }

    /// <summary>The lower end, included.</summary>
    public double Low { get; }

    /// <summary>The upper end, included.</summary>
    public double High { get; }

    /// <summary>High − Low, above zero.</summary>
    public double Width => High - Low;

    /// <summary>The middle.</summary>
    public double Middle => Low + Width / 2;

    /// <summary>The value that lies a fraction of the way from <see cref="Low"/> (0) to <see cref="High"/> (1).</summary>
    public double At(double fraction) => Low + Width * fraction;
}
