using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A class of linear regulator.</summary>
/// <param name="Name">Its name: "cmos-low-dropout".</param>
/// <param name="DropVolts">Dropout at next to no current, at most, V.</param>
/// <param name="FullDropVolts">Dropout at the rated current, at most, V.</param>
/// <param name="RatedAmps">Rated output current, A.</param>
/// <param name="LimitAmps">Current limit, A.</param>
/// <param name="GroundAmps">Current into the ground pin, A.</param>
/// <param name="MostInputVolts">Input voltage that it stands, V.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record RegulatorType(string Name, double DropVolts, double FullDropVolts, double RatedAmps,
    double LimitAmps, double GroundAmps, double MostInputVolts,
    string Source) : PartType(Name, Source)
{
    /// <summary>Tolerance of the output voltage, a fraction.</summary>
    public double Tolerance { get; init; } = 0.02;

    /// <summary>Temperature coefficient of the output voltage, either way, 1/K.</summary>
    public double TempCo { get; init; } = 50e-6;

    /// <summary>Output resistance while it regulates, ohm.</summary>
    public double OutputOhms { get; init; } = 0.1;

    /// <summary>How far the output may stand above the input, V.</summary>
    public double MostReverseVolts { get; init; } = 0.3;

    /// <summary>Whether a diode leads from output to input, so that the output feeds a dead input.</summary>
    public bool HasReverseDiode { get; init; } = true;

    /// <summary>The least capacitance that its sheet asks for at its output, F; zero for none, or where it is not known.</summary>
    public double OutputFarads { get; init; }

    /// <summary>Rated power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 0.4;

    /// <summary>The output voltage of a series reference, which is made for one, V; null for a regulator.</summary>
    public double? ReferenceVolts { get; init; }

    /// <inheritdoc/>
    public override string Kind => ReferenceVolts is null ? "regulator" : "series-reference";

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures =>
    [
        .. ReferenceVolts is { } volts ? [new("voltage", volts, "V") { Fitted = volts }] : Array.Empty<TypeFigure>(),
        new($"largest dropout at {SiText.Format(RatedAmps, "A")}", FullDropVolts, "V") { IsLimit = true, Fitted = FullDropVolts },
        new("dropout without load", DropVolts, "V"), new("rated output current", RatedAmps, "A") { IsLimit = true },
            new("current limit", LimitAmps, "A"),
        .. TypeFigure.Stated("ground current", GroundAmps, "A"), .. TypeFigure.Stated("rated input voltage", MostInputVolts, "V"),
        .. TypeFigure.Stated("tolerance of the output voltage", Tolerance, "%"),
            .. TypeFigure.Stated("output above the input", MostReverseVolts, "V"),
        .. OutputFarads > 0 ? TypeFigure.Stated("capacitor at the output, at least", OutputFarads, "F") : [],
        .. TypeFigure.Stated("temperature coefficient", TempCo, "1/K"), .. TypeFigure.Stated("rated power", RatedWatts, "W"),
    ];

    /// <inheritdoc/>
    public override RegulatorType Checked() => LimitAmps >= RatedAmps ? this : throw new Fits.DataSheetException(
        $"{Name} limits at {SiText.Format(LimitAmps, "A")}, below the {SiText.Format(RatedAmps, "A")} that its dropout is stated at.");
}

/// <summary>A linear regulator or a series reference, which delivers and never takes: what is pushed into its output lifts it, and flows
/// back into a dead input.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Input">Input.</param>
/// <param name="Output">Output.</param>
/// <param name="GroundPin">Ground pin.</param>
/// <param name="Type">Its class.</param>
/// <param name="Volts">Output voltage, V.</param>
public sealed record RegulatorPart(string Name, string Input, string Output, string GroundPin, RegulatorType Type, double Volts)
    : Part(Name)
{
    // For how long a start at the current limit is none that lasts, s (common practice, no source), and how far a piece's own limit may lie
    // above the typical one (from memory).
    private const double LimitedSeconds = 0.1, LimitedShare = 1.5;

    private double Factor { get; init; } = 1;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override bool HasNoiseUncounted => true;

    /// <inheritdoc/>
    public override string Word => Type.Kind.Replace('-', ' ');

    /// <inheritdoc/>
    public override string ValueText => Type.ReferenceVolts is null ? SiText.Format(Volts, "V") : Type.Name;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("input", Input), new("output", Output), new("ground", GroundPin)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        new(RatingKind.SupplyVoltage, new VoltageAcross(Input, GroundPin, EitherWay: false), Type.MostInputVolts, Type.Source),
        new(RatingKind.ReversedSupply, new VoltageAcross(GroundPin, Input, EitherWay: false), 0.3, Type.Source),
        new(RatingKind.ReverseVoltage, new VoltageAcross(Output, Input, EitherWay: false), Type.MostReverseVolts, Type.Source),
        // While it charges what stands at its output it goes to its own limit, which its sheet allows; its power is judged all the same.
        new(RatingKind.Current, new CurrentThrough([Name]), Type.RatedAmps, Type.Source)
        {
            Pulses = [new(LimitedSeconds, LimitedShare * Type.LimitAmps)],
        },
        JunctionPower(Type.RatedWatts, ambientCelsius, 125, Type.Source),
    ];

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed)
    {
        VariedNumber volts = new(Name, Regulator.OutputVoltage);
        return
        [
            .. ErrorSource.Scale(Name + " output voltage", ErrorKind.Rail, Type.Tolerance, volts),
            new(Name + " output drift", ErrorSource.Limits(Type.TempCo), ErrorKind.Rail, [volts], (now, x, kelvins) =>
                now * (1 + x * kelvins)),
        ];
    }

    /// <inheritdoc/>
    public override string LimitWord => "output voltage";

    /// <summary>A piece of the lowest or the highest output voltage.</summary>
    /// <inheritdoc/>
    public override (Part Part, Quantity Value)? AtLimit(bool high)
    {
        double factor = 1 + (high ? Type.Tolerance : -Type.Tolerance);
        return (this with { Factor = factor }, new(Volts * factor, Unit.Volts));
    }

    /// <inheritdoc/>
    public override (string Positive, string Negative, Span Volts)? Regulates =>
        (Output, GroundPin, new(Volts * (1 - Type.Tolerance), Volts * (1 + Type.Tolerance)));

    /// <inheritdoc/>
    public override (string Output, string Ground, double Farads)? AsksAtOutput =>
        Type.OutputFarads > 0 ? (Output, GroundPin, Type.OutputFarads) : null;

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <summary>Open, its output is let go of; shorted, its pass transistor is, and its input stands at its output.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) =>
        [new Resistor(Name, Input, Output, mode == FaultMode.Short ? ShortOhms : OpenOhms),
        new Resistor(Name + ".ground", Input, GroundPin, OpenOhms)];

    /// <inheritdoc/>
    public override Purchase? Purchase => Purchase.AsRated(RatingKind.Current, Type.RatedAmps);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new Regulator(Name, Input, Output, GroundPin, new RegulatorModel
        {
            Volts = Volts * Factor, OutputOhms = Type.OutputOhms, DropVolts = Type.DropVolts,
                DropOhms = (Type.FullDropVolts - Type.DropVolts) / Type.RatedAmps,
            LimitAmps = Type.LimitAmps, GroundAmps = Type.GroundAmps,
        }),
        .. Type.HasReverseDiode ? [new Diode(Name + ".reverse", Output, Input, ReverseDiode)] : Array.Empty<Element>(),
    ];

    // The junction across a pass transistor: 0.7 V at 10 mA, half an ohm (typical, from memory).
    private static readonly DiodeModel ReverseDiode = new()
    {
        SaturationAmps = 1.5e-14,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12, // diffusion in silicon (Sze)
        TemperatureExponent = 3,
        SeriesOhms = 0.5,
    };
}
