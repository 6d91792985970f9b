using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of metal-oxide varistor. The exponent of i = K·v^α goes through the largest varistor voltage and the largest clamp
/// voltage.</summary>
/// <param name="Name">Its disk and its voltage, or a name of the user's.</param>
/// <param name="Volts">Varistor voltage at a milliampere, V, with its tolerance.</param>
/// <param name="ClampVolts">Largest voltage at the clamp current, V.</param>
/// <param name="ClampAmps">Current that the clamp voltage is stated at, A (8/20 µs).</param>
/// <param name="LastingVolts">Direct voltage that may stand at it for ever, V.</param>
/// <param name="SurgeAmps">Current of a single surge of 8/20 µs, A.</param>
/// <param name="Joules">Energy of a single pulse of 2 ms, J.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record VaristorType(string Name, Toleranced Volts, double ClampVolts, double ClampAmps,
    double LastingVolts, double SurgeAmps, double Joules,
    string Source) : PartType(Name, Source)
{
    private const double TestAmps = 1e-3;

    /// <summary>Capacitance, F.</summary>
    public double Farads { get; init; }

    /// <summary>Rated steady power, W (0.02 W to 0.25 W for 7 mm disks, 0.1 W to 0.6 W for 14 mm, from memory).</summary>
    public double RatedWatts { get; init; } = 0.02;

    /// <inheritdoc/>
    public override string Kind => "varistor";

    /// <summary>Exponent α.</summary>
    public double Exponent => Math.Log(ClampAmps / TestAmps) / Math.Log(ClampVolts / Volts.Most);

    /// <summary>Resistance that rules at surge currents, ohm: it adds three tenths to the power law at the surge current (judgement, no
    /// source).</summary>
    public double Ohms => 0.3 * ClampVolts * Math.Pow(Math.Max(1, SurgeAmps / ClampAmps), 1 / Exponent) / SurgeAmps;

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("varistor voltage at 1 mA", Volts.Value, "V") { Fitted = Volts.Value },
            .. TypeFigure.Stated("its tolerance", Volts.Tolerance, "%"),
        new($"largest clamp voltage at {SiText.Format(ClampAmps, "A")}", ClampVolts, "V") { IsLimit = true, Fitted = ClampVolts
            + Ohms * ClampAmps },
        new("rated lasting voltage", LastingVolts, "V") { IsLimit = true },
            new("rated surge current of 8/20 µs", SurgeAmps, "A") { IsLimit = true },
        new("rated energy of 2 ms", Joules, "J") { IsLimit = true }, .. TypeFigure.Stated("rated power", RatedWatts, "W"),
            .. TypeFigure.Stated("capacitance", Farads, "F"),
        new("exponent of the model", Exponent, ""),
    ];

    /// <inheritdoc/>
    public override VaristorType Checked()
    {
        DataSheetException.HoldAboveZero(Name, ("varistor voltage", Volts.Value), ("clamp voltage", ClampVolts),
            ("clamp current", ClampAmps), ("lasting voltage", LastingVolts), ("surge current", SurgeAmps), ("energy", Joules),
            ("rated power", RatedWatts));
        if (ClampVolts <= Volts.Most || ClampAmps <= TestAmps)
            throw new DataSheetException($"{Name} clamps at {SiText.Format(ClampVolts, "V")}, no more than its varistor voltage may be, "
                + $"{SiText.Format(Volts.Most, "V")}.");
        if (LastingVolts >= Volts.Least)
            throw new DataSheetException($"{Name} is said to stand {SiText.Format(LastingVolts, "V")} for ever, but carries a milliampere "
                + $"at {SiText.Format(Volts.Least, "V")}.");
        return Exponent is > 3 and < 100 ? this
            : throw new DataSheetException($"No varistor has {SiText.Format(Volts.Value, "V")} at 1 mA and "
                + $"{SiText.Format(ClampVolts, "V")} at {SiText.Format(ClampAmps, "A")}: its exponent would be {Exponent:G3}.");
    }
}

/// <summary>A metal-oxide varistor.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One end.</param>
/// <param name="To">The other.</param>
/// <param name="Type">Its type.</param>
public sealed record VaristorPart(string Name, string From, string To, VaristorType Type) : Part(Name)
{
    private double Factor { get; init; } = 1;

    // Makers' sheets of disks, from memory.
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 85;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "varistor";

    /// <inheritdoc/>
    public override string ValueText => Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        // Full up to 85 °C, nothing at 125 °C (common to the makers' sheets, from memory).
        double left = Math.Clamp((125 - ambientCelsius) / (125 - 85), 1e-3, 1), watts = Type.RatedWatts * left, joules = Type.Joules * left;
        // A pulse's energy is the limit up to where the steady power has brought as much. For half a second the voltage is not, the power
        // is.
        const double without = 1e9, brief = 0.5;
        return
        [
            PowerRating(watts, Type.Source) with { Pulses = [new(20e-6, joules / 20e-6), new(joules / watts, watts)] },
            new(RatingKind.PeakCurrent, new CurrentThrough([Name]), Type.SurgeAmps, Type.Source),
            new(RatingKind.Voltage, new VoltageAcross(From, To), Type.LastingVolts,
                Type.Source) { Pulses = [new(1e-9, without), new(brief, without)] },
        ];
    }

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
        ErrorSource.Scale(Name + " varistor voltage", ErrorKind.Leakage, Type.Volts.Tolerance,
            new VariedNumber(Name, Varistor.VaristorVoltage));

    /// <inheritdoc/>
    public override string LimitWord => "varistor voltage";

    /// <summary>A piece of the least or the largest varistor voltage.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        double volts = high ? Type.Volts.Most : Type.Volts.Least;
        return (this with { Factor = volts / Type.Volts.Value }, new(volts, Unit.Volts));
    }

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations => [new(Imperfection.Leakage, null)];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Energy, Type.Joules);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
        [new Varistor(Name, From, To, Type.Volts.Value * Factor, 1e-3, Type.Exponent) { SeriesOhms = Type.Ohms, Farads = Type.Farads }];
}
