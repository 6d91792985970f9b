namespace FrontEndSim.Engine.Waveforms;

/// <summary>
/// A source's value against time: a pure function of time with known corners.
/// Times are in seconds; values are in the source's unit (volts or amperes).
/// At a jump the value is the one just after it.
/// </summary>
public abstract record Waveform
{
    /// <summary>The value at time <paramref name="t"/> (s); at a jump, the value just after it.</summary>
    public abstract double At(double t);

    /// <summary>
    /// The first time strictly after <paramref name="t"/> (s) at which the value or its slope jumps,
    /// or <see cref="double.PositiveInfinity"/> if there is none. The transient lands on these times exactly.
    /// </summary>
    public virtual double NextCorner(double t) => double.PositiveInfinity;

    /// <summary>Whether the value itself, not only its slope, jumps at time <paramref name="t"/> (s).</summary>
    public virtual bool JumpsAt(double t) => false;

    /// <summary>
    /// How fast the value may change just after time <paramref name="t"/> (s): no time step there is longer, so that none
    /// steps over an impulse or a period unseen. Infinity where <see cref="NextCorner"/> tells all.
    /// </summary>
    public virtual double LongestStep(double t) => double.PositiveInfinity;

    /// <summary>
    /// How the value repeats from time <paramref name="t"/> (s) on; null where it does not. A value that stays repeats with any period.
    /// </summary>
    public virtual Repetition? RepeatsFrom(double t) => null;

    /// <summary>Sentences that say which numbers of the waveform make no sense; empty if all do.</summary>
    public abstract IEnumerable<string> Problems();

    /// <summary>A constant value.</summary>
    public static implicit operator Waveform(double value) => new Constant(value);

    /// <summary>A problem for each named number that is not finite.</summary>
    protected static IEnumerable<string> Finite(params (string What, double Value)[] numbers) =>
        numbers.Where(n => !double.IsFinite(n.Value)).Select(n => $"{n.What} must be a finite number, but is {n.Value}");
}

/// <summary>The same value at all times.</summary>
/// <param name="Value">The value, in the source's unit.</param>
public sealed record Constant(double Value) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t) => Value;

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t) => Repetition.Stays(double.PositiveInfinity);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Finite(("the value", Value));
}
