using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>The hand calculation of a two-stage shifter, and what is expected of it.</summary>
internal sealed record ShifterMath(string Stage, string Output, ShifterValues Values, ShiftTarget Target, OpAmpType Type,
    ResistorPart? Compensation1, ResistorPart? Compensation2)
{
    private string First => Stage + ".OUT1";

    /// <summary>
    /// Both stages with the op amp's gain, offset and bias currents: an inverting stage with input terms −Σ(Rf/Ri)·vi and noise
    /// gain N = 1 + Rf/(R1 ∥ Rr) gives v = (−Σ + N·(Vos − Ib⁺·Rc) + Ib⁻·Rf) / (1 + N/A)
    /// (the handbook form; input resistance and output resistance are left out, which matter by the inverse of the loop gain).
    /// </summary>
    public LinearExpectation Expected()
    {
        var first = Inverting(Values.FirstGain, Values.ReferenceGain * (Target.Reference?.ExpectedVolts ?? 0), Values.Feedback.Value,
            1 + Values.FirstGain + Values.ReferenceGain, Compensation1);
        var second = Inverting(Values.SecondGain, 0, Values.SecondFeedback.Value, 1 + Values.SecondGain, Compensation2);
        return new(second.Gain * first.Gain, second.Output(first.OffsetVolts));
    }

    private LinearExpectation Inverting(double gain, double shift, double feedbackOhms, double noiseGain, ResistorPart? compensation)
    {
        var model = Type.Model;
        double plus = model.OffsetVolts - (model.BiasAmps + model.OffsetAmps / 2) * (compensation?.Ohms.Value ?? 0);
        double minusAmps = model.BiasAmps - model.OffsetAmps / 2;
        double loop = 1 + noiseGain / model.OpenLoopGain;
        return new(-gain / loop, (-shift + noiseGain * plus + minusAmps * feedbackOhms) / loop);
    }

    public ImmutableArray<HandStep> Steps()
    {
        var steps = ImmutableArray.CreateBuilder<HandStep>();
        var v = Values;
        if (Target.Mapping is { } map)
        {
            double gain = map.Output.Width / map.Input.Width;
            steps.Add(new("gain wanted", "G = (Vhigh − Vlow) / (Shigh − Slow)",
                $"G = ({V(map.Output.High)} − {V(map.Output.Low)}) / ({V(map.Input.High)} − ({V(map.Input.Low)}))", gain, "")
            { IsTarget = true });
            steps.Add(new("shift wanted", "K = Vlow − G · Slow",
                $"K = {V(map.Output.Low)} − {N(gain)} · ({V(map.Input.Low)})", map.Output.Low - gain * map.Input.Low, "V")
            { IsTarget = true });
        }
        steps.Add(new("input resistance with the sensor's source", "R1' = R1 + Rs",
            $"R1' = {ShiftHandMath.Ohms(v.Input.Value)} + {ShiftHandMath.Ohms(v.SourceOhms)}", v.InputTotal, "ohm"));
        steps.Add(new("first stage, gain for the sensor", "a = −Rf1 / R1'",
            $"a = −{ShiftHandMath.Ohms(v.Feedback.Value)} / {ShiftHandMath.Ohms(v.InputTotal)}", -v.FirstGain, "")
        { Measure = new GainMeasure(null, First) });
        if (v.Reference is not null)
        {
            string named = ShiftReference.NameOf("Rr", Target.Reference);
            steps.AddRange(Target.Reference?.HandMath ?? []);
            steps.Add(new("first stage, gain for the reference", $"b = −Rf1 / {named}",
                $"b = −{ShiftHandMath.Ohms(v.Feedback.Value)} / {ShiftHandMath.Ohms(v.ReferenceTotal!.Value)}", -v.ReferenceGain, "")
            {
                Measure = Target.Reference is { } from && from.RailVolts != 0 && from.Volts != 0
                    ? new RailGainMeasure(from.Rail, First, from.Volts / from.RailVolts) : null,
            });
        }
        steps.Add(new("second stage, gain", "c = −Rf2 / R2",
            $"c = −{ShiftHandMath.Ohms(v.SecondFeedback.Value)} / {ShiftHandMath.Ohms(v.SecondInput.Value)}",
            -v.SecondGain, "")
        { Measure = new GainMeasure(First, Output) });
        var ideal = v.Ideal;
        steps.Add(new("gain reached", "G = a · c", $"G = {N(-v.FirstGain)} · {N(-v.SecondGain)}", ideal.Gain, ""));
        if (v.Reference is not null)
        {
            steps.Add(new("shift reached", "K = b · c · Vref",
                $"K = {N(-v.ReferenceGain)} · {N(-v.SecondGain)} · {V(Target.ReferenceVolts)}", ideal.OffsetVolts, "V"));
        }
        if (Target.Mapping is { } ends)
        {
            steps.Add(new("output at the lower end", "V = G · Slow + K",
                $"V = {N(ideal.Gain)} · ({V(ends.Input.Low)}) + {V(ideal.OffsetVolts)}",
                ideal.Output(ends.Input.Low), "V"));
            steps.Add(new("output at the upper end", "V = G · Shigh + K",
                $"V = {N(ideal.Gain)} · {V(ends.Input.High)} + {V(ideal.OffsetVolts)}",
                ideal.Output(ends.Input.High), "V"));
        }
        if (Compensation1 is { } rc1)
            steps.Add(new("compensation of the first stage", "Rc1 = R1' ∥ Rr ∥ Rf1",
                $"Rc1 = {ShiftHandMath.Ohms(v.Parallel1)}, nearest {ShiftHandMath.Ohms(rc1.Ohms.Value)}", v.Parallel1, "ohm"));
        if (Compensation2 is { } rc2)
            steps.Add(new("compensation of the second stage", "Rc2 = R2 ∥ Rf2",
                $"Rc2 = {ShiftHandMath.Ohms(v.Parallel2)}, nearest {ShiftHandMath.Ohms(rc2.Ohms.Value)}", v.Parallel2, "ohm"));
        return steps.ToImmutable();
    }

    private static string V(double volts) => SiText.Format(volts, "V");

    private static string N(double number) => SiText.Format(number, "");
}
