using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Two windings on one core: a transformer, coupled inductors or a common-mode choke. A core without a limit of its flux does not
/// saturate; none has hysteresis.</summary>
/// <param name="Name">Part name.</param>
/// <param name="FirstFrom">Start of the first winding, where its dot is.</param>
/// <param name="FirstTo">End of the first winding.</param>
/// <param name="SecondFrom">Start of the second winding, where its dot is.</param>
/// <param name="SecondTo">End of the second winding.</param>
/// <param name="FirstHenries">Inductance of the first winding, H, above zero.</param>
/// <param name="SecondHenries">Inductance of the second winding, H, above zero.</param>
/// <param name="Coupling">Coupling factor, above 0 and below 1.</param>
public sealed record WindingsPart(string Name, string FirstFrom, string FirstTo, string SecondFrom,
    string SecondTo, double FirstHenries, double SecondHenries,
    double Coupling) : Part(Name)
{
    // Between windings on one core: insulation, and the least capacitance of small ones (both from memory). Nothing else holds a secondary
    // that floats, and without any capacitance its level against the first would be whatever rounding makes it.
    private const double InsulationOhms = 1e11, LeastFarads = 10e-12;

    /// <summary>Whether it is sold as a common-mode choke: two windings alike, through which the line's current goes and comes.</summary>
    public bool IsChoke { get; init; }

    /// <summary>Resistance of the first winding, ohm, above zero.</summary>
    public double FirstOhms { get; init; } = 0.1;

    /// <summary>Resistance of the second winding, ohm, above zero.</summary>
    public double SecondOhms { get; init; } = 0.1;

    /// <summary>Capacitance between the windings' starts, F; zero for no more than 10 pF of a transformer, between their ends.</summary>
    public double Farads { get; init; }

    /// <summary>Lasting current of either winding, A; infinity where none is stated.</summary>
    public double RatedAmps { get; init; } = double.PositiveInfinity;

    /// <summary>What the insulation between its windings stands, V; of enamelled wire on one bobbin where nothing is said (common practice,
    /// no source).</summary>
    public double InsulationVolts { get; init; } = 500;

    /// <summary>Flux of the first winding at which the core saturates, V·s; infinity for a core that does not.</summary>
    public double SaturationVoltSeconds { get; init; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override bool IsCoil => true;

    // Enamel and bobbins of signal transformers (typical, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 125;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => IsChoke ? "choke" : "transformer";

    /// <inheritdoc/>
    public override string ValueText => SiText.Format(FirstHenries, "H")
        + (SecondHenries == FirstHenries ? " each" : " and " + SiText.Format(SecondHenries, "H"));

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals =>
        [new("start of first", FirstFrom), new("end of first", FirstTo), new("start of second", SecondFrom),
            new("end of second", SecondTo)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
    [
        .. Rating.Stated(new(RatingKind.Current, new EffectiveCurrent(FirstName, 1), RatedAmps, "given for the part")),
        .. Rating.Stated(new(RatingKind.Current, new EffectiveCurrent(SecondName, 1), RatedAmps, "given for the part")),
        new(RatingKind.Voltage, new VoltageAcross(FirstTo, SecondTo), InsulationVolts, "common practice, no source"),
    ];

    /// <inheritdoc/>
    public override Purchase? Purchase => double.IsFinite(RatedAmps) ? Purchase.AsRated(RatingKind.Current, RatedAmps) : null;

    /// <inheritdoc/>
    public override ImmutableArray<FaultMode> FailureModes => [FaultMode.Open, FaultMode.Short];

    /// <summary>Open, both windings are; shorted, both are, and the insulation holds.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode)
    {
        double ohms = mode == FaultMode.Short ? ShortOhms : OpenOhms;
        return [new Resistor(Name, FirstFrom, FirstTo, ohms), new Resistor(SecondName, SecondFrom, SecondTo, ohms), Insulation];
    }

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new CoupledInductors(Name, FirstName, FirstTo, SecondName, SecondTo, FirstHenries, SecondHenries,
            Coupling) { FirstOhms = FirstOhms / 2, SecondOhms = SecondOhms / 2, SaturationVoltSeconds = SaturationVoltSeconds },
        new Resistor(FirstName, FirstFrom, FirstName, FirstOhms / 2),
            new Resistor(SecondName, SecondFrom, SecondName, SecondOhms / 2), Insulation,
        .. Farads > 0 ? [new Capacitor(Name + ".between", FirstFrom, SecondFrom, Farads)]
            : IsChoke || FirstTo == SecondTo ? Array.Empty<Element>() : [new Capacitor(Name + ".between", FirstTo, SecondTo, LeastFarads)],
    ];

    // Half of each winding's resistance stands apart, so that its current can be read.
    private string FirstName => Name + ".first";

    private string SecondName => Name + ".second";

    private Resistor Insulation => new(Name + ".insulation", FirstTo, SecondTo, InsulationOhms);
}
