using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Filtering;

/// <summary>The shape of a filter's pass band.</summary>
internal enum FilterResponse
{
    /// <summary>Flat.</summary>
    Butterworth,

    /// <summary>Keeps edges.</summary>
    Bessel,

    /// <summary>Falls steepest.</summary>
    Chebyshev,
}

/// <summary>What a filter of second order with one op amp was asked for, and what its values are chosen from.</summary>
internal sealed record FilterTarget
{
    // Values that miss the pole frequency and the quality by less than this are as good as each other: well below the tolerance of any
    // capacitor.
    private const double Negligible = 2e-3;

    // Resistors of a filter: small enough for bias current and noise, large enough for the op amp's output (common practice, no source).
    private const double UsualOhms = 10e3, LeastOhms = 100, MostOhms = 1e6, LeastFarads = 10e-12, MostFarads = 10e-6;

    private static Setting<FilterResponse> Shape { get; } = Setting.Of("response", true,
        "Shape of the pass band: butterworth is flat, bessel keeps edges, chebyshev falls steepest.",
        StageKind.OneOf("shape", [.. Enum.GetValues<FilterResponse>().Select(r => (r.ToString().ToLowerInvariant(), r))]));

    private static AmountSetting Ripple { get; } = new("ripple", false,
        "How far a chebyshev response rises above its DC gain, in decibels; 0.5 dB if left out.", new("value", Unit.None), "dB");

    private static AmountSetting Corner { get; } =
        StageKind.RequiredAmount("corner", "Frequency at which the gain is down by 3 dB from the DC gain.", Unit.Hertz);

    private static AmountSetting Impedance { get; } =
        StageKind.Amount("impedance", "About what the resistors shall be; 10 kohm if left out.", Unit.Ohm);

    private static SeriesSetting PreferredCapacitors { get; } =
        new("capacitors", "Series of preferred numbers and tolerance of the capacitors; E12 and 5 % if left out.");

    /// <summary>The settings that such filters share.</summary>
    public static ImmutableArray<Setting> Settings { get; } = [Shape, Ripple, Corner, Impedance, PreferredCapacitors];

    /// <summary>Name of the stage.</summary>
    public required string Stage { get; init; }

    /// <summary>The op amp.</summary>
    public required Supplied<OpAmpType> OpAmp { get; init; }

    /// <summary>What is wanted.</summary>
    public required SecondOrder Wanted { get; init; }

    /// <summary>The response.</summary>
    public required FilterResponse Response { get; init; }

    /// <summary>Ripple of a chebyshev response, dB.</summary>
    public double RippleDecibels { get; init; }

    /// <summary>Preferred numbers of the resistors.</summary>
    public required ESeries Resistors { get; init; }

    /// <summary>Their tolerance, a fraction.</summary>
    public double ResistorTolerance { get; init; }

    /// <summary>Preferred numbers of the capacitors.</summary>
    public required ESeries Capacitors { get; init; }

    /// <summary>Their tolerance, a fraction.</summary>
    public double CapacitorTolerance { get; init; }

    /// <summary>About what the resistors shall be, ohm.</summary>
    public double Ohms { get; init; }

    /// <summary>The sensor that drives the stage directly, whose source resistance adds to the first resistor; null for none.</summary>
    public Sensor? Sensor { get; init; }

    /// <summary>That resistance, ohm.</summary>
    public double SourceOhms => Sensor?.SourceOhms ?? 0;

    /// <summary>What the response is measured from: the sensor where it drives the stage directly, else the stage's input.</summary>
    /// <param name="input">The input node.</param>
    public string? MeasuredFrom(string input) => Sensor is null ? input : null;

    /// <summary>Reads the settings.</summary>
    /// <exception cref="StageProblemException">One of them makes no sense.</exception>
    public static FilterTarget Read(StageRequest request)
    {
        var response = request.Get(Shape);
        double corner = request.Positive(Corner), ripple = request.Positive(Ripple, 0.5);
        if (request.Has(Ripple) && response != FilterResponse.Chebyshev)
            throw new StageProblemException("ripple", new(ProblemKind.NoRipple, response.ToString().ToLowerInvariant()));
        if (ripple is < 0.01 or > 3)
            throw new StageProblemException("ripple",
                new(ProblemKind.Ripple, "", "", Quantity.InText(ripple, "dB"), Quantity.InText(0.01, "dB"), Quantity.InText(3, "dB")));
        double quality = response switch
        {
            FilterResponse.Butterworth => SecondOrder.Butterworth,
            FilterResponse.Bessel => SecondOrder.Bessel,
            _ => SecondOrder.Chebyshev(ripple),
        };
        var (resistors, resistorTolerance) = request.Preferred(StageKind.PreferredResistors, ESeries.E96);
        var (capacitors, capacitorTolerance) = request.Preferred(PreferredCapacitors, ESeries.E12, UsualSpread.FilterCapacitor.Amount);
        if (request.Has(Impedance) && request.Kind.Settings.OfType<PartSetting>().FirstOrDefault(request.Has) is { } given)
            throw new StageProblemException(Impedance.Name, new(ProblemKind.Follows, "", given.Name));
        return new()
        {
            Stage = request.Name,
            OpAmp = request.Get(StageKind.OpAmp).Checked(),
            Wanted = SecondOrder.WithCorner(corner, quality),
            Response = response,
            RippleDecibels = ripple,
            Resistors = resistors,
            ResistorTolerance = resistorTolerance,
            Capacitors = capacitors,
            CapacitorTolerance = capacitorTolerance,
            Ohms = request.Positive(Impedance, UsualOhms),
            Sensor = request.Sensors.FirstOrDefault(s => s.Node == request.Get(StageKind.Ends).Input)?.AsVoltage(),
        };
    }

    /// <summary>A resistor or capacitor that was given, or null.</summary>
    public Toleranced? Given(StageRequest request, PartSetting setting) =>
        request.Given(setting, setting.Unit == Unit.Ohm ? ResistorTolerance : CapacitorTolerance);

    /// <summary>Capacitors to try: the one given, or the preferred numbers of a range.</summary>
    public IEnumerable<double> Farads(Toleranced? given, double from, double to) =>
        given is { } g ? [g.Value] : Capacitors.Between(Math.Max(from, LeastFarads), Math.Min(to, MostFarads));

    /// <summary>Resistors to try: the one given, or the preferred numbers on either side.</summary>
    public IEnumerable<double> Near(Toleranced? given, double ohms) =>
        given is { } g ? [g.Value] : ohms is >= LeastOhms and <= MostOhms ? Resistors.Neighbours(ohms).Distinct() : [];

    /// <summary>A resistor as chosen.</summary>
    public Toleranced Resistor(double ohms, Toleranced? given) => given ?? new(ohms, ResistorTolerance);

    /// <summary>A capacitor as chosen.</summary>
    public Toleranced Capacitor(double farads, Toleranced? given) => given ?? new(farads, CapacitorTolerance);

    /// <summary>The candidate nearest to the response wanted; of those as good as each other the one nearest to the impedance
    /// wanted.</summary>
    /// <exception cref="StageProblemException">None is near enough.</exception>
    public T Best<T>(IEnumerable<T> candidates, Func<T, SecondOrder> response, Func<T, IEnumerable<double>> resistors) where T : class
    {
        T? best = null;
        (double Miss, double Aside) least = (double.PositiveInfinity, 0);
        foreach (var candidate in candidates)
        {
            (double Miss, double Aside) score = (Math.Max(Negligible, Miss(response(candidate))), resistors(candidate)
                .Max(r => Math.Abs(Math.Log(r / Ohms))));
            if (score.CompareTo(least) < 0)
                (best, least) = (candidate, score);
        }
        if (best is not null && least.Miss <= Spread(ResistorTolerance, CapacitorTolerance))
            return best;
        throw new StageProblemException("corner", best is null
            ? new(ProblemKind.NoFilterValues, Stage) { Known = [Resistors.Name, Capacitors.Name] }
            : new Problem(ProblemKind.FilterMisses, Stage, Found: Quantity.Share(least.Miss)));
    }

    private double Miss(SecondOrder found) =>
        Math.Max(Math.Abs(found.CornerHertz / Wanted.CornerHertz - 1), Math.Abs(found.Quality / Wanted.Quality - 1));

    /// <summary>How far the tolerances of two resistors and two capacitors take a pole frequency, 1/(2π·√(R·R·C·C)), at worst: a
    /// fraction.</summary>
    public static double Spread(double resistors, double capacitors) => resistors + capacitors;

    /// <summary>The lines that lead from the name of the response to its pole.</summary>
    public IEnumerable<HandStep> HandMath()
    {
        string ripple = SiText.Plain(RippleDecibels, "dB"), q = SiText.Plain(Wanted.Quality, "", 4);
        yield return Response switch
        {
            FilterResponse.Butterworth => new("quality of a butterworth response", "Q = 1/√2", "1/√2", Wanted.Quality, ""),
            FilterResponse.Bessel => new("quality of a bessel response", "Q = 1/√3", "1/√3", Wanted.Quality, ""),
            _ => new($"quality of a chebyshev response of {ripple}",
                "Q = √(cosh 2u)/(2·sinh u), u = asinh(1/ε)/2, ε = √(10^(r/10) − 1)", $"r = {ripple}", Wanted.Quality, ""),
        };
        yield return new("pole frequency wanted", "f0 = f3/√(b + √(b² + 1)), b = 1 − 1/(2·Q²)",
            $"{SiText.Format(Wanted.CornerHertz, "Hz")}, Q = {q}", Wanted.PoleHertz, "Hz");
    }

    /// <summary>The lines that hold what was built against what was asked for.</summary>
    /// <param name="built">The response of the values chosen.</param>
    /// <param name="pole">Formula of its pole frequency, and the same with numbers.</param>
    /// <param name="quality">Formula of its quality, and the same with numbers.</param>
    /// <param name="input">The input node.</param>
    /// <param name="output">The output node.</param>
    public IEnumerable<HandStep> Built(SecondOrder built, (string Formula, string Numbers) pole,
        (string Formula, string Numbers) quality, string input, string output)
    {
        string? from = MeasuredFrom(input);
        double far = 10 * Wanted.CornerHertz, share = Spread(ResistorTolerance, CapacitorTolerance);
        string f0 = SiText.Format(built.PoleHertz, "Hz", 4), q = SiText.Plain(built.Quality, "", 4);
        yield return new("pole frequency", pole.Formula, pole.Numbers, built.PoleHertz,
            "Hz")
        { Measure = new QuadratureMeasure(from, output) };
        yield return new("quality, the gain at the pole frequency over the DC gain", quality.Formula, quality.Numbers, built.Quality, "")
        {
            Measure = new ResponseMeasure(from, output, built.PoleHertz),
            Allowed = share * built.Quality,
        };
        yield return new("corner frequency", "f3 = f0·√(b + √(b² + 1)), b = 1 − 1/(2·Q²)", $"{f0}, Q = {q}", built.CornerHertz, "Hz")
        {
            Measure = new CornerMeasure(from, output),
            Allowed = share * built.CornerHertz,
        };
        yield return new("gain at ten times the corner over the DC gain", "a = 1/√((1 − x²)² + (x/Q)²), x = f/f0",
            $"{SiText.Format(far, "Hz")}, {f0}, Q = {q}", built.Gain(far), "")
        {
            Measure = new ResponseMeasure(from, output, far),
            // A stop band of half the depth in decibels is no low-pass of second order any more.
            Allowed = Math.Sqrt(built.Gain(far)) - built.Gain(far),
        };
    }
}
