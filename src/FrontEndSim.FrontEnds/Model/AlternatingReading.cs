using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// What firmware computes from codes of one pin that it takes evenly over whole periods of a sensor that alternates: how large that is,
/// the mean of the codes taken from each of them.
/// </summary>
/// <param name="Name">Its name.</param>
/// <param name="Sensor">Name of the sensor, which alternates or is excited by what does.</param>
/// <param name="Pin">Name of the pin, which converts.</param>
/// <param name="Taken">What is made of the codes: their rms, the mean of their magnitude, half the distance from the lowest to the
/// highest, or their plain average.</param>
/// <param name="SamplesInPeriod">Codes in a period of the sensor's nominal frequency, at least 3.</param>
/// <param name="Periods">Whole periods, at least 1.</param>
public sealed record AlternatingReading(string Name, string Sensor, string Pin, Amplitude Taken, int SamplesInPeriod, int Periods)
{
    /// <summary>The most codes that a reading is made of.</summary>
    public const int MostSamples = 10_000;

    /// <summary>All codes.</summary>
    public int Samples => SamplesInPeriod * Periods;

    /// <summary>What is made of codes, counts.</summary>
    /// <param name="counts">The codes, without rounding.</param>
    public double Of(ReadOnlySpan<double> counts)
    {
        double sum = 0, low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double c in counts)
        {
            sum += c;
            low = Math.Min(low, c);
            high = Math.Max(high, c);
        }
        if (Taken == Amplitude.Peak)
            return 0.5 * (high - low);
        double mean = sum / counts.Length, total = 0;
        if (Taken == Amplitude.Average)
            return mean;
        foreach (double c in counts)
            total += Taken == Amplitude.Rms ? (c - mean) * (c - mean) : Math.Abs(c - mean);
        return Taken == Amplitude.Rms ? Math.Sqrt(total / counts.Length) : total / counts.Length;
    }
}
