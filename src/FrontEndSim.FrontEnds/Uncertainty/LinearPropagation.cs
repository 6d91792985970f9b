using MathNet.Numerics.Distributions;

namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>
/// Propagation of uncertainty by a straight line through the estimate (JCGM 100:2008, 5.1.2), for input quantities that do
/// not depend on each other.
/// </summary>
/// <param name="Estimate">The output quantity with every input at its best estimate.</param>
/// <param name="Contributions">One for each input quantity, in their order.</param>
public sealed record LinearPropagation(double Estimate, ImmutableArray<Contribution> Contributions)
{
    /// <summary>Combined standard uncertainty, in the output's unit (JCGM 100:2008, equation 10).</summary>
    public double StandardUncertainty => Math.Sqrt(Contributions.Sum(c => c.Effect * c.Effect));

    /// <summary>
    /// Effective degrees of freedom (Welch–Satterthwaite; JCGM 100:2008, equation G.2b); infinity where every input has infinitely many.
    /// </summary>
    public double DegreesOfFreedom
    {
        get
        {
            double sum = Contributions.Sum(c => Math.Pow(c.Effect, 4) / c.Input.DegreesOfFreedom);
            return sum > 0 ? Math.Pow(StandardUncertainty, 4) / sum : double.PositiveInfinity;
        }
    }

    /// <summary>
    /// Half of the width of the interval that holds the output quantity with a probability, by the t-distribution with the
    /// effective degrees of freedom, rounded down (JCGM 100:2008, G.4.1).
    /// </summary>
    /// <param name="probability">Above 0 and below 1: 0.95.</param>
    public double ExpandedUncertainty(double probability)
    {
        double tail = 0.5 + probability / 2, freedom = Math.Floor(DegreesOfFreedom);
        return StandardUncertainty * (double.IsInfinity(freedom) ? Normal.InvCDF(0, 1, tail)
            : StudentT.InvCDF(0, 1, Math.Max(1, freedom), tail));
    }

    /// <summary>
    /// Propagates through a function. Each effect is half of the difference that the input makes when it goes from one
    /// standard uncertainty below its estimate to one above (JCGM 100:2008, 5.1.3, note 2).
    /// </summary>
    /// <param name="function">The measurement function.</param>
    /// <param name="inputs">Its input quantities, in its order.</param>
    /// <returns>One for each output of the function.</returns>
    public static ImmutableArray<LinearPropagation> Through(MeasurementFunction function, IReadOnlyList<InputQuantity> inputs)
    {
        double[][] outputs = function(1 + 2 * inputs.Count, (draw, values) =>
        {
            for (int k = 0; k < inputs.Count; k++)
                values[k] = inputs[k].Distribution.Mean;
            if (draw > 0)
                values[(draw - 1) / 2] += (draw % 2 == 1 ? -1 : 1) * inputs[(draw - 1) / 2].Distribution.StandardUncertainty;
        });
        return
        [
            .. outputs[0].Select((estimate, output) => new LinearPropagation(estimate,
                [.. inputs.Select((input, k) => new Contribution(input, (outputs[2 * k + 2][output] - outputs[2 * k + 1][output]) / 2))])),
        ];
    }
}

/// <summary>What an input quantity contributes.</summary>
/// <param name="Input">The input quantity.</param>
/// <param name="Effect">Sensitivity times standard uncertainty, in the output's unit, with the sensitivity's sign.</param>
public sealed record Contribution(InputQuantity Input, double Effect);
