using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A voltage is put on the node behind a resistance: a miswired supply, a failed sensor. On a rail it takes the place of what feeds it,
/// which then does not hold against it.
/// </summary>
public sealed record StepTo : Fault
{
    /// <summary>A step.</summary>
    /// <param name="volts">Voltage of the generator, V, of either sign.</param>
    /// <param name="sourceOhms">Its resistance, ohm, above zero.</param>
    /// <param name="startSeconds">When it is connected, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public StepTo(double volts, double sourceOhms, double startSeconds, double? durationSeconds = null)
        : base(startSeconds, durationSeconds)
    {
        Volts = double.IsFinite(volts) ? volts : throw new ArgumentException("The voltage of a step must be a finite number.");
        SourceOhms = Positive("The source resistance of a step", sourceOhms, "ohm");
    }

    // Above it a direct voltage is no extra-low voltage that may be touched when dry (IEC 60364-4-41, from memory), V.
    private const double TouchableVolts = 60;

    /// <summary>Voltage of the generator, V.</summary>
    public double Volts { get; }

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => Math.Abs(Volts) <= TouchableVolts ? []
        : ["A direct voltage above 60 V can kill: leave it to trained people, limit its current, and follow local rules."];

    /// <summary>Its resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>Whether what drives the node is torn off while it lasts, as it is always on a rail.</summary>
    public bool TearsOff { get; init; }

    /// <inheritdoc/>
    public override Disturbance? TearOff(double sensorOhms) =>
        SourceOhms > WireOverSensor * sensorOhms ? null : this with { TearsOff = true };

    /// <inheritdoc/>
    public override FormattableString Words => $"step to {V(Volts)} behind {Ohm(SourceOhms)}{Lasts}";

    /// <inheritdoc/>
    public override double? DriveVolts => Volts;

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => isRail ? SourceEffect.Replaces : SourceEffect.None;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) =>
        new StepTo(factor * Volts, SourceOhms, StartSeconds, DurationSeconds) { IsBrief = IsBrief };

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        TearsOff || isRail(node)
        ? [.. Sources.ConnectedUntil(undisturbed, node, Text, StartSeconds, DurationSeconds), .. ToElements(name, node)]
        : base.Disturb(undisturbed, name, node, isRail);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        [new VoltageSource(name, node, Circuit.Ground, Volts) { SeriesOhms = SourceOhms, Connected = During(0, 1) }];
}
