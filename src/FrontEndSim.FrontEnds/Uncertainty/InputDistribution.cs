using MathNet.Numerics.Distributions;

namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>What is known about an input quantity: a probability distribution (JCGM 101:2008, 6.4). Immutable.</summary>
public abstract record InputDistribution
{
    /// <summary>The best estimate, in the quantity's unit.</summary>
    public abstract double Mean { get; }

    /// <summary>Standard deviation, in the quantity's unit, at least 0.</summary>
    public abstract double StandardUncertainty { get; }

    /// <summary>The lower corner, included: the lower limit, or three standard deviations below the mean where there is no limit.</summary>
    public abstract double Low { get; }

    /// <summary>The upper corner, included.</summary>
    public abstract double High { get; }

    /// <summary>The value below which the quantity lies with a probability.</summary>
    /// <param name="probability">Above 0 and below 1.</param>
    public abstract double Quantile(double probability);
}

/// <summary>
/// Any value between two limits is as likely as any other: all that a tolerance says (JCGM 100:2008, 4.3.7; JCGM 101:2008, 6.4.2).
/// </summary>
/// <param name="Low">The lower limit.</param>
/// <param name="High">The upper limit, not below the lower.</param>
public sealed record RectangularInput(double Low, double High) : InputDistribution
{
    /// <inheritdoc/>
    public override double Mean => Low + (High - Low) / 2;

    /// <summary>Half of the width over √3 (JCGM 100:2008, 4.3.7).</summary>
    public override double StandardUncertainty => (High - Low) / Math.Sqrt(12);

    /// <inheritdoc/>
    public override double Low { get; } = Low;

    /// <inheritdoc/>
    public override double High { get; } = High;

    /// <inheritdoc/>
    public override double Quantile(double probability) => Low + (High - Low) * probability;
}

/// <summary>A quantity scattered about a mean, such as noise (JCGM 101:2008, 6.4.7).</summary>
/// <param name="Mean">The mean.</param>
/// <param name="StandardUncertainty">Standard deviation, at least 0.</param>
public sealed record NormalInput(double Mean, double StandardUncertainty) : InputDistribution
{
    /// <inheritdoc/>
    public override double Mean { get; } = Mean;

    /// <inheritdoc/>
    public override double StandardUncertainty { get; } = StandardUncertainty;

    /// <inheritdoc/>
    public override double Low => Mean - 3 * StandardUncertainty;

    /// <inheritdoc/>
    public override double High => Mean + 3 * StandardUncertainty;

    /// <inheritdoc/>
    public override double Quantile(double probability) => Mean + StandardUncertainty * Normal.InvCDF(0, 1, probability);
}
