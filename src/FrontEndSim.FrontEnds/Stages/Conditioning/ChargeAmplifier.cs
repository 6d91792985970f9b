using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>
/// A charge into a voltage, Vo = Vp − Q/Cf, above the corner 1/(2π·Rf·Cf) that the feedback resistor makes, without which the bias current
/// would carry the output to its end (Franco, Design with Operational Amplifiers, from memory).
/// </summary>
internal sealed class ChargeAmplifier : StageKind
{
    public override string Name => "charge-amplifier";

    public override string Summary =>
        "Turns the charge of a piezoelectric sensor into a voltage, whatever the capacitance of its cable; passes what is faster than its "
        + "corner.";

    private static Setting<(double Volts, double Coulombs)> Reaches { get; } = Setting.Of("reaches", false,
        "How far the output moves for a charge; the feedback capacitor follows from it.",
        new QuantityBlank("value", Unit.Volts), "for", new QuantityBlank("charge", Unit.Coulomb));

    private static PartSetting Feedback { get; } = Capacitor("capacitor", "Feedback capacitor, Cf; instead of reaches.");

    private static AmountSetting Corner { get; } =
        Amount("corner", "Below this frequency the output falls off; instead of feedback.", Unit.Hertz);

    private static PartSetting FeedbackResistor { get; } = Resistor("feedback", "Feedback resistor, Rf; instead of corner.");

    private static PartSetting Series { get; } = Resistor("series",
        "Resistor into the input, Rs, which guards it and with the source's capacitance sets an upper corner; none if left out.");

    private static Setting<Rail> About { get; } = Setting.Of("about", false,
        "The rail that the plus input stands at, and the output without a signal; ground if left out.", new RailBlank("rail"));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Reaches, Feedback, Corner, FeedbackResistor, Series, About, OpAmp, PreferredResistors];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp).Checked();
        var about = request.Get(About, new(Circuit.Ground, 0));
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E24);
        request.HasEither(Reaches, Feedback);
        request.HasEither(Corner, FeedbackResistor);
        double wanted = 0;
        if (request.TryGet(Reaches, out var reaches))
        {
            wanted = Math.Abs(reaches.Coulombs / reaches.Volts);
            if (!(wanted is >= 1e-13 and <= 1e-3))
                throw new StageProblemException(Reaches.Name, new(ProblemKind.FeedbackCapacitor, Found: new(wanted, Unit.Farad)));
        }
        var capacitor = request.Given(Feedback, UsualSpread.FilterCapacitor.Amount)
            ?? new Toleranced(ESeries.E12.Nearest(wanted), UsualSpread.FilterCapacitor.Amount);
        double cf = capacitor.Value;
        double corner = request.Has(Corner) ? request.Positive(Corner) : 0;
        var resistor = request.Given(FeedbackResistor, tolerance)
            ?? new Toleranced(series.Nearest(1 / (2 * Math.PI * corner * cf)), tolerance);
        double rf = resistor.Value, bias = amp.Type.MostBiasAmps(0) * rf;
        var into = request.Given(Series, tolerance);
        string sum = into is null ? input : name + ".SUM";
        return new Stage(name, Name, [new("from", input), new("to", output)],
        [
            .. into is { } rs ? [new ResistorPart(name + ".Rs", input, sum, rs) { Role = Role.SeriesResistor }] : Array.Empty<Part>(),
            new CapacitorPart(name + ".Cf", output, sum, capacitor),
            new ResistorPart(name + ".Rf", output, sum, resistor) { Role = Role.FeedbackResistor },
            amp.Part(name + ".U1", about.Name, sum, output),
        ])
        {
            HandMath = [.. HandMath(reaches, wanted, cf, rf, corner, bias, about.Volts.Value, output, request.Has(Reaches))],
        };
    }

    private static IEnumerable<HandStep> HandMath((double Volts, double Coulombs) reaches, double wanted, double cf, double rf,
        double corner, double bias, double rest, string output, bool isChosen)
    {
        string c = SiText.Format(cf, "F"), r = ShiftHandMath.Ohms(rf);
        if (isChosen)
        {
            yield return new("feedback capacitor wanted", "Cf = Q/V",
                $"{SiText.Format(reaches.Coulombs, "As")}/{ShiftHandMath.V(reaches.Volts)}", wanted, "F");
        }
        yield return new("output for a charge of 1 nAs", "V = Q/Cf", $"1 nAs/{c}", 1e-9 / cf, "V");
        if (corner > 0)
        {
            yield return new("feedback resistor wanted", "Rf = 1/(2π·fc·Cf)", $"1/(2π·{SiText.Format(corner, "Hz")}·{c})",
                1 / (2 * Math.PI * corner * cf), "ohm");
        }
        yield return new("lower corner", "fc = 1/(2π·Rf·Cf)", $"1/(2π·{r}·{c})", 1 / (2 * Math.PI * rf * cf), "Hz");
        yield return new("what the largest bias current makes of the output", "Ib·Rf", $"{SiText.Format(bias / rf, "A")}·{r}", bias, "V");
        yield return new("output at the operating point", "Vo = Vp + Ib·Rf", $"{ShiftHandMath.V(rest)}", rest, "V")
        { Measure = new VoltageMeasure(output), Allowed = bias + 0.01 };
        yield return new("time after which a shock has died away to a hundredth", "t = 4.6·Rf·Cf",
            $"4.6·{r}·{c}", Math.Log(100) * rf * cf, "s");
    }
}
