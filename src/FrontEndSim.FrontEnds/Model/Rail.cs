using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A supply rail against ground. Its name is also its node.</summary>
/// <param name="Name">Name of the rail and of its node.</param>
/// <param name="Volts">Voltage, V, of either sign, with its tolerance.</param>
public sealed record Rail(string Name, Toleranced Volts)
{
    /// <summary>
    /// Whether the supply can only deliver current, as most regulators do; current that a clamp pushes into it then lifts it.
    /// A negative one takes current alone, and a clamp draws it down.
    /// </summary>
    public bool SourceOnly { get; init; }

    /// <summary>Whether the supply is said to sink current as well as to deliver it; where it is not said, most regulators only
    /// deliver.</summary>
    public bool Sinks { get; init; }

    /// <summary>The least current that what else it feeds draws from it, A, at least zero: so much a clamp may push into it without
    /// lifting it.</summary>
    public double LoadAmps { get; init; }

    /// <summary>The most that its supply delivers for ever, A; null where nothing is said.</summary>
    public double? DeliversAmps { get; init; }

    /// <summary>Source resistance, ohm; zero for an ideal supply.</summary>
    public double SeriesOhms { get; init; }

    /// <summary>The voltage that its supply really gives, V, where that is not the nominal one: 0 V for one that is off; null for the
    /// nominal one.</summary>
    public double? PresentVolts { get; init; }

    /// <summary>What the devices that it feeds are said to stand, V, as a magnitude; null where nothing is said.</summary>
    public double? RatedVolts { get; init; }

    /// <summary>
    /// What the devices that it feeds stand at most, V, as a magnitude: what is said of them; else a tenth above the nominal voltage, or
    /// its tolerance and a hundredth if that is more (common practice, no source: 3.6 V for many devices of 3.3 V, 5.5 V for those of
    /// 5 V).
    /// </summary>
    public double HighestVolts => RatedVolts ?? Math.Abs(Volts.Value) * (1 + Math.Max(0.1, Volts.Tolerance + 0.01));

    /// <summary>The rail with its supply off: held at 0 V behind its source resistance, as other loads or its regulator hold it.</summary>
    public Rail Off() => this with { PresentVolts = 0, SourceOnly = false };

    /// <summary>The rail at the end of its tolerance that is nearer to 0 V; as it is where its voltage is another than the nominal
    /// one.</summary>
    public Rail AtLeast() => PresentVolts is not null || Volts.Tolerance == 0 ? this
        : this with { PresentVolts = Volts.Value * (1 - Volts.Tolerance) };

    /// <summary>The rail at the other end.</summary>
    public Rail AtMost() => PresentVolts is not null || Volts.Tolerance == 0 ? this
        : this with { PresentVolts = Volts.Value * (1 + Volts.Tolerance) };

    internal IEnumerable<Element> ToElements()
    {
        yield return new VoltageSource(Name, Name, Circuit.Ground, PresentVolts ?? Volts.Value)
        {
            SeriesOhms = SeriesOhms,
            SourceOnly = SourceOnly,
            DeliversFromMinus = Volts.Value < 0,
        };
        if (LoadAmps > 0)
            yield return new Resistor(Name + ".load", Name, Circuit.Ground, Math.Abs(Volts.Value) / LoadAmps);
    }
}
