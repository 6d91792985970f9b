namespace FrontEndSim.Engine.Waveforms;

/// <summary>A sine that is switched on at time zero, where it is wherever its phase has it: nothing until then, and all of it a moment
/// later.</summary>
/// <param name="Wave">What is switched on.</param>
/// <param name="Seconds">What the contact takes, s.</param>
public sealed record Connected(Sine Wave, double Seconds) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t) => t >= Seconds ? Wave.At(t) : t <= 0 ? 0 : Wave.At(Seconds) * t / Seconds;

    /// <inheritdoc/>
    public override double NextCorner(double t) => t < 0 ? 0 : t < Seconds ? Seconds : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double t) => t < Seconds ? double.PositiveInfinity : Wave.LongestStep(t);

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t) =>
        t < 0 ? Repetition.Stays(0) : t < Seconds ? null : Wave.RepeatsFrom(t);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (string problem in Wave.Problems().Concat(Finite(("what the contact takes", Seconds))))
            yield return problem;
        if (!(Seconds > 0))
            yield return $"what the contact takes must be above 0 s, but is {Seconds} s";
    }
}
