using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>The numbers that a bipolar transistor's data sheet gives, all above zero for either polarity. Immutable.</summary>
/// <param name="Name">Type number or a name of the user's.</param>
/// <param name="Polarity">Whether npn or pnp.</param>
/// <param name="Gains">Current gains, at least one.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record BipolarDataSheet(string Name, Polarity Polarity, ImmutableArray<GainPoint> Gains, string Source)
    : TransistorDataSheet(Name, Polarity, 0.5, Source)
{
    /// <summary>Base-emitter voltages; empty for what is usual of silicon.</summary>
    public ImmutableArray<BasePoint> Bases { get; init; } = [];

    /// <summary>Collector-emitter voltages of the saturated transistor; empty for what the law leaves.</summary>
    public ImmutableArray<SaturationPoint> Saturations { get; init; } = [];

    /// <summary>Early voltage, V (100 V is usual of small transistors, from memory).</summary>
    public double EarlyVolts { get; init; } = 100;

    /// <summary>Transition frequency, Hz, at a collector current, A; null if not stated.</summary>
    public (double Hertz, double Amps)? Transition { get; init; }

    /// <summary>Storage time, s, at a collector current and a base current that is turned round, A; null if not stated.</summary>
    public (double Seconds, double Amps, double BaseAmps)? Storage { get; init; }

    /// <summary>Capacitance of the collector junction, F.</summary>
    public double CollectorFarads { get; init; }

    /// <summary>Capacitance of the emitter junction, F.</summary>
    public double EmitterFarads { get; init; }

    /// <summary>Largest leakage of the collector junction at 25 °C, A, at any voltage that it stands (100 nA is usual of small transistors,
    /// from memory).</summary>
    public double LeakageAmps { get; init; } = 100e-9;

    /// <summary>The same hot, A, at a temperature, °C; null where it is taken to double every 10 K (common practice, no source).</summary>
    public (double Amps, double Celsius)? HotLeakage { get; init; }

    /// <summary>Collector-emitter voltage that it stands with its base open, V.</summary>
    public double CollectorVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Collector-base voltage that it stands, V.</summary>
    public double CollectorBaseVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Reverse voltage of the emitter junction that it stands, V (5 V is usual, from memory).</summary>
    public double EmitterVolts { get; init; } = 5;
}

/// <summary>The least current gain of a type at a collector current.</summary>
/// <param name="Least">The gain that every piece has.</param>
/// <param name="Amps">Collector current, A.</param>
public sealed record GainPoint(double Least, double Amps)
{
    /// <summary>The largest gain of a piece there; null if not stated.</summary>
    public double? Most { get; init; }
}

/// <summary>A base-emitter voltage.</summary>
/// <param name="Volts">The voltage, V.</param>
/// <param name="Amps">Collector current, A.</param>
/// <param name="BaseAmps">Base current, A; null for what the collector current asks for.</param>
public sealed record BasePoint(double Volts, double Amps, double? BaseAmps = null);

/// <summary>A collector-emitter voltage of a saturated transistor.</summary>
/// <param name="Volts">The voltage, V.</param>
/// <param name="Amps">Collector current, A.</param>
/// <param name="BaseAmps">Base current, A.</param>
/// <param name="IsLimit">Whether it is a largest value.</param>
public sealed record SaturationPoint(double Volts, double Amps, double BaseAmps, bool IsLimit = false);
