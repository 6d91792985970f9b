using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// The network of a discharge generator: the body's capacitor behind its resistor, and beside it the small store of tip and hand that
/// makes the first peak. Tip values and inductances are fitted with SciPy to what the standards want into 2 ohm;
/// tests measure them.
/// </summary>
public sealed record DischargeGun
{
    private DischargeGun(double farads, double ohms, string standard, params ImmutableArray<DischargeBranch> branches) =>
        (Farads, Ohms, Standard, Branches) = (farads, ohms, standard, branches);

    /// <summary>
    /// The networks known: IEC 61000-4-2 with 150 pF and 330 ohm, and those of ISO 10605:2008, outside a vehicle with 150 pF and inside
    /// with
    /// 330 pF, through a hand-held metal part with 330 ohm and from the skin with 2 kohm (from memory). The tip stores less than 5 % more.
    /// </summary>
    public static ImmutableArray<DischargeGun> Known { get; } =
    [
        new(150e-12, 330, "IEC 61000-4-2", new(150e-12, 330, 1.796e-6), new(4.095e-12, 123.7, 0.1910e-6)),
        new(330e-12, 330, "ISO 10605:2008", new(330e-12, 330, 3.607e-6), new(5.220e-12, 130.7, 0.1756e-6)),
        new(150e-12, 2e3, "ISO 10605:2008", new(150e-12, 2e3, 1.008e-6), new(6.600e-12, 151.35, 0.1466e-6)),
        new(330e-12, 2e3, "ISO 10605:2008", new(330e-12, 2e3, 9.216e-6), new(9.324e-12, 145.5, 0.1383e-6)),
    ];

    /// <summary>The network of IEC 61000-4-2.</summary>
    public static DischargeGun Standard61000 => Known[0];

    /// <summary>The network of these values, or null.</summary>
    public static DischargeGun? Find(double farads, double ohms) =>
        Known.FirstOrDefault(g => Math.Abs(g.Farads / farads - 1) < 1e-6 && Math.Abs(g.Ohms / ohms - 1) < 1e-6);

    /// <summary>The storage capacitor, F.</summary>
    public double Farads { get; }

    /// <summary>The discharge resistor, ohm.</summary>
    public double Ohms { get; }

    /// <summary>The standard that it is from.</summary>
    public string Standard { get; }

    internal ImmutableArray<DischargeBranch> Branches { get; }
}

/// <summary>
/// An electrostatic discharge, IEC 61000-4-2 or ISO 10605: charged capacitors that are let loose on the node, by contact or through the
/// air. Charge and energy are those of the capacitors, whatever they strike. Numbers from memory.
/// </summary>
public sealed record Discharge : Disturbance
{
    /// <summary>The target that the current is calibrated into, ohm.</summary>
    public const double TargetOhms = 2;

    /// <summary>The test levels 1 to 4 by contact, V.</summary>
    public static ImmutableArray<double> Levels { get; } = [2e3, 4e3, 6e3, 8e3];

    /// <summary>The test levels 1 to 4 through the air, V.</summary>
    public static ImmutableArray<double> AirLevels { get; } = [2e3, 4e3, 8e3, 15e3];

    // No standard bounds the front of an air discharge: 5 ns was the nominal value of IEC 801-2:1984, and 5 ns to 30 ns are reported.
    private const double ArcSeconds = 5e-9;

    /// <summary>A discharge.</summary>
    /// <param name="volts">Charging voltage, V, of either sign.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <param name="gun">The generator; null for that of IEC 61000-4-2.</param>
    /// <param name="isAir">Whether it goes through the air, with the slower front of an arc that forms.</param>
    /// <param name="strays">Leads and stray capacitance of parts; null for the usual ones.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Discharge(double volts, double startSeconds = 1e-6, DischargeGun? gun = null, bool isAir = false, Strays? strays = null)
    {
        Volts = NotZero("The charging voltage of a discharge", volts);
        StartSeconds = Positive("The start of a discharge", startSeconds, "s");
        Gun = gun ?? DischargeGun.Standard61000;
        IsAir = isAir;
        Strays = strays ?? Strays.Usual;
    }

    /// <summary>Charging voltage, V.</summary>
    public double Volts { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <summary>The generator.</summary>
    public DischargeGun Gun { get; }

    /// <summary>Whether it goes through the air.</summary>
    public bool IsAir { get; }

    /// <inheritdoc/>
    public override Strays Strays { get; }

    /// <inheritdoc/>
    public override FormattableString Words =>
        $"{(IsAir ? "air" : "contact")} discharge of {V(Volts)} from {F(Gun.Farads)} and {Ohm(Gun.Ohms)} ({Gun.Standard})";

    // A hundred microseconds show what the stages behind a guard make of the charge left in its capacitor.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 100e-6;

    /// <inheritdoc/>
    public override double? DriveVolts => Volts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new Discharge(factor * Volts, StartSeconds, Gun, IsAir, Strays);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    // What feeds a struck rail stands behind its wiring, about 1 uH a metre (common practice, no source).
    private protected override double? DecouplingHenries => 1e-6;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        DischargeNetwork.Elements(name, node, Gun.Branches, Volts, StartSeconds, IsAir ? ArcSeconds : 0);
}
