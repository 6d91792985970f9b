using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type of suppressor, by the voltage that it stands off: the numbers of its data sheet and the junction that has
/// them.</summary>
/// <param name="Name">Its stand-off voltage as an IEC 60062 code ("24V"), or a name of the user's.</param>
/// <param name="StandOffVolts">Voltage that may stand at it for ever, V.</param>
/// <param name="Breakdown">Least and largest breakdown voltage, V.</param>
/// <param name="TestAmps">Current that the breakdown voltage is stated at, A.</param>
/// <param name="ClampVolts">Largest voltage at the peak current, V.</param>
/// <param name="PeakAmps">Peak current of a 10/1000 µs pulse, A.</param>
/// <param name="LeakageAmps">Largest leakage at the stand-off voltage, A.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record SuppressorType(string Name, double StandOffVolts, Span Breakdown, double TestAmps,
    double ClampVolts, double PeakAmps, double LeakageAmps,
    string Source) : PartType(Name, Source)
{
    // A limit of leakage is a tester's floor: a piece leaks a tenth of it (typical, from memory).
    private const double TypicalShare = 0.1;

    /// <summary>Capacitance of one junction at 0 V, F.</summary>
    public double Farads { get; init; }

    /// <summary>Power of a 10/1000 µs pulse, W.</summary>
    public double PulseWatts { get; init; } = 400;

    /// <summary>Rated steady power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 1;

    /// <summary>Highest temperature of the junction, °C.</summary>
    public double MostJunctionCelsius { get; init; } = 150;

    /// <inheritdoc/>
    public override string Kind => "suppressor";

    /// <summary>Dynamic resistance, ohm: what the largest piece still drops above its breakdown voltage at its peak current, less the
    /// avalanche's own slope.</summary>
    public double Ohms => (ClampVolts - Breakdown.High - Slope * Math.Log(PeakAmps / TestAmps)) / PeakAmps;

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        new("stand-off voltage", StandOffVolts, "V"),
        new($"least breakdown voltage at {SiText.Format(TestAmps, "A")}", Breakdown.Low,
            "V") { IsLimit = true, Fitted = VoltsAt(TestAmps, Breakdown.Low) },
        new($"largest breakdown voltage at {SiText.Format(TestAmps, "A")}", Breakdown.High,
            "V") { IsLimit = true, Fitted = VoltsAt(TestAmps, Breakdown.High) },
        new($"largest clamp voltage at {SiText.Format(PeakAmps, "A")}", ClampVolts, "V") { IsLimit = true,
            Fitted = VoltsAt(PeakAmps, Breakdown.High) },
        new("leakage at the stand-off voltage", LeakageAmps, "A") { IsLimit = true },
        .. TypeFigure.Stated("capacitance at 0 V", Farads, "F"),
            .. TypeFigure.Stated("rated power of a pulse of 10/1000 µs", PulseWatts, "W"),
        .. TypeFigure.Stated("rated power", RatedWatts, "W"),
    ];

    /// <summary>The junction of a piece of a breakdown voltage.</summary>
    /// <param name="breakdown">Its breakdown voltage at the test current, V.</param>
    public DiodeModel Junction(double breakdown) => new()
    {
        // Forward a large silicon junction: about 0.75 V at 1 A and 3.5 V at 35 A (Diodes Inc., Yageo).
        SaturationAmps = 1 * Math.Exp(-0.75 / 0.0257),
        EmissionCoefficient = 1,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
        SeriesOhms = Ohms,
        HighCurrentOhms = Math.Min(0.07, 0.99 * Ohms),
        ModulationAmps = 0.1,
        JunctionFarads = Farads,
        JunctionVolts = 0.7,
        Grading = 0.5,
        BreakdownVolts = breakdown - TestAmps * Ohms,
        BreakdownAmps = TestAmps,
        BreakdownSlopeVolts = Slope,
        BreakdownTempCo = TempCo,
        LeakageSiemens = TypicalShare * LeakageAmps / StandOffVolts,
        LeakageDoublingKelvin = 11,
    };

    /// <summary>By how much the breakdown voltage rises with temperature, 1/K: 0.1 %/K above 10 V (from memory).</summary>
    internal double TempCo => Breakdown.Low > 10 ? 1e-3 : 0.3e-3;

    // An avalanche is steep, a tunnel below some eight volts is not (typical, from memory); half of the rise to the clamp voltage is left
    // to
    // the resistance.
    private double Slope => Math.Min((Breakdown.Low > 10 ? 0.004 : 0.06) * Breakdown.Low,
        0.5 * (ClampVolts - Breakdown.High) / Math.Log(Math.Max(2, PeakAmps / TestAmps)));

    private double VoltsAt(double amps, double breakdown) => breakdown + Slope * Math.Log(amps / TestAmps) + Ohms * (amps - TestAmps);

    /// <inheritdoc/>
    public override SuppressorType Checked()
    {
        DataSheetException.HoldAboveZero(Name, ("stand-off voltage", StandOffVolts), ("least breakdown voltage", Breakdown.Low),
            ("current of the breakdown voltage", TestAmps), ("clamp voltage", ClampVolts), ("peak current", PeakAmps),
            ("leakage", LeakageAmps), ("pulse power", PulseWatts), ("rated power", RatedWatts));
        if (StandOffVolts >= Breakdown.Low)
            throw new DataSheetException($"{Name} is said to stand off {V(StandOffVolts)}, but may break down at {V(Breakdown.Low)}.");
        if (ClampVolts <= Breakdown.High)
            throw new DataSheetException(
                $"{Name} is said to clamp at {V(ClampVolts)}, but pieces break down at up to {V(Breakdown.High)}.");
        if (LeakageAmps >= TestAmps)
            throw new DataSheetException($"{Name} leaks {SiText.Format(LeakageAmps, "A")} at its stand-off voltage, no less than the "
                + $"{SiText.Format(TestAmps, "A")} that its breakdown is stated at.");
        return this;
    }

    private static Quantity V(double volts) => new(volts, Unit.Volts);
}

/// <summary>A suppressor, one-way or two-way.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Anode; either end of a two-way one.</param>
/// <param name="To">Cathode (the band).</param>
/// <param name="Type">Its type.</param>
/// <param name="IsTwoWay">Whether it breaks down either way and conducts neither way.</param>
public sealed record SuppressorPart(string Name, string From, string To, SuppressorType Type, bool IsTwoWay) : Part(Name)
{
    // Where a piece lies between its ends; 0 in the middle.
    private double Place { get; init; }

    // How much warmer than what is around it the junction is, K.
    private double WarmKelvin { get; init; }

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => MilitaryCelsius;

    /// <inheritdoc/>
    public override string Word => "suppressor";

    /// <inheritdoc/>
    public override string ValueText => Type.Name + (IsTwoWay ? " two-way" : "");

    /// <inheritdoc/>
    public override string Symbol => IsTwoWay ? "two-way suppressor" : "suppressor";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => IsTwoWay ? Ends(From, To) : [new("anode", From), new("cathode", To)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25)
    {
        double left = Rating.JunctionShare(ambientCelsius, Type.MostJunctionCelsius),
            steady = Type.RatedWatts * left, pulse = Type.PulseWatts * left;
        // The 10/1000 µs pulse counts as a millisecond, and power goes with the square root of the time from a microsecond on.
        return
        [
            PowerRating(steady, Type.Source) with { Pulses = [new(1e-6, pulse * Math.Sqrt(1e-3 / 1e-6)),
                new(1e-3, pulse), new(Math.Max(2e-3, 1e-3 * Math.Pow(pulse / steady, 2)), steady)] },
            // Its sheet states a leakage there, and for what it draws between that and its breakdown nothing.
            new(RatingKind.StandOffVoltage, new VoltageInService(To, From, IsTwoWay), Type.StandOffVolts, Type.Source),
        ];
    }

    /// <inheritdoc/>
    public override Assumption Assumes => Assumption.Leakage;

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) =>
    [
        new(Name + " leakage", new RectangularInput(-Math.Log(assumed.LeakageFactor), Math.Log(10)), ErrorKind.Leakage,
            [.. ElementNames.Select(e => new VariedNumber(e, Diode.LeakageConductance))], (now, x, _) => now * Math.Exp(x)),
    ];

    /// <inheritdoc/>
    public override string LimitWord => "breakdown voltage";

    /// <summary>A piece of the least or the largest breakdown voltage.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high) =>
        (this with { Place = high ? 1 : -1 }, new(high ? Type.Breakdown.High : Type.Breakdown.Low, Unit.Volts));

    /// <inheritdoc/>
    public override double KelvinPerWatt => (Type.MostJunctionCelsius - 25) / Type.RatedWatts;

    /// <inheritdoc/>
    public override Part Warmed(double kelvin) => this with { WarmKelvin = kelvin };

    /// <inheritdoc/>
    public override IEnumerable<Idealisation> Idealisations => [new(Imperfection.Leakage, null)];

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes =>
        IsTwoWay ? [FaultMode.Open, FaultMode.Short] : [FaultMode.Open, FaultMode.Short, FaultMode.Reversed];

    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
        mode == FaultMode.Reversed ? (this with { From = To, To = From }).ToElements() : base.Broken(mode);

    /// <inheritdoc/>
    public override Role? RoleByWiring(Func<string, bool> isSupply) => Parts.Role.Zener;

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Power, Type.RatedWatts);

    /// <inheritdoc/>
    public override string Mounting => IsTwoWay ? "" : $"band (cathode) to {To}";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        double volts = ((Type.Breakdown.Low + Type.Breakdown.High) / 2 + Place * (Type.Breakdown.High - Type.Breakdown.Low) / 2)
            * (1 + Type.TempCo * WarmKelvin);
        if (!IsTwoWay)
            return [new Diode(Name, From, To, Type.Junction(volts))];
        // Each way one junction breaks down and the other conducts: both together have the voltages stated, and so has each half the
        // resistance.
        const double forward = 0.6;
        var half = Type.Junction(volts - forward) with { SeriesOhms = Type.Ohms / 2, HighCurrentOhms = 0.49 * Type.Ohms };
        return [new Diode(Name, Name + ".middle", From, half), new Diode(Name + ".other", Name + ".middle", To, half)];
    }
}
