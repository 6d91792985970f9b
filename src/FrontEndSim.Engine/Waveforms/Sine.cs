namespace FrontEndSim.Engine.Waveforms;

/// <summary>offset + amplitude · sin(2π·frequency·(t − start) + phase), and the value at the start before it.</summary>
/// <param name="Offset">Mean value.</param>
/// <param name="Amplitude">Peak value above the mean.</param>
/// <param name="Frequency">Hz.</param>
/// <param name="Start">When the oscillation starts, s.</param>
/// <param name="Phase">Radians at the start.</param>
public sealed record Sine(double Offset, double Amplitude, double Frequency, double Start = 0, double Phase = 0) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t) =>
        Offset + Amplitude * Math.Sin(Phase + (t <= Start ? 0 : 2 * Math.PI * Frequency * (t - Start)));

    /// <inheritdoc/>
    public override double NextCorner(double t) => t < Start ? Start : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double t) => t < Start || Frequency == 0 ? double.PositiveInfinity : 0.15 / Frequency;

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t) =>
        t < Start ? Repetition.Stays(Start) : new(Frequency == 0 ? 0 : 1 / Frequency, double.PositiveInfinity);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Finite(("the offset", Offset), ("the amplitude", Amplitude), ("the frequency", Frequency),
            ("the start", Start), ("the phase", Phase)))
            yield return c;
        if (Frequency < 0)
            yield return $"the frequency must be at least 0 Hz, but is {Frequency} Hz";
    }
}
