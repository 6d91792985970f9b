using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;
using MathNet.Numerics.RootFinding;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>
/// A current into a voltage, Vo = Vp − I·Rf, with a capacitor beside the resistor that keeps the loop stable against the source's
/// capacitance (Graeme, Photodiode Amplifiers, 1996, from memory).
/// </summary>
internal sealed class Transimpedance : StageKind
{
    // What a step response without much overshoot takes (common practice, no source).
    private const double WantedDegrees = 60, LeastFarads = 1e-12;

    public override string Name => "transimpedance";

    public override string Summary =>
        "Turns the current of a photodiode or another source into a voltage; the feedback capacitor follows from the source's capacitance.";

    private static AmountSetting Reaches { get; } =
        Amount("reaches", "Output at the sensor's largest current; the feedback resistor follows from it.", Unit.Volts);

    private static PartSetting Feedback { get; } = Resistor("feedback", "Feedback resistor, Rf; instead of reaches.");

    private static PartSetting Beside { get; } =
        Capacitor("capacitor", "Capacitor beside it, Cf; the smallest of E12 that leaves 60° of phase margin if left out.");

    private static Setting<Rail> About { get; } = Setting.Of("about", false,
        "The rail that the plus input stands at, and the output without a current; ground if left out.", new RailBlank("rail"));

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, Reaches, Feedback, Beside, About, OpAmp, PreferredResistors];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp).Checked();
        var about = request.Get(About, new(Circuit.Ground, 0));
        double rest = about.Volts.Value;
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        var sensor = request.Sensors.FirstOrDefault(s => s.Node == input && s.Output == Unit.Amps);
        request.HasEither(Reaches, Feedback);
        double[] amps = sensor is null ? [] : [sensor.OutputAt(sensor.Span.Low), sensor.OutputAt(sensor.Span.High)];
        var feedback = request.Given(Feedback, tolerance)
            ?? new Toleranced(series.Nearest(Wanted(request, sensor, amps, rest)), tolerance);
        double rf = feedback.Value, source = sensor?.Farads ?? 0;
        var capacitor = request.Given(Beside, UsualSpread.FilterCapacitor.Amount)
            ?? new Toleranced(Chosen(rf, source, amp.Type.Model), UsualSpread.FilterCapacitor.Amount);
        double cf = capacitor.Value;
        return new Stage(name, Name, [new("from", input), new("to", output)],
        [
            new ResistorPart(name + ".Rf", output, input, feedback) { Role = Role.FeedbackResistor },
            new CapacitorPart(name + ".Cf", output, input, capacitor),
            amp.Part(name + ".U1", about.Name, input, output),
        ])
        {
            HandMath = [.. HandMath(request, sensor, amps, rest, feedback, cf, source, amp.Type.Model, name, output)],
        };
    }

    private static double Wanted(StageRequest request, Sensor? sensor, double[] amps, double rest)
    {
        double reaches = request.Get(Reaches);
        if (sensor is null)
            throw new StageProblemException("reaches", new(ProblemKind.NoCurrentInto, request.Get(Ends).Input));
        double largest = amps.MaxBy(Math.Abs), ohms = (rest - reaches) / largest;
        return ohms > 0 && double.IsFinite(ohms) ? ohms : throw new StageProblemException("reaches",
            new(ProblemKind.CurrentWrongWay, "", "", new(largest, Unit.Amps), new(rest, Unit.Volts)) { Wanted = new(reaches, Unit.Volts) });
    }

    private static double Chosen(double rf, double source, OpAmpModel model)
    {
        if (PhaseMargin(rf, LeastFarads, source, model).Degrees >= WantedDegrees)
            return LeastFarads;
        return ESeries.E12.Between(LeastFarads, 1e-6).Cast<double?>()
            .FirstOrDefault(c => PhaseMargin(rf, c!.Value, source, model).Degrees >= WantedDegrees)
            ?? throw new StageProblemException("capacitor",
                new(ProblemKind.NoStableCapacitor, High: new(1e-6, Unit.Farad)) { Wanted = Quantity.Number(WantedDegrees) });
    }

    /// <summary>
    /// Where the noise gain (1 + jωRf·(Cf + Cs))/(1 + jωRf·Cf) meets the open-loop gain of the op amp, GBW/jf with its excess phase, and
    /// what is left of 180° there.
    /// </summary>
    internal static (double Hertz, double Degrees) PhaseMargin(double rf, double cf, double source, OpAmpModel model)
    {
        double own = model.PhaseMarginDegrees * Math.PI / 180, second = model.PhaseMarginDegrees < 90
            ? model.GainBandwidthHertz * Math.Sin(own) * Math.Tan(own) : double.PositiveInfinity;
        Complex Loop(double f)
        {
            Complex s = new(0, 2 * Math.PI * f);
            return model.GainBandwidthHertz / new Complex(0, f) / (1 + new Complex(0, f / second))
                * (1 + s * rf * cf) / (1 + s * rf * (cf + source));
        }
        double hertz = Math.Exp(Brent.FindRoot(log => Math.Log(Loop(Math.Exp(log)).Magnitude), Math.Log(1e-3),
            Math.Log(10 * model.GainBandwidthHertz), 1e-12));
        return (hertz, 180 + Loop(hertz).Phase * 180 / Math.PI);
    }

    private static IEnumerable<HandStep> HandMath(StageRequest request, Sensor? sensor, double[] amps,
        double rest, Toleranced feedback, double cf, double source, OpAmpModel model,
        string name, string output)
    {
        double rf = feedback.Value;
        string r = ShiftHandMath.Ohms(rf), c = SiText.Format(cf, "F"), gbw = SiText.Format(model.GainBandwidthHertz, "Hz");
        if (request.TryGet(Reaches, out double reaches))
        {
            yield return new("feedback resistor wanted", "Rf = (Vp − Vo)/I",
                $"({ShiftHandMath.V(rest)} − {ShiftHandMath.V(reaches)})/{SiText.Format(amps.MaxBy(Math.Abs), "A")}",
                Wanted(request, sensor, amps, rest), "ohm");
        }
        if (source > 0)
        {
            yield return new("where the noise gain begins to rise", "fz = 1/(2π·Rf·(Cf + Cs))",
                $"1/(2π·{r}·({c} + {SiText.Format(source, "F")}))", 1 / (2 * Math.PI * rf * (cf + source)), "Hz");
            yield return new("noise gain above the corner", "1 + Cs/Cf", $"1 + {SiText.Format(source, "F")}/{c}", 1 + source / cf, "");
        }
        yield return new("where the feedback's impedance falls", "fp = 1/(2π·Rf·Cf)", $"1/(2π·{r}·{c})",
            1 / (2 * Math.PI * rf * cf), "Hz")
        { Measure = sensor is null ? null : new CornerMeasure(null, output) };
        var (crossing, margin) = PhaseMargin(rf, cf, source, model);
        yield return new("crossing of noise gain and open-loop gain", "|1 + jωRf(Cf + Cs)|/|1 + jωRf·Cf| = |A|",
            $"A of {gbw}/f with its excess phase", crossing, "Hz");
        yield return new("phase margin there", "φ = 180° + arg(A) + arctan(ωRf·Cf) − arctan(ωRf·(Cf + Cs))",
            $"at {SiText.Format(crossing, "Hz", 4)}", margin, "°")
        { Measure = new PhaseMarginMeasure(name + ".U1") };
        if (sensor is null)
            yield break;
        foreach (double current in amps)
        {
            yield return new($"output at {SiText.Format(current, "A")}", "Vo = Vp − I·Rf",
                $"{ShiftHandMath.V(rest)} − {SiText.Format(current, "A")}·{r}", rest - current * rf, "V")
            {
                Measure = new VoltageMeasure(output, null, current),
                Allowed = (feedback.Tolerance + 0.01) * amps.Max(Math.Abs) * rf,
            };
        }
    }
}
