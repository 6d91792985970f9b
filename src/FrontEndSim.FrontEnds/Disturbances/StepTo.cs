using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A voltage is put on the node behind a resistance: a miswired supply, a failed sensor.</summary>
public sealed record StepTo : Disturbance
{
    /// <summary>A step.</summary>
    /// <param name="volts">Voltage of the generator, V, of either sign.</param>
    /// <param name="sourceOhms">Its resistance, ohm, above zero.</param>
    /// <param name="startSeconds">When it is connected, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public StepTo(double volts, double sourceOhms, double startSeconds, double? durationSeconds = null)
    {
        if (!double.IsFinite(volts))
            throw new ArgumentException("The voltage of a step must be a finite number.");
        Volts = volts;
        SourceOhms = Positive("The source resistance of a step", sourceOhms, "ohm");
        StartSeconds = Positive("The start of a step", startSeconds, "s");
        DurationSeconds = durationSeconds is { } d ? Positive("The duration of a step", d, "s") : null;
    }

    /// <summary>Voltage of the generator, V.</summary>
    public double Volts { get; }

    /// <summary>Its resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>When it is connected, s.</summary>
    public double StartSeconds { get; }

    /// <summary>For how long, s; null for ever.</summary>
    public double? DurationSeconds { get; }

    /// <inheritdoc/>
    public override string Text => $"step to {SiText.Format(Volts, "V")} behind {SiText.Format(SourceOhms, "ohm")}"
        + (DurationSeconds is { } d ? $" for {SiText.Format(d, "s")}" : ", lasting");

    // Without an end, 100 ms show what a filter of some milliseconds makes of it.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (DurationSeconds is { } d ? 1.5 * d : 0.1);

    /// <inheritdoc/>
    public override bool IsLasting => DurationSeconds is null;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node) =>
    [
        new VoltageSource(name, node, Circuit.Ground, Volts)
        {
            SeriesOhms = SourceOhms,
            Connected = DurationSeconds is { } d ? new Pulse(0, 1, StartSeconds, 0, d, 0) : new Step(0, 1, StartSeconds),
        },
    ];
}
