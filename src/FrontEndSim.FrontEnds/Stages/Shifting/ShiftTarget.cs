using FrontEndSim.FrontEnds.Parts;
using MathNet.Numerics.RootFinding;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>
/// What a shifting stage was asked for: the sensor's span onto a span of voltage, as gain and offset, with the reference
/// at hand and the resistors that may be chosen.
/// </summary>
internal sealed record ShiftTarget
{
    /// <summary>Errors up to this share of the output span count as equal when values are chosen: well below a tolerance of 0.1
    /// %.</summary>
    private const double Negligible = 1e-4;

    /// <summary>Name of the stage.</summary>
    public required string Stage { get; init; }

    /// <summary>The mapping wanted, or null if all resistors were given instead.</summary>
    public WantedMapping? Mapping { get; init; }

    /// <summary>What the shift is taken from, or null.</summary>
    public ShiftReference? Reference { get; init; }

    /// <summary>Source resistance of the sensor, ohm, which adds to the input resistor.</summary>
    public double SourceOhms { get; init; }

    /// <summary>Preferred numbers to choose from.</summary>
    public required ESeries Series { get; init; }

    /// <summary>Tolerance of the resistors chosen, a fraction.</summary>
    public double Tolerance { get; init; }

    /// <summary>Voltage of the reference without load, V; 0 without one.</summary>
    public double ReferenceVolts => Reference?.Volts ?? 0;

    /// <summary>Source resistance of the reference, ohm; 0 without one.</summary>
    public double ReferenceOhms => Reference?.SourceOhms ?? 0;

    /// <summary>Gain wanted, V/V.</summary>
    public double Gain => Mapping!.Output.Width / Mapping.Input.Width;

    /// <summary>Output wanted at an input of 0 V, V; exactly 0 where it is nothing but rounding.</summary>
    public double Offset => Math.Abs(RawOffset) < 1e-12 * Mapping!.Output.Width ? 0 : RawOffset;

    /// <summary>Offset wanted over the reference's voltage: the gain that the reference needs.</summary>
    /// <exception cref="StageProblemException">The span has to be shifted and there is nothing to shift it with.</exception>
    public double ReferenceGain => Offset == 0 ? 0
        : Reference is null ? throw new StageProblemException("offset",
            new(ProblemKind.NoReference, Stage, "", new(Offset, Unit.Volts)))
        : ReferenceVolts == 0 ? throw new StageProblemException("offset", new(ProblemKind.RailAtZero, Reference.Rail))
        : Offset / ReferenceVolts;

    private double RawOffset => Mapping!.Output.Low - Gain * Mapping.Input.Low;

    /// <summary>Reads the settings "maps", "offset" and "resistors".</summary>
    /// <exception cref="StageProblemException">One of them makes no sense.</exception>
    public static ShiftTarget Read(StageRequest request)
    {
        var mapping = request.Mapping(out var sensor);
        var (series, tolerance) = request.Preferred(StageKind.PreferredResistors, ESeries.E96);
        var target = new ShiftTarget
        {
            Stage = request.Name,
            Mapping = mapping,
            // The source resistance adds to the input resistor where the sensor drives the stage directly.
            SourceOhms = sensor?.Node == request.Get(StageKind.Ends).Input ? sensor!.SourceOhms : 0,
            Series = series,
            Tolerance = tolerance,
        };
        return target with { Reference = ShiftReference.Read(request, target) };
    }

    /// <summary>
    /// The target with its potentiometer turned until the middle of the span lands where it is to; the target itself where there is
    /// none to turn. The shift grows with the turn, as the voltage at the wiper does.
    /// </summary>
    /// <param name="line">What the resistors make of the span with a reference.</param>
    /// <exception cref="StageProblemException">No turn does it.</exception>
    public ShiftTarget Turned(Func<ShiftReference, LinearExpectation> line)
    {
        if (Mapping is not { } map || Reference is not { MayTurn: true } reference)
            return this;
        double middle = (map.Output.Low + map.Output.High) / 2;
        double Miss(double position) => line(reference.Turned(position)).Output(map.Input.Middle) - middle;
        return Brent.TryFindRoot(Miss, 0.01, 0.99, 1e-12, 100, out double position)
            ? this with { Reference = reference.Turned(position) }
            : throw new StageProblemException("potentiometer", new(ProblemKind.NoTurn, Stage));
    }

    /// <summary>A stage of resistors about an op amp with the reference's parts, its closed forms and its hand calculation.</summary>
    public Stage Shifting(Stage bare, OpAmpNetwork network, OpAmpPart amp, IEnumerable<HandStep> own)
    {
        LinearExpectation ideal = network.Ideal(), expected = network.Expected(amp.Type.Model);
        return bare with
        {
            Parts = [.. bare.Parts, .. Reference?.Parts ?? []],
            HandMath = [.. ShiftHandMath.Wanted(this), .. Reference?.HandMath ?? [], .. own, .. ShiftHandMath.Bias(network, amp),
                .. ShiftHandMath.Ends(this, ideal)],
            Ideal = ideal,
            // The reference is that of a real buffer.
            Expected = Reference is null || ReferenceVolts == 0 ? expected : expected with
            { OffsetVolts = expected.OffsetVolts + (Reference.ExpectedVolts / ReferenceVolts - 1) * ideal.OffsetVolts },
            Mapping = Mapping,
        };
    }

    /// <summary>The larger error at the two ends of the span, V.</summary>
    public double WorstError(LinearExpectation line) => Math.Max(
        Math.Abs(line.Output(Mapping!.Input.Low) - Mapping.Output.Low), Math.Abs(line.Output(Mapping.Input.High) - Mapping.Output.High));

    /// <summary>
    /// The candidate with the least error; of those whose errors are all negligible beside the tolerances, the one with the
    /// least <paramref name="unbalance"/>.
    /// </summary>
    public T Best<T>(IEnumerable<T> candidates, Func<T, LinearExpectation> line, Func<T, double> unbalance) where T : class
    {
        double floor = Negligible * Mapping!.Output.Width;
        T? best = null;
        (double Error, double Unbalance) least = (double.PositiveInfinity, 0);
        foreach (var candidate in candidates)
        {
            (double Error, double Unbalance) score = (Math.Max(floor, WorstError(line(candidate))), unbalance(candidate));
            if (score.CompareTo(least) < 0)
                (best, least) = (candidate, score);
        }
        return best ?? throw new StageProblemException("resistors",
            new(ProblemKind.SeriesMissesGain, Stage, Series.Name) { Wanted = Quantity.Number(Gain) });
    }

    /// <summary>The resistor that was given, or null.</summary>
    public Toleranced? Given(StageRequest request, PartSetting setting) => request.Given(setting, Tolerance);

    /// <summary>A chosen resistor.</summary>
    public Toleranced Chosen(double ohms) => new(ohms, Tolerance);

    /// <summary>Candidates for a resistor: what was given, or the values of the decade that starts at <paramref name="from"/>.</summary>
    public IEnumerable<double> Decade(Toleranced? given, double from) =>
        given is { } g ? [g.Value] : Series.Between(from, from * 9.9999);

    /// <summary>Candidates near a value: what was given, or the preferred numbers on either side. None outside 10 ohm to 10 Mohm.</summary>
    public IEnumerable<double> Near(Toleranced? given, double ohms) =>
        given is { } g ? [g.Value] : ohms is >= 10 and <= 10e6 ? Series.Neighbours(ohms).Distinct() : [];

    /// <summary>The problem of a resistor that has to be given where no mapping is.</summary>
    public StageProblemException Missing(PartSetting setting) => new(setting.Name, new(ProblemKind.NeedsSpanOrSetting, Stage));

    /// <summary>The problem of a resistor to a reference where there is none.</summary>
    public StageProblemException Unreferenced() => new("reference", new(ProblemKind.ResistorWithoutReference, Stage));
}
