namespace FrontEndSim.FrontEnds.Model;

/// <summary>How firmware samples a pin: evenly, and the mean of so many samples is its reading.</summary>
/// <param name="Count">Samples of a reading, at least 1.</param>
/// <param name="Hertz">Sampling rate, Hz, above zero.</param>
public sealed record Averaging(int Count, double Hertz)
{
    /// <summary>The most samples that are averaged.</summary>
    public const int MostSamples = 1_000_000;

    /// <summary>
    /// What the mean leaves of a sine, as a share of its amplitude: |sin(π·f·N/fs) / (N·sin(π·f/fs))|, the response of a moving average
    /// (Oppenheim and Schafer, Discrete-Time Signal Processing).
    /// </summary>
    /// <param name="hertz">Its frequency, Hz.</param>
    public double Leaves(double hertz)
    {
        // Whole periods between two samples are seen as none: the angle is taken within half a turn.
        double turns = hertz / Hertz, angle = Math.PI * (turns - Math.Round(turns)), below = Count * Math.Sin(angle);
        return Math.Abs(angle) < 1e-12 ? 1 : Math.Abs(Math.Sin(Count * angle) / below);
    }

    /// <summary>The frequency from 0 to half the rate at which it comes back, Hz.</summary>
    /// <param name="hertz">Its frequency, Hz.</param>
    public double Folded(double hertz) => Math.Abs(hertz - Hertz * Math.Round(hertz / Hertz));
}
