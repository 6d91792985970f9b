using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>What the standard states of one of its pulses, in one supply system; all numbers from memory.</summary>
/// <param name="Name">"1", "2a", "3a", "3b".</param>
/// <param name="SystemVolts">12 or 24.</param>
/// <param name="Levels">Peaks of the test levels I to IV, V, above the supply.</param>
/// <param name="SourceOhms">Source resistance, ohm.</param>
/// <param name="RiseSeconds">Rise from 10 % to 90 %, s: inside the standard's range.</param>
/// <param name="Seconds">Duration from 10 % to 10 % with the circuit open, s.</param>
/// <param name="Loaded">That duration into a load as large as the source, over the one with the circuit open.</param>
public sealed record VehiclePulseShape(string Name, double SystemVolts, ImmutableArray<double> Levels, double SourceOhms, double RiseSeconds,
    double Seconds, double Loaded)
{
    /// <summary>The pulses known.</summary>
    public static ImmutableArray<VehiclePulseShape> Known { get; } =
    [
        new("1", 12, [-75, -75, -112, -150], 10, 0.75e-6, 2e-3, 0.75),
        new("1", 24, [-300, -300, -450, -600], 50, 2.25e-6, 1e-3, 0.75),
        new("2a", 12, [37, 37, 55, 112], 2, 0.75e-6, 50e-6, 0.24),
        new("2a", 24, [37, 37, 55, 112], 2, 0.75e-6, 50e-6, 0.24),
        new("3a", 12, [-112, -112, -165, -220], 50, 5e-9, 150e-9, 1),
        new("3a", 24, [-150, -150, -220, -300], 50, 5e-9, 150e-9, 1),
        new("3b", 12, [75, 75, 112, 150], 50, 5e-9, 150e-9, 1),
        new("3b", 24, [150, 150, 220, 300], 50, 5e-9, 150e-9, 1),
    ];

    /// <summary>The pulse of that name in that system, or null.</summary>
    public static VehiclePulseShape? Find(string name, double systemVolts) =>
        Known.FirstOrDefault(s => s.Name == name && s.SystemVolts == systemVolts);

    /// <summary>Whether the pulse comes as bursts of fast transients.</summary>
    public bool IsFast => Loaded == 1;

    /// <summary>Whether the supply is cut off while it lasts: an inductive load that is switched off together with the input.</summary>
    public bool CutsSupply => Name == "1";
}

/// <summary>
/// A transient on the supply line of a vehicle, ISO 7637-2. The generator takes the place of what drives the node: it feeds
/// the supply voltage through its source resistance and lays the pulse upon it (pulses 2a, 3a, 3b), or cuts the supply off
/// for 200 ms and strikes (pulse 1). Fast transients come as one burst of 100: 10 ms long, 100 µs apart.
/// </summary>
public sealed record VehiclePulse : Disturbance
{
    // Pulse 1: the supply returns after t2 = 200 ms; its own resistance is that of a battery and its lines (from memory).
    private const double CutSeconds = 0.2, SupplyOhms = 0.05;
    private const double FastPeriod = 100e-6;
    private const int FastCount = 100;

    // Solved for 5 ns from 10 % to 90 % and 150 ns from 10 % to 10 %; a test measures them.
    private const double RiseConstant = 3.235032e-9, FallConstant = 5.949773e-8;

    /// <summary>A pulse.</summary>
    /// <param name="shape">Which one.</param>
    /// <param name="volts">Peak above the supply with the circuit open, V, with the sign of the pulse.</param>
    /// <param name="supplyVolts">Voltage of the supply, V, at least 0.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public VehiclePulse(VehiclePulseShape shape, double volts, double supplyVolts, double startSeconds = 1e-3)
    {
        Shape = shape;
        Volts = NotZero("The peak of a vehicle pulse", volts);
        if (Math.Sign(volts) != Math.Sign(shape.Levels[0]))
            throw new ArgumentException($"Pulse {shape.Name} is {(volts < 0 ? "positive" : "negative")}, but its peak is given as {SiText.Format(volts, "V")}.");
        SupplyVolts = double.IsFinite(supplyVolts) && supplyVolts >= 0 ? supplyVolts : throw new ArgumentException(
            $"The supply of a vehicle pulse must be at least 0 V, but is {SiText.Format(supplyVolts, "V")}.");
        StartSeconds = Positive("The start of a vehicle pulse", startSeconds, "s");
    }

    /// <summary>Which pulse.</summary>
    public VehiclePulseShape Shape { get; }

    /// <summary>Peak above the supply, V.</summary>
    public double Volts { get; }

    /// <summary>Voltage of the supply, V.</summary>
    public double SupplyVolts { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => 
        $"vehicle pulse {Shape.Name} of {V(Volts)} behind {Ohm(Shape.SourceOhms)}, supply {V(SupplyVolts)} (ISO 7637-2, {V(Shape.SystemVolts)} system)";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + (Shape.IsFast ? FastCount * FastPeriod : Shape.CutsSupply ? 1.25 * CutSeconds : 100 * Shape.Seconds);

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => SourceEffect.Replaces;

    /// <inheritdoc/>
    public override Disturbance? Scaled(double factor) => factor > 0 ? new VehiclePulse(Shape, factor * Volts, SupplyVolts, StartSeconds) : null;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
    [
        "Vehicle pulse generators and batteries can injure and start fires: leave tests to trained people, and follow local rules and the test standard.",
        GeneratorCautions[1],
    ];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, bool isRail) =>
        [.. Sources.Removed(undisturbed, node, $"Pulse {Shape.Name}"), .. ToElements(name, node)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        string supply = name + ".supply";
        if (Shape.IsFast)
        {
            var strikes = new Repeated(new DoubleExponential(Volts, RiseConstant, FallConstant), StartSeconds, FastPeriod, FastCount);
            return
            [
                new VoltageSource(supply, supply, Circuit.Ground, SupplyVolts),
                new VoltageSource(name, node, supply, strikes) { SeriesOhms = Shape.SourceOhms },
            ];
        }
        if (!Shape.CutsSupply)
        {
            return
            [
                new VoltageSource(supply, supply, Circuit.Ground, SupplyVolts),
                .. PulseNetwork.Discharging(name, supply, node, Volts, Shape.RiseSeconds, Shape.Seconds, Shape.Loaded, Shape.SourceOhms, StartSeconds),
            ];
        }
        string output = name + ".output";
        return
        [
            new VoltageSource(supply, node, Circuit.Ground, SupplyVolts)
            {
                SeriesOhms = SupplyOhms, Connected = new Pulse(1, 0, StartSeconds, 0, CutSeconds, 0),
            },
            .. PulseNetwork.Discharging(name, Circuit.Ground, output, Volts, Shape.RiseSeconds, Shape.Seconds, Shape.Loaded, Shape.SourceOhms, StartSeconds),
            PulseNetwork.Output(name, output, node, 0, StartSeconds),
        ];
    }
}
