using FrontEndSim.FrontEnds.Uncertainty;
using MathNet.Numerics.Distributions;

namespace FrontEndSim.FrontEnds.Tests.Uncertainty;

/// <summary>A mean of few readings: the scaled and shifted t-distribution of JCGM 101:2008, 6.4.9.</summary>
internal sealed record StudentInput(double Mean, double Scale, double Freedom) : InputDistribution
{
    public override double Mean { get; } = Mean;

    public override double StandardUncertainty => Scale * Math.Sqrt(Freedom / (Freedom - 2));

    public override double Low => Mean - 3 * StandardUncertainty;

    public override double High => Mean + 3 * StandardUncertainty;

    /// <summary>Newton's method on the distribution function, from the normal quantile with its first correction in 1/ν.</summary>
    public override double Quantile(double probability)
    {
        double z = Normal.InvCDF(0, 1, probability), t = z + z * (z * z + 1) / (4 * Freedom), step;
        do
        {
            step = (StudentT.CDF(0, 1, Freedom, t) - probability) / StudentT.PDF(0, 1, Freedom, t);
            t -= Math.Clamp(step, -1, 1);
        } while (Math.Abs(step) > 1e-6);
        return Mean + Scale * t;
    }
}
