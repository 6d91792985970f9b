using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What the parts that protect a pin cost its readings, at both ends of the sensor's span.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Unit">"counts", or "mV" for a pin that does not convert.</param>
/// <param name="Span">The sensor's span, in its own unit.</param>
/// <param name="Parts">Each part of the protection, the one that costs most first.</param>
public sealed record ProtectionCosts(string Sensor, string Pin, string Unit, Span Span, ImmutableArray<ProtectionCost> Parts)
{
    // A series resistor is measured with this left of it.
    private const double WireOhms = 1e-3;

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>Below this many counts nothing is called a cost.</summary>
    public const double Least = 0.01;

    /// <summary>
    /// The part that costs most; null where none costs anything to speak of. The series resistor is not named by itself: it costs what
    /// the others draw through it.
    /// </summary>
    public ProtectionCost? Dearest => Parts.Where(p => !p.IsSeries).MaxBy(p => Math.Abs(p.Largest)) is { } worst
        && Math.Abs(worst.Largest) >= Least ? worst : null;

    /// <summary>Finds the costs: the reading with each part less the reading without it.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="mapping">The mapping onto the pin.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ProtectionCosts Of(SolvedFrontEnd solved, MappingResult mapping, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var sensor = frontEnd.FindSensor(mapping.Sensor);
        var (low, high) = Ends(solved);
        var parts = Trials(frontEnd, mapping.Pin).Where(t => t.Without.ToCircuit().Problems is []).Select(t =>
        {
            var (lowWithout, highWithout) = Ends(solved.With(t.Without));
            return new ProtectionCost(t.Part, t.Role, t.ValueText, low - lowWithout, high - highWithout) { IsSeries = t.IsSeries };
        });
        return new(mapping.Sensor, mapping.Pin, frontEnd.FindPin(mapping.Pin).Converter is null ? "mV" : "counts", sensor.Span,
            [.. parts.OrderByDescending(p => Math.Abs(p.Largest))])
        {
            SensorUnit = sensor.UnitText,
        };

        (double Low, double High) Ends(SolvedFrontEnd changed)
        {
            var points = MappingStudy.Of(changed, changed.FrontEnd.FindPin(mapping.Pin), sensor,
                changed.Sweep(sensor.Name, [sensor.Span.Low, sensor.Span.High], cancel: cancel), cancel).Points;
            // Against what is wanted of the whole circuit: without a part the target is the same.
            return (Counts(points[0]), Counts(points[^1]));

            double Counts(MappingPoint p) => p.ErrorCounts + (p.IdealVolts - mapping.Wanted.Ideal(p.SensorValue)) / mapping.CountVolts;
        }
    }

    private static IEnumerable<(string Part, PartRole? Role, string ValueText, bool IsSeries,
        FrontEnd Without)> Trials(FrontEnd frontEnd, string pin)
    {
        foreach (var (part, known) in PartRole.Of(frontEnd))
        {
            var role = known.Role;
            if (role == Role.PullDown || role != Role.Indicator
                && part.Idealisations.Any(i => i is { Of: Imperfection.Leakage, Ideal: null }))
                yield return (part.Name, known, part.ValueText, false, frontEnd.Replace(part, null));
            else if (role == Role.SeriesResistor)
                yield return (part.Name, known, part.ValueText, true, frontEnd.Replace(part, part.WithValue(WireOhms)));
        }
        var own = frontEnd.FindPin(pin);
        own = own.SameAs is { } first ? frontEnd.FindPin(first) : own;
        if (own.HasClamps || own.LeakageAmps != 0 || own.Load is not null)
        {
            var bare = own with { HasClamps = false, LeakageAmps = 0, Load = null };
            yield return (own.Name, null, "", false, frontEnd with { Pins = [.. frontEnd.Pins.Select(p => p == own ? bare : p)] });
        }
    }
}

/// <summary>What one part of the protection costs.</summary>
/// <param name="Part">Name of the part, or of the pin.</param>
/// <param name="Role">What the part does; null for the pin.</param>
/// <param name="ValueText">Its value or type: "1N5817"; empty for the pin.</param>
/// <param name="LowCounts">The reading with it less the reading without it, sensor at the lower end of its span, counts or mV.</param>
/// <param name="HighCounts">The same at the upper end.</param>
public sealed record ProtectionCost(string Part, PartRole? Role, string ValueText, double LowCounts, double HighCounts)
{
    /// <summary>The larger of the two, with its sign.</summary>
    public double Largest => Math.Abs(LowCounts) > Math.Abs(HighCounts) ? LowCounts : HighCounts;

    /// <summary>Whether it is a guard's series resistor, which costs what the other parts and the pin draw through it.</summary>
    public bool IsSeries { get; init; }
}
