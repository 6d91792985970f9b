namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>How large an alternating quantity is said to be.</summary>
public enum Amplitude
{
    /// <summary>Its root mean square.</summary>
    Rms,

    /// <summary>The mean of its magnitude.</summary>
    Mean,

    /// <summary>Its peak.</summary>
    Peak,

    /// <summary>The average of the codes as they are, behind a rectifier or a peak hold.</summary>
    Average,
}

/// <summary>
/// That what a sensor measures alternates as a sine about zero: its span is then that of instants, from the peak one way to the peak the
/// other way, and what it gives at them lies on a straight line through nothing at nothing.
/// </summary>
/// <param name="Hertz">Its frequency, Hz, above zero.</param>
/// <param name="Tolerance">How far that may be off, a fraction either way: firmware samples by its own clock.</param>
/// <param name="Said">How large it is said to be: rms or peak.</param>
/// <param name="Amplitudes">The amplitudes that it is used for, so said, in the quantity's unit; the lower end is not below zero.</param>
public sealed record Alternation(double Hertz, double Tolerance, Amplitude Said, Span Amplitudes)
{
    /// <summary>The peak of a sine over how large it is said to be: √2 of its rms, π/2 of its mean magnitude.</summary>
    public static double Crest(Amplitude said) => said switch
    {
        Amplitude.Rms => Math.Sqrt(2),
        Amplitude.Mean => Math.PI / 2,
        _ => 1,
    };

    /// <summary>The peak of the sensor's quantity, in its unit, where it is so large as it is said.</summary>
    public double PeakOf(double amplitude) => Crest(Said) * amplitude;

    /// <summary>The instants of the largest amplitude.</summary>
    public Span Instants => new(-PeakOf(Amplitudes.High), PeakOf(Amplitudes.High));
}
