using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A charged person who touches a pin, as parts are classed by it: the human body model of ANSI/ESDA/JEDEC JS-001, 100 pF behind 1.5 kohm,
/// with the inductance that gives its front (values from memory). At equal voltage the first peak of IEC 61000-4-2 is 5.6 times as high.
/// </summary>
public sealed record HumanBodyDischarge : Disturbance
{
    // 5.5 uH: rise 8 ns into a short (2 ns to 10 ns wanted) and 5.3 ns into 500 ohm (5 ns to 25 ns wanted); a test measures them.
    private static readonly ImmutableArray<DischargeBranch> Body = [new(100e-12, 1.5e3, 5.5e-6)];

    /// <summary>A discharge.</summary>
    /// <param name="volts">Charging voltage, V, of either sign.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <param name="strays">Leads and stray capacitance of parts; null for the usual ones.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public HumanBodyDischarge(double volts, double startSeconds = 1e-6, Strays? strays = null)
    {
        Volts = NotZero("The charging voltage of a discharge", volts);
        StartSeconds = Positive("The start of a discharge", startSeconds, "s");
        Strays = strays ?? Strays.Usual;
    }

    /// <summary>Charging voltage, V.</summary>
    public double Volts { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override Strays Strays { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"discharge of a human body charged to {V(Volts)} (ANSI/ESDA/JEDEC JS-001)";

    // A hundred microseconds show what the stages behind a guard make of the charge left in its capacitor.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 100e-6;

    /// <inheritdoc/>
    public override double? DriveVolts => Volts;

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new HumanBodyDischarge(factor * Volts, StartSeconds, Strays);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        DischargeNetwork.Elements(name, node, Body, Volts, StartSeconds);
}
