using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A plain fault: it begins, and ends after a while or never.</summary>
public abstract record Fault : Disturbance
{
    /// <summary>A fault.</summary>
    /// <param name="startSeconds">When it happens, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    private protected Fault(double startSeconds, double? durationSeconds)
    {
        StartSeconds = Positive("The start of a fault", startSeconds, "s");
        DurationSeconds = durationSeconds is { } d ? Positive("The duration of a fault", d, "s") : null;
    }

    /// <summary>When it happens, s.</summary>
    public double StartSeconds { get; }

    /// <summary>For how long, s; null for ever.</summary>
    public double? DurationSeconds { get; private init; }

    /// <summary>Whether something ends it after its time; else that is how long it is looked at, and it may last until someone finds
    /// it.</summary>
    public bool IsBrief { get; init; }

    // Without an end, 100 ms show what a filter of some milliseconds makes of it.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (DurationSeconds is { } d ? 1.5 * d : 0.1);

    /// <inheritdoc/>
    public override bool IsLasting => DurationSeconds is null;

    // A moment before its end.
    /// <inheritdoc/>
    public override double? LastsAt => IsLasting ? SuggestedSeconds : IsBrief || DurationSeconds is not { } d
        ? null : StartSeconds + d * (1 - 1e-6);

    /// <inheritdoc/>
    public override Disturbance ForEver() => IsBrief ? this : this with { DurationSeconds = null };

    /// <summary>" for 5 ms", " for 5 ms only" or ", lasting".</summary>
    private protected FormattableString Lasts =>
        DurationSeconds is { } d ? (IsBrief ? $" for {S(d)} only" : (FormattableString)$" for {S(d)}") : (FormattableString)$", lasting";

    /// <summary>One value outside the fault and another inside.</summary>
    private protected Waveform During(double outside, double inside) => DurationSeconds is { } d
        ? new Pulse(outside, inside, StartSeconds, 0, d, 0)
        : new Step(outside, inside, StartSeconds);
}
