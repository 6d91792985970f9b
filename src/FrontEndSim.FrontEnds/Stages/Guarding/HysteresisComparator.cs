using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>
/// A comparator that falls above one threshold and rises again below a lower one: its plus input stands at a divider of a supply that a
/// third
/// resistor from the output lifts while the output is high.
/// </summary>
internal sealed class HysteresisComparator : StageKind
{
    // The resistance of the divider at the plus input (common practice, no source). A pull-up is a small share of the feedback resistor.
    private const double UsualOhms = 10e3, PullUpOhms = 4.7e3, LeastOhms = 100, MostOhms = 10e6;

    // How near to the thresholds asked for the circuit has to come, in shares of their distance.
    private const double AllowedShare = 0.1;

    public override string Name => "hysteresis-comparator";

    public override string Summary =>
        "Says whether its input is above or below a threshold, with hysteresis: low above the upper one, high below the lower one.";

    private static SuppliedSetting<ComparatorType> Comparator { get; } = new("comparator", true,
        "Class of the comparator and its supply rails.", new NameBlank<ComparatorType>("type", "class of comparator", "open-collector",
            c => c.Types.OfType<ComparatorType>().Select(t => new Choice<ComparatorType>(t.Name, () => t)), t => t.Name));

    private static AmountSetting UpperThreshold { get; } = RequiredAmount("upper", "Input at which the output falls.", Unit.Volts);

    private static AmountSetting LowerThreshold { get; } = RequiredAmount("lower", "Input at which it rises again.", Unit.Volts);

    private static Setting<Rail> From { get; } =
        Setting.Of("offset", true, "The rail that the thresholds are divided from.", new RailBlank("rail"), "from");

    private static PartSetting PullUp { get; } = Resistor("pullup", "Pull-up resistor of an open collector; 4.7 kohm if left out.");

    private static Setting<Rail> High { get; } = Setting.Of("high", false,
        "The rail that the pull-up leads to; the comparator's positive one if left out.", new RailBlank("rail"));

    private static AmountSetting Impedance { get; } =
        Amount("impedance", "About what the resistance at the plus input shall be; 10 kohm if left out.", Unit.Ohm);

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Comparator, UpperThreshold, LowerThreshold, From, PullUp, High, Impedance, PreferredResistors];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, plus = name + ".PLUS";
        var (input, output) = request.Get(Ends);
        var (type, positive, negative) = request.Get(Comparator);
        var rail = request.Get(From);
        double width = positive.Volts.Value - negative.Volts.Value;
        if (!(width >= type.SupplyVolts.Low && width <= type.SupplyVolts.High))
        {
            throw new StageProblemException("comparator", new(ProblemKind.SupplyOutside, type.Name, "", new(width, Unit.Volts),
                new(type.SupplyVolts.Low, Unit.Volts), new(type.SupplyVolts.High, Unit.Volts)));
        }
        double upper = request.Get(UpperThreshold), lower = request.Get(LowerThreshold), distance = upper - lower;
        if (!(distance > 0))
            throw new StageProblemException("upper",
                new(ProblemKind.InWrongOrder, "", "lower", new(upper, Unit.Volts), new(lower, Unit.Volts)));
        bool isOpen = type.Model.SourceAmps == 0;
        if (!isOpen && (request.Has(PullUp) || request.Has(High)))
            throw new StageProblemException(request.Has(PullUp) ? PullUp.Name : High.Name, new(ProblemKind.NoPullUp, type.Name));
        var top = request.Get(High, positive);
        Toleranced? pullup = isOpen ? request.Toleranced(PullUp, UsualSpread.Resistor.Amount, PullUpOhms) : null;
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        var ends = new Levels(top.Volts.Value, pullup?.Value ?? type.Model.SourceOhms, negative.Volts.Value, type.Model.SinkOhms,
            pullup?.Value);
        var v = Choose(request, series, rail.Volts.Value, upper, lower, request.Positive(Impedance, UsualOhms), ends);
        var (found, back) = (v.Upper(rail.Volts.Value, ends), v.Lower(rail.Volts.Value, ends));

        Toleranced Of(double ohms) => new(ohms, tolerance);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".Ra", rail.Name, plus, Of(v.Ra)) { Role = Role.ReferenceResistor });
        if (v.Rb is { } rb)
            parts.Add(new ResistorPart(name + ".Rb", plus, Circuit.Ground, Of(rb)));
        parts.Add(new ResistorPart(name + ".Rf", output, plus, Of(v.Rf)) { Role = Role.FeedbackResistor });
        parts.Add(new ComparatorPart(name + ".U1", plus, input, output, positive.Name, negative.Name, type));
        if (pullup is { } rp)
            parts.Add(new ResistorPart(name + ".Rp", top.Name, output, rp));
        string divider = $"{ShiftHandMath.V(rail.Volts.Value)} through {ShiftHandMath.Ohms(v.Ra)}", ground = v.Rb is { } b
            ? $", 0 V through {ShiftHandMath.Ohms(b)}" : "", feedback = isOpen ? "Rf + Rp" : "Rf";
        double reach = Math.Max(distance, 0.05 * width);
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable())
        {
            HandMath =
            [
                new("upper threshold, output high", $"V+ = (Vr/Ra + Vh/({feedback}))/(1/Ra + 1/Rb + 1/({feedback}))",
                    $"{divider}{ground}, {ShiftHandMath.V(ends.High)} through {ShiftHandMath.Ohms(v.Rf + ends.HighOhms)}", found, "V")
                {
                    Measure = new SwitchingMeasure(input, output, back - reach, found + reach),
                    Allowed = AllowedShare * distance + Math.Abs(found - upper),
                },
                new("lower threshold, output low", "V− = (Vr/Ra + Vl/Rf)/(1/Ra + 1/Rb + 1/Rf)",
                    $"{divider}{ground}, {ShiftHandMath.V(ends.Low)} through {ShiftHandMath.Ohms(v.Rf + ends.LowOhms)}", back, "V")
                {
                    Measure = new SwitchingMeasure(input, output, found + reach, back - reach),
                    Allowed = AllowedShare * distance + Math.Abs(back - lower),
                },
                new("hysteresis", "H = V+ − V−", $"{ShiftHandMath.V(found)} − {ShiftHandMath.V(back)}", found - back, "V"),
            ],
        };
    }

    /// <summary>
    /// The share of the feedback's conductance is H/(Vh − Vl), that of Ra what is left of the lower threshold; the rest goes to ground.
    /// What the
    /// output's own resistances make of it is tried out.
    /// </summary>
    private static Values Choose(StageRequest request, ESeries series, double rail, double upper, double lower, double ohms, Levels ends)
    {
        double feedback = (upper - lower) / (ends.High - ends.Low), reference = (lower - ends.Low * feedback) / rail,
            rest = 1 - feedback - reference;
        if (!(feedback is > 0 and < 1) || !(reference > 0) || rest < -1e-9)
        {
            throw new StageProblemException("upper", new(ProblemKind.ThresholdsNotDivided, request.Name, "", new(rail, Unit.Volts),
                new(lower, Unit.Volts), new(upper, Unit.Volts)));
        }
        var candidates = from ra in series.Between(ohms / reference / Math.Sqrt(10), ohms / reference * Math.Sqrt(10))
                         from rf in series.Neighbours(ra * reference / feedback).Distinct()
                         from rb in rest < 0.01 ? new double?[] { null }
                             : series.Neighbours(ra * reference / rest).Distinct().Select(r => (double?)r)
                         where rf is >= LeastOhms and <= MostOhms
                         select new Values(ra, rb, rf);
        double Miss(Values v) => Math.Max(Math.Abs(v.Upper(rail, ends) - upper), Math.Abs(v.Lower(rail, ends) - lower));
        var best = candidates.OrderBy(v => Math.Max(0.02 * (upper - lower), Miss(v)))
            .ThenBy(v => Math.Abs(Math.Log(v.Ra * reference / ohms))).FirstOrDefault();
        return best is not null && Miss(best) <= AllowedShare * (upper - lower) ? best : throw new StageProblemException("resistors",
            new(ProblemKind.ThresholdsMissed, request.Name, series.Name));
    }

    /// <summary>Voltages behind the output, and the resistance behind which they stand.</summary>
    private sealed record Levels(double High, double HighOhms, double Negative, double SinkOhms, double? PullUpOhms)
    {
        // The low output stands between the pull-up and what sinks it.
        public double Low => PullUpOhms is { } pullUp ? Negative + (High - Negative) * SinkOhms / (SinkOhms + pullUp) : Negative;

        public double LowOhms => PullUpOhms is { } pullUp ? SinkOhms * pullUp / (SinkOhms + pullUp) : SinkOhms;
    }

    private sealed record Values(double Ra, double? Rb, double Rf)
    {
        public double Upper(double rail, Levels ends) => At(rail, ends.High, Rf + ends.HighOhms);

        public double Lower(double rail, Levels ends) => At(rail, ends.Low, Rf + ends.LowOhms);

        private double At(double rail, double output, double feedback) =>
            (rail / Ra + output / feedback) / (1 / Ra + (1 / Rb ?? 0) + 1 / feedback);
    }
}
