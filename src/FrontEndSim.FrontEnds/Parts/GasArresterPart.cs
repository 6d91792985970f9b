using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of gas arrester. What it lets through at two rates of rise gives the growth of its avalanche in closed form.</summary>
/// <param name="Name">Its voltage as an IEC 60062 code, or a name of the user's.</param>
/// <param name="Spark">Spark-over voltage of a slow rise, V, with its tolerance.</param>
/// <param name="SlowVolts">Typical spark-over voltage at 100 V/µs, V.</param>
/// <param name="FastVolts">Typical spark-over voltage at 1 kV/µs, V.</param>
/// <param name="GlowVolts">Voltage of the glow, V.</param>
/// <param name="ArcVolts">Voltage of the arc, V.</param>
/// <param name="SurgeAmps">Current of a surge of 8/20 µs, A.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record GasArresterType(string Name, Toleranced Spark, double SlowVolts, double FastVolts,
    double GlowVolts, double ArcVolts, double SurgeAmps, string Source)
    : PartType(Name, Source)
{
    // The two rates of rise, V/s, and how far the conductance grows, as a power of e, until it glows and follows at once: from a gigohm at
    // some 500 V to a third of a milliampere.
    private const double SlowRise = 100e6, FastRise = 1e9, EFolds = 6.4;

    /// <summary>Capacitance, F.</summary>
    public double Farads { get; init; } = 1.5e-12;

    /// <inheritdoc/>
    public override string Kind => "gas-arrester";

    // ∫((v − V0)/Vg)^n dt = N over a rise S gives (Vb − V0)^(n+1) = N·(n + 1)·S·Vg^n: two points settle n and Vg.
    private double Exponent => Math.Log(FastRise / SlowRise) / Math.Log((FastVolts - Spark.Value) / (SlowVolts - Spark.Value)) - 1;

    private double Growth => Math.Pow(Math.Pow(SlowVolts - Spark.Value, Exponent + 1) / ((Exponent + 1) * SlowRise * EFolds), 1 / Exponent);

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("spark-over voltage of a slow rise", Spark.Value, "V") { Fitted = Spark.Value },
            .. TypeFigure.Stated("its tolerance", Spark.Tolerance, "%"),
        new("spark-over voltage at 100 V/µs", SlowVolts, "V") { Fitted = Struck(SlowRise) },
            new("spark-over voltage at 1 kV/µs", FastVolts, "V") { Fitted = Struck(FastRise) },
        new("glow voltage", GlowVolts, "V"), new("arc voltage", ArcVolts, "V"),
            new("rated surge current of 8/20 µs", SurgeAmps, "A") { IsLimit = true },
        .. TypeFigure.Stated("capacitance", Farads, "F"),
    ];

    private double Struck(double rise) => Spark.Value
        + Math.Pow(EFolds * (Exponent + 1) * rise * Math.Pow(Growth, Exponent), 1 / (Exponent + 1));

    /// <summary>The model of a piece.</summary>
    /// <param name="spark">Its spark-over voltage of a slow rise, V.</param>
    internal GasArresterModel Model(double spark) => new()
    {
        SparkVolts = spark,
        GrowthExponent = Exponent,
        GrowthVolts = Growth,
        GlowVolts = Math.Min(GlowVolts, 0.9 * spark),
        ArcVolts = ArcVolts,
        Farads = Farads,
    };

    /// <inheritdoc/>
    public override GasArresterType Checked()
    {
        DataSheetException.HoldAboveZero(Name, ("spark-over voltage", Spark.Value), ("glow voltage", GlowVolts), ("arc voltage", ArcVolts),
            ("surge current", SurgeAmps));
        if (!(SlowVolts > Spark.Most && FastVolts > SlowVolts))
            throw new DataSheetException($"{Name} is said to strike at {V(Spark.Value)} when slow, {V(SlowVolts)} at 100 V/µs and "
                + $"{V(FastVolts)} at 1 kV/µs; the faster, the higher.");
        if (!(ArcVolts < GlowVolts && GlowVolts < Spark.Least))
            throw new DataSheetException($"{Name} is said to arc at {V(ArcVolts)}, to glow at {V(GlowVolts)} and to strike from "
                + $"{V(Spark.Least)} on; each is below the next.");
        return Exponent > 0.5 ? this
            : throw new DataSheetException($"No arrester strikes at {V(SlowVolts)} at 100 V/µs and at {V(FastVolts)} at 1 kV/µs: it would "
            + $"strike the later the more the voltage is above its own.");
    }

    private static Quantity V(double volts) => new(volts, Unit.Volts);
}

/// <summary>A gas arrester with two electrodes.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One electrode.</param>
/// <param name="To">The other.</param>
/// <param name="Type">Its type.</param>
public sealed record GasArresterPart(string Name, string From, string To, GasArresterType Type) : Part(Name)
{
    private double Factor { get; init; } = 1;

    // Makers' sheets, from memory.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 90;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "gas arrester";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        // A surge, 5 A for a second, and next to nothing for ever: one that stays lit is destroyed (5 A and a tenth of an ampere: from
        // memory).
        new(RatingKind.PeakCurrent, new CurrentThrough([Name]), 0.1, Type.Source) { Pulses = [new(20e-6, Type.SurgeAmps), new(1, 5)] },
    ];

    /// <inheritdoc/>
    public override string LimitWord => "spark-over";

    /// <summary>A piece of the least or the largest spark-over voltage.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        double volts = high ? Type.Spark.Most : Type.Spark.Least;
        return (this with { Factor = volts / Type.Spark.Value }, new(volts, Unit.Volts));
    }

    /// <inheritdoc/>
    public override bool StaysOn => true;

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.PeakCurrent, Type.SurgeAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new GasArrester(Name, From, To, Type.Model(Type.Spark.Value * Factor))];
}
