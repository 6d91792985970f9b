using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>What ISO 7637-2:2011 states of one of its pulses, in one supply system; all numbers from memory.</summary>
/// <param name="Name">"1", "2a", "2b", "3a", "3b".</param>
/// <param name="SystemVolts">12 or 24.</param>
/// <param name="Levels">Peaks of the test levels I to IV, V, above the supply (pulse 2b: above ground), of the informative annex.</param>
/// <param name="SourceOhms">Source resistance, ohm.</param>
/// <param name="RiseSeconds">Rise from 10 % to 90 %, s: inside the standard's range.</param>
/// <param name="Seconds">Duration from 10 % to 10 % with the circuit open, s.</param>
/// <param name="Loaded">That duration into a load as large as the source, over the one with the circuit open.</param>
public sealed record VehiclePulseShape(string Name, double SystemVolts, ImmutableArray<double> Levels,
    double SourceOhms, double RiseSeconds,
    double Seconds, double Loaded)
{
    // Pulse 2b lasts 0.2 s to 2 s behind 0 ohm to 0.05 ohm: the longest behind the largest. Pulse 1 at 24 V keeps its duration into a load.
    /// <summary>The pulses known.</summary>
    public static ImmutableArray<VehiclePulseShape> Known { get; } =
    [
        new("1", 12, [-75, -75, -112, -150], 10, 0.75e-6, 2e-3, 0.75),
        new("1", 24, [-300, -300, -450, -600], 50, 2.25e-6, 1.05e-3, 0.9),
        new("2a", 12, [37, 37, 55, 112], 2, 0.75e-6, 50e-6, 0.24),
        new("2a", 24, [37, 37, 55, 112], 2, 0.75e-6, 50e-6, 0.24),
        new("2b", 12, [10, 10, 10, 10], 0.05, 1e-3, 2, 1),
        new("2b", 24, [20, 20, 20, 20], 0.05, 1e-3, 2, 1),
        new("3a", 12, [-112, -112, -165, -220], 50, 5e-9, 150e-9, 1),
        new("3a", 24, [-150, -150, -220, -300], 50, 5e-9, 150e-9, 1),
        new("3b", 12, [75, 75, 112, 150], 50, 5e-9, 150e-9, 1),
        new("3b", 24, [150, 150, 220, 300], 50, 5e-9, 150e-9, 1),
    ];

    /// <summary>The pulse of that name in that system, or null.</summary>
    public static VehiclePulseShape? Find(string name, double systemVolts) =>
        Known.FirstOrDefault(s => s.Name == name && s.SystemVolts == systemVolts);

    /// <summary>Whether the pulse comes as bursts of fast transients.</summary>
    public bool IsFast => Name is "3a" or "3b";

    /// <summary>Whether the supply is cut off while it lasts: an inductive load that is switched off together with the input.</summary>
    public bool CutsSupply => Name == "1";

    /// <summary>Whether motors that run on feed the line after the supply was switched off.</summary>
    public bool IsMotor => Name == "2b";
}

/// <summary>
/// A transient on the supply line of a vehicle, ISO 7637-2:2011. The generator takes the place of what drives the node and feeds it as a
/// battery does; the pulse comes from a store of its own, behind its source resistance: on top of the supply (2a, 3a, 3b), after it was
/// cut off for 200 ms (1), or from motors that run on (2b). Fast transients come as one burst of 100, 10 ms long, 100 µs apart, through a
/// capacitor beside a supply behind a coil.
/// </summary>
public sealed record VehiclePulse : Disturbance
{
    // Pulse 1: the supply returns after t2 = 200 ms. Pulse 2b: 1 ms to switch off, 1 ms at nothing, 1 ms to rise.
    private const double CutSeconds = 0.2, SwitchSeconds = 1e-3;
    private const double FastPeriod = 100e-6;
    private const int FastCount = 100;

    // Some microseconds times 50 ohm, so that the supply does not hold a pulse of 150 ns (common practice, no source).
    private const double SupplyHenries = 1e-3;

    /// <summary>A pulse.</summary>
    /// <param name="shape">Which one.</param>
    /// <param name="volts">Peak above the supply (pulse 2b: above ground) with the circuit open, V, with the sign of the pulse.</param>
    /// <param name="supplyVolts">Voltage of the supply, V, at least 0.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public VehiclePulse(VehiclePulseShape shape, double volts, double supplyVolts, double startSeconds = 1e-3)
    {
        Shape = shape;
        Volts = NotZero("The peak of a vehicle pulse", volts);
        if (Math.Sign(volts) != Math.Sign(shape.Levels[0]))
        {
            throw new ArgumentException(
                $"Pulse {shape.Name} is {(volts < 0 ? "positive" : "negative")}, but its peak is given as {SiText.Format(volts, "V")}.");
        }
        SupplyVolts = NotNegative("The supply of a vehicle pulse", supplyVolts, "V");
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
        $"vehicle pulse {Shape.Name} of {V(Volts)} behind {Ohm(Shape.SourceOhms)}, {Supply}";

    private FormattableString Supply => $"supply {V(SupplyVolts)} (ISO 7637-2:2011, {V(Shape.SystemVolts)} system)";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds
        + (Shape.IsFast ? FastCount * FastPeriod : Shape.CutsSupply ? 1.25 * CutSeconds : Shape.IsMotor
            ? 1.5 * Shape.Seconds : 100 * Shape.Seconds);

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => SourceEffect.Replaces;

    /// <inheritdoc/>
    public override Disturbance? Scaled(double factor) =>
        factor > 0 ? new VehiclePulse(Shape, factor * Volts, SupplyVolts, StartSeconds) : null;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions =>
    [
        "Vehicle pulse generators and batteries can injure and start fires: leave tests to trained people, and follow local rules and the "
            + "test standard.",
        GeneratorCautions[1],
    ];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        [.. Sources.Removed(undisturbed, node, $"Pulse {Shape.Name}"), .. ToElements(name, node)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        Shape.IsFast ? Fast(name, node) : Shape.IsMotor ? Motor(name, node) : Shape.CutsSupply ? Cut(name, node) : OnTop(name, node);

    private IEnumerable<Element> Fast(string name, string node)
    {
        string fed = name + ".fed";
        return
        [
            new VoltageSource(name + ".supply", fed, Circuit.Ground, SupplyVolts) { SeriesOhms = PulseNetwork.SupplyOhms },
            new Inductor(name + ".decoupling", fed, node, SupplyHenries) { SeriesOhms = 1e-3 },
            .. FastPulses.Vehicle.Elements(name, node, Volts, StartSeconds, FastPeriod, FastCount),
        ];
    }

    private IEnumerable<Element> Motor(string name, string node)
    {
        string motor = name + ".motor";
        double rise = SwitchSeconds / Math.Log(9), fall = Shape.Seconds / Math.Log(10);
        return
        [
            new VoltageSource(motor, motor, Circuit.Ground, new DoubleExponential(Volts, rise, fall, StartSeconds + 2 * SwitchSeconds)),
            new VoltageSource(name, node, motor, new Step(SupplyVolts, 0, StartSeconds, SwitchSeconds)) { SeriesOhms = Shape.SourceOhms },
        ];
    }

    private IEnumerable<Element> Cut(string name, string node)
    {
        string output = name + ".output";
        return
        [
            new VoltageSource(name + ".supply", node, Circuit.Ground, SupplyVolts)
            {
                SeriesOhms = PulseNetwork.SupplyOhms, Connected = new Pulse(1, 0, StartSeconds, 0, CutSeconds, 0),
            },
            .. PulseNetwork.Discharging(name, Circuit.Ground, output, Volts, Shape.RiseSeconds,
                Shape.Seconds, Shape.Loaded, Shape.SourceOhms, StartSeconds),
            PulseNetwork.Output(name, output, node, 0, StartSeconds, CutSeconds),
        ];
    }

    private IEnumerable<Element> OnTop(string name, string node)
    {
        string below = name + ".below", output = name + ".output";
        return
        [
            PulseNetwork.Supply(name, node, SupplyVolts),
            new VoltageSource(below, below, Circuit.Ground, SupplyVolts),
            .. PulseNetwork.Discharging(name, below, output, Volts, Shape.RiseSeconds, Shape.Seconds,
                Shape.Loaded, Shape.SourceOhms, StartSeconds),
            PulseNetwork.Output(name, output, node, 0, StartSeconds),
        ];
    }
}
