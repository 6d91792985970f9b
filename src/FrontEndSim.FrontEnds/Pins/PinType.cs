using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Pins;

/// <summary>A kind of pin as a family or a class of device has it: ratings relative to the supply actually present, leakage,
/// thresholds.</summary>
/// <param name="Name">Name in the circuit file: "cmos-hc".</param>
/// <param name="Summary">What it is, in a few words.</param>
/// <param name="BelowGroundVolts">How far below ground the pin may be taken, V.</param>
/// <param name="AboveSupplyVolts">How far above its supply it may be taken, V: with the supply off, above 0 V; null where the limit is
/// <paramref name="HighestVolts"/>.</param>
/// <param name="HighestVolts">Highest voltage whatever the supply, V; null where the limit moves with the supply.</param>
/// <param name="InjectionAmps">Largest current through the pin's own clamps, A.</param>
/// <param name="LeakageAmps">Largest input leakage, A, either way.</param>
/// <param name="Supply">Supply voltages that it works at, V.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record PinType(string Name, string Summary, double BelowGroundVolts, double? AboveSupplyVolts, double? HighestVolts,
    double InjectionAmps, double LeakageAmps, Span Supply, string Source)
{
    private const string ConverterSource = "typical of microcontrollers, from memory";
    private const string HysteresisSource = "; thresholds typical of the family's gates with hysteresis, from memory";
    private const string LvttlSource = "thresholds: JESD8C, from memory; ratings typical of the families, from memory";

    /// <summary>The levels that are certain, by supply voltage, ascending; empty for a converter. Between two supplies they lie on a
    /// straight line.</summary>
    public ImmutableArray<LevelsAtSupply> Levels { get; init; } = [];

    /// <summary>How a gate behind the pin behaves, with typical thresholds; null for a converter.</summary>
    public LogicGateModel? Gate { get; init; }

    /// <summary>The gate with the least hysteresis that the family has, about the same middle; <see cref="Gate"/> without
    /// hysteresis.</summary>
    public LogicGateModel? GateAtWorst { get => field ?? Gate; init; }

    /// <summary>
    /// The slowest change between the thresholds that a gate without hysteresis is specified for, s/V; null for no limit.
    /// </summary>
    public double? SlowestSecondsPerVolt { get; init; }

    /// <summary>Largest current of the gate's output, A, either way; null for a converter.</summary>
    public double? MostOutputAmps { get; init; }

    /// <summary>Whether it has a gate with hysteresis.</summary>
    public bool HasHysteresis => Gate is { } g && (g.RisingShare > g.FallingShare || g.RisingVolts > g.FallingVolts);

    /// <summary>All types that can be named.</summary>
    public static ImmutableArray<PinType> All { get; } =
    [
        new("converter-5v", "converter pin of a 5 V microcontroller", 0.5, 0.5, null, 1e-3, 1e-6, new(2.7, 5.5), ConverterSource),
        new("converter-3v3", "converter pin of a 3.3 V microcontroller", 0.3, 0.3, null, 2e-3, 100e-9, new(1.8, 3.6), ConverterSource),
        // Input transition time: 500 ns at 4.5 V (JESD7A, from memory).
        new("cmos-hc", "high-speed CMOS logic", 0.5, 0.5, null, 20e-3, 1e-6, new(2, 6), "JESD7A, from memory")
        {
            Levels = [new(2, 0.5, 1.5), new(4.5, 1.35, 3.15), new(6, 1.8, 4.2)],
            MostOutputAmps = 25e-3, Gate = Plain(0.5, 0, 9e-9, 50), SlowestSecondsPerVolt = 500e-9 / 4.5,
        },
        new("cmos-hc-hysteresis", "high-speed CMOS logic with hysteresis", 0.5, 0.5, null, 20e-3, 1e-6, new(2, 6),
            "levels: onsemi MC74HC14A data sheet" + HysteresisSource)
        {
            Levels = [new(2, 0.3, 1.5), new(3, 0.5, 2.15), new(4.5, 0.9, 3.15), new(6, 1.2, 4.2)],
            MostOutputAmps = 25e-3, Gate = Shares(0.53, 0.31, 12e-9, 50), GateAtWorst = Shares(0.42 + 0.045, 0.42 - 0.045, 12e-9, 50),
        },
        // Rise and fall time of clock inputs: 15 us at 5 V (JESD13-B, from memory).
        new("cmos-4000", "CMOS logic of the 4000 series", 0.5, 0.5, null, 10e-3, 1e-6, new(3, 18), "JESD13-B, from memory")
        {
            Levels = [new(5, 1.5, 3.5), new(10, 3, 7), new(15, 4, 11)],
            MostOutputAmps = 10e-3, Gate = Plain(0.5, 0, 60e-9, 400), SlowestSecondsPerVolt = 15e-6 / 5,
        },
        new("cmos-4000-hysteresis", "CMOS logic of the 4000 series with hysteresis", 0.5, 0.5, null, 10e-3, 1e-6, new(3, 18),
            "levels: HEF40106B data sheet (Philips); other makers' 40106 lie wider" + HysteresisSource)
        {
            Levels = [new(5, 1.5, 3.5), new(10, 3, 7), new(15, 4, 11)],
            MostOutputAmps = 10e-3, Gate = Shares(0.58, 0.38, 140e-9, 400), GateAtWorst = Shares(0.48 + 0.03, 0.48 - 0.03, 140e-9, 400),
        },
        // Slope of the inputs of low-voltage families: 10 ns/V (typical, from memory).
        new("lvttl", "3.3 V logic with TTL levels", 0.5, null, 4.6, 20e-3, 5e-6, new(3, 3.6), LvttlSource)
        {
            Levels = [new(3.3, 0.8, 2.0)],
            MostOutputAmps = 50e-3, Gate = Plain(0, 1.5, 4e-9, 25), SlowestSecondsPerVolt = 10e-9,
        },
        new("lvttl-hysteresis", "3.3 V logic with TTL levels and hysteresis", 0.5, null, 4.6, 20e-3, 5e-6, new(3, 3.6),
            LvttlSource + HysteresisSource)
        {
            Levels = [new(3.3, 0.8, 2.0)],
            MostOutputAmps = 50e-3, Gate = Volts(1.7, 1.0, 5e-9, 25), GateAtWorst = Volts(1.35 + 0.15, 1.35 - 0.15, 5e-9, 25),
        },
    ];

    private static LogicGateModel Plain(double share, double volts, double delay, double ohms) =>
        new()
        {
            RisingShare = share,
            FallingShare = share,
            RisingVolts = volts,
            FallingVolts = volts,
            DelaySeconds = delay,
            OutputOhms = ohms
        };

    private static LogicGateModel Shares(double rising, double falling, double delay, double ohms) =>
        new() { RisingShare = rising, FallingShare = falling, DelaySeconds = delay, OutputOhms = ohms };

    private static LogicGateModel Volts(double rising, double falling, double delay, double ohms) =>
        new() { RisingVolts = rising, FallingVolts = falling, DelaySeconds = delay, OutputOhms = ohms };

    /// <summary>The type of that name whatever its case, or null.</summary>
    public static PinType? Find(string name) => All.FirstOrDefault(t => t.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Lowest voltage that the pin stands.</summary>
    public Level RatedLow => new(null, -BelowGroundVolts);

    /// <summary>Highest voltage that the pin stands on a supply rail.</summary>
    public Level RatedHigh(string rail) => AboveSupplyVolts is { } above ? new(rail, above) : new(null, HighestVolts!.Value);

    /// <summary>Voltage below which a supply voltage, V, makes the pin read low; null for a converter.</summary>
    public double? LowBelow(double supplyVolts) => At(supplyVolts, l => l.LowBelow);

    /// <summary>Voltage above which it reads high; null for a converter.</summary>
    public double? HighAbove(double supplyVolts) => At(supplyVolts, l => l.HighAbove);

    // Beyond the supplies that the standard lists the nearest of its lines goes on; one line alone holds at every supply.
    private double? At(double supplyVolts, Func<LevelsAtSupply, double> level)
    {
        if (Levels.Length < 2)
            return Levels.IsEmpty ? null : level(Levels[0]);
        int k = 1;
        while (k < Levels.Length - 1 && supplyVolts > Levels[k].SupplyVolts)
            k++;
        var (low, high) = (Levels[k - 1], Levels[k]);
        double share = (supplyVolts - low.SupplyVolts) / (high.SupplyVolts - low.SupplyVolts);
        return level(low) + share * (level(high) - level(low));
    }

    /// <summary>A pin of this type on a supply rail. Its leakage is the largest, drawn out of the source.</summary>
    public Pin ToPin(string name, string node, string rail) => new(name, node)
    {
        RatedLow = RatedLow,
        RatedHigh = RatedHigh(rail),
        InjectionAmps = InjectionAmps,
        LeakageAmps = LeakageAmps,
        Type = new(this, rail),
        Logic = Gate is null ? null : new(this, rail),
        // Without a rating that moves with the supply there is no clamp to it.
        Supply = AboveSupplyVolts is null ? null : rail,
    };
}

/// <summary>The levels of a logic input that are certain at a supply voltage.</summary>
/// <param name="SupplyVolts">The supply, V.</param>
/// <param name="LowBelow">A voltage below this reads as low, V.</param>
/// <param name="HighAbove">A voltage above this reads as high, V.</param>
public sealed record LevelsAtSupply(double SupplyVolts, double LowBelow, double HighAbove);
