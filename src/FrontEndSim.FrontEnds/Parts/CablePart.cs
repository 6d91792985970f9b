using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// A cable by its length: a lossy line as a ladder of sections, each with its share of inductance, capacitance, wire resistance and
/// insulation. A
/// ladder of N sections follows a line up to about N/π periods within its delay. What is faster it would pass late, as a ringing that no
/// line has (a quarter above an edge, however many sections); a resistance beside each inductance takes it away, so that faster edges are
/// rounded, as a real line rounds them by its skin effect.
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Near end of the wire.</param>
/// <param name="To">Far end of the wire.</param>
/// <param name="Return">The return, which both ends share.</param>
/// <param name="Metres">Length, m, above zero.</param>
/// <param name="Ohms">Wave impedance, ohm, above zero.</param>
public sealed record CablePart(string Name, string From, string To, string Return, double Metres, double Ohms) : Part(Name)
{
    private const int Sections = 32;

    // In wave impedances, beside each section's inductance. An ideal step at an open end then overshoots by 2.5 %, passes its middle within
    // 1 % of the delay, and rises (10 % to 90 %) within 17 % of it: state equations of the ladder, solved by the matrix exponential.
    private const double DampingImpedances = 8;

    // Two thirds of the speed of light: solid polyethylene (any text on lines).
    private const double UsualSecondsPerMetre = 5e-9;

    /// <summary>Delay of a metre, s, above zero.</summary>
    public double SecondsPerMetre { get; init; } = UsualSecondsPerMetre;

    /// <summary>Resistance of both wires together, ohm per metre, above zero (0.14 mm² has 0.125 ohm per metre each way; from
    /// memory).</summary>
    public double OhmsPerMetre { get; init; } = 0.25;

    /// <summary>How far that may be off, a fraction either way; null where that is not written.</summary>
    public double? Tolerance { get; init; }

    /// <inheritdoc/>
    public override IEnumerable<ErrorSource> ErrorSources(AssumedSpread assumed) => ErrorSource.Copper(Name, Tolerance,
    [
        .. ToElements().OfType<Inductor>().Select(l => new VariedNumber(l.Name, Inductor.WindingResistance)),
        new(Name, Resistor.Resistance), new(EndName, Resistor.Resistance),
    ]);

    /// <summary>Voltage that its insulation stands, V.</summary>
    public double RatedVolts { get; init; } = 300;

    // Insulation of equipment wire; much of it ends at 70 °C or 80 °C (typical, from memory).
    /// <inheritdoc/>
    public override double? MostAmbientCelsius => 105;

    /// <inheritdoc/>
    public override double? LeastAmbientCelsius => IndustrialCelsius;

    /// <inheritdoc/>
    public override string Word => "cable";

    /// <inheritdoc/>
    public override string ValueText => $"{Metres:G3} m {SiText.Format(Ohms, "ohm")}";

    /// <summary>Delay from end to end, s.</summary>
    public double DelaySeconds => Metres * SecondsPerMetre;

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("near end", From), new("far end", To), new("return", Return)];

    /// <inheritdoc/>
    public override ImmutableArray<Rating> Ratings(double ambientCelsius = 25) =>
        [.. ((string[])[From, To]).Where(n => n != Return)
            .Select(n => new Rating(RatingKind.Voltage, new VoltageAcross(n, Return), RatedVolts,
            "given for the part or usual of signal cables, from memory"))];

    /// <inheritdoc/>
    public override bool IsClosed => true;

    /// <summary>Open, the wire is broken; shorted, it touches its return half way.</summary>
    /// <inheritdoc/>
    public override IEnumerable<Element> Broken(FaultMode mode) => mode == FaultMode.Short
        ? [.. ToElements(), new Resistor(Name + ".short", Node(Sections / 2), Return, ShortOhms)]
        : [.. ToElements().Where(e => e.Name != Name), new Resistor(Name, From, Node(0), OpenOhms)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements()
    {
        double henries = Ohms * DelaySeconds / Sections, farads = DelaySeconds / Ohms / Sections,
            wire = OhmsPerMetre * Metres / (Sections + 1), damping = DampingImpedances * Ohms;
        // A wire of much resistance rings no more; else both in parallel are the wire's resistance at rest.
        bool rings = wire < damping / 2;
        double winding = rings ? wire * damping / (damping - wire) : wire;
        // Half a section's capacitance at either end; the first resistor carries the cable's name.
        yield return new Resistor(Name, From, Node(0), wire / 2);
        for (int k = 0; k < Sections; k++)
        {
            yield return new Capacitor($"{Name}.c{k}", Node(k), Return, k == 0 ? farads / 2 : farads);
            yield return new Inductor($"{Name}.l{k}", Node(k), Node(k + 1), henries)
            { SeriesOhms = winding };
            if (rings)
                yield return new Resistor($"{Name}.r{k}", Node(k), Node(k + 1), damping);
        }
        yield return new Capacitor($"{Name}.c{Sections}", Node(Sections), Return, farads / 2);
        yield return new Resistor(EndName, Node(Sections), To, wire / 2);
        yield return new Resistor(Name + ".insulation", Node(Sections / 2), Return, 1e10);
    }

    private string EndName => Name + ".end";

    private string Node(int k) => $"{Name}.{k}";
}
