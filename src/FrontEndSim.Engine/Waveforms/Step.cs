namespace FrontEndSim.Engine.Waveforms;

/// <summary>A change from one value to another, linear over the rise time, at once if that is zero.</summary>
/// <param name="Before">The value before <paramref name="Start"/>.</param>
/// <param name="After">The value once the rise is over.</param>
/// <param name="Start">When the rise starts, s.</param>
/// <param name="Rise">How long it takes, s; zero is a jump.</param>
public sealed record Step(double Before, double After, double Start, double Rise = 0) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t) =>
        t < Start ? Before : t >= Start + Rise ? After : Before + (After - Before) * (t - Start) / Rise;

    /// <inheritdoc/>
    public override double NextCorner(double t) =>
        t < Start ? Start : t < Start + Rise ? Start + Rise : double.PositiveInfinity;

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t) =>
        t < Start || t >= Start + Rise || Before == After ? Repetition.Stays(NextCorner(t)) : null;

    /// <inheritdoc/>
    public override bool JumpsAt(double t) => Rise == 0 && t == Start && Before != After;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Finite(("the value before", Before), ("the value after", After), ("the start", Start), ("the rise time", Rise)))
            yield return c;
        if (Rise < 0)
            yield return $"the rise time must be at least 0 s, but is {Rise} s";
    }
}
