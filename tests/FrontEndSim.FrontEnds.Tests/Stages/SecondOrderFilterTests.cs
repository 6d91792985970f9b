using System.Collections.Immutable;
using System.Numerics;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>Filters of second order: the engine against the closed form of their values, and both against what was asked for.</summary>
public class SecondOrderFilterTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VMID", 2.5), new("VDD", 5)];

    // Fast enough that its own pole is far beyond what is looked at: gain errors of 1e-9 at a megahertz.
    private static readonly OpAmpType Fast = IdealOpAmp.Like(IdealOpAmp.Model with
    { GainBandwidthHertz = 1e15, SlewVoltsPerSecond = 1e15 });

    private static Stage Build(string kind, Sensor sensor, params (string Key, object Value)[] settings)
    {
        var values = new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "OUT",
            ["opamp.type"] = "ideal",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        };
        foreach (var (key, value) in settings)
            values[key] = value;
        return Asked.Of(kind, "s", values, Rails, [sensor],
            PartCatalogue.Standard with { OpAmps = [Fast, .. PartCatalogue.Standard.OpAmps] }).Build();
    }

    private static Quantity Hertz(double value) => new(value, Unit.Hertz);

    private static Quantity Number(double value) => new(value, Unit.None);

    private static FrontEnd With(Sensor sensor, Stage stage) => new() { Rails = Rails, Sensors = [sensor], Stages = [stage] };

    // Natural coefficients of second-order low-passes, H = 1/(1 + a·s + b·s²), normalised to the 3 dB corner: the filter tables of
    // "Op Amps for Everyone" (Texas Instruments, SLOD006, chapter 16), from memory, to their last digit.
    [Theory]
    [InlineData("butterworth", 0, 1.4142, 1.0000)]
    [InlineData("bessel", 0, 1.3617, 0.6180)]
    [InlineData("chebyshev", 0.5, 1.3614, 1.3827)]
    [InlineData("chebyshev", 1, 1.3022, 1.5515)]
    [InlineData("chebyshev", 2, 1.1813, 1.7775)]
    [InlineData("chebyshev", 3, 1.0650, 1.9305)]
    public void Each_response_has_the_coefficients_of_the_handbook(string response, double ripple, double a, double b)
    {
        var stage = Build("sallen-key", new("probe", "IN", new(-1, 1), 0), [("response.shape", response), ("corner.value", Hertz(1e3)),
            .. ripple > 0 ? [("ripple.value", (object)Number(ripple))] : Array.Empty<(string, object)>()]);
        double q = stage.HandMath[0].Result, share = 1e3 / stage.HandMath[1].Result; // fc/f0 = √b
        Assert.Equal(b, share * share, 0.00006);
        Assert.Equal(a, share / q, 0.00006);
    }

    public static TheoryData<string, string, double, double, double> Filters
    {
        get
        {
            var data = new TheoryData<string, string, double, double, double>();
            foreach (string kind in new[] { "sallen-key", "multiple-feedback" })
            {
                foreach (var (response, corner, source, gain) in new[]
                    { ("butterworth", 1e3, 0.0, 1.0), ("bessel", 50, 220, 1), ("chebyshev", 20e3, 50, 4), ("butterworth", 3.4e3, 1e3, 10) })
                    data.Add(kind, response, corner, source, kind == "sallen-key" ? 1 : gain);
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Filters))]
    public void The_engine_follows_the_closed_form_of_the_values_chosen_to_a_millionth(string kind, string response, double corner,
        double source, double gain)
    {
        var sensor = new Sensor("probe", "IN", new(-0.1, 0.1), source);
        var stage = Build(kind, sensor, [("response.shape", response), ("corner.value", Hertz(corner)),
            .. kind == "sallen-key" ? Array.Empty<(string, object)>() : [("gain.value", Number(gain))]]);
        double R(string name) => stage.Parts.OfType<ResistorPart>().Single(p => p.Name == "s." + name).Ohms.Value;
        double C(string name) => stage.Parts.OfType<CapacitorPart>().Single(p => p.Name == "s." + name).Farads.Value;
        // Independent of the stage's own formulas: node equations of the ladder, solved for an op amp that holds its inputs equal.
        Complex Response(double hertz)
        {
            Complex s = Complex.ImaginaryOne * 2 * Math.PI * hertz;
            double y1 = 1 / (R("R1") + source);
            if (kind == "sallen-key")
            {
                // OUT = V+; V+·(1/R2 + s·C2) = VM/R2; (VM − VI)·y1 + (VM − V+)/R2 + (VM − OUT)·s·C1 = 0.
                var up = 1 + s * C("C2") * R("R2");
                return y1 / (up * y1 + (up - 1) / R("R2") + (up - 1) * s * C("C1"));
            }
            // VM/R3 = −s·C2·OUT; (VM − VI)·y1 + (VM − OUT)/R2 + VM·s·C1 + VM/R3 = 0.
            var m = -s * C("C2") * R("R3");
            return y1 / (m * (y1 + 1 / R("R2") + s * C("C1") + 1 / R("R3")) - 1 / R("R2"));
        }
        double[] at = [.. Enumerable.Range(-10, 31).Select(k => corner * Math.Pow(10, k / 10.0))];
        Complex[] found = With(sensor, stage).ToCircuit().Compile().SolveSmallSignal("probe", at, TestContext.Current.CancellationToken)
            .Response("OUT");
        for (int k = 0; k < at.Length; k++)
            Assert.True((found[k] - Response(at[k])).Magnitude < 1e-6 * Response(at[k])
                .Magnitude, $"{at[k]} Hz: {found[k]} and not {Response(at[k])}");
        // What was asked for is met to what two resistors of 1 % and two capacitors of 5 % may be off by: 6 %.
        Assert.Equal(1 / Math.Sqrt(2), Response(corner).Magnitude / Response(0).Magnitude, 0.06);
        Assert.Equal(gain, Response(0).Magnitude, 0.02 * gain);
        foreach (var step in ExplainStudy.Run(With(sensor, stage), cancel: TestContext.Current.CancellationToken)
            .Stages[0].Steps.Where(s => s.Step.Measure is not null and not BiasMeasure))
            Assert.Equal(step.Step.Result, step.Simulated!.Value, 1e-6 * Math.Abs(step.Step.Result));
    }

    [Fact]
    public void A_filter_inverts_about_its_rail()
    {
        var sensor = new Sensor("voice", "IN", new(2.2, 2.8), 0);
        var stage = Build("multiple-feedback", sensor, ("response.shape", "bessel"), ("corner.value", Hertz(1e3)),
            ("gain.value", Number(2)), ("about.rail", "VMID"));
        double[] outputs = With(sensor, stage).ToCircuit().Compile().Sweep("voice", [2.2, 2.5, 2.8]).Voltage("OUT");
        double gain = -stage.Ideal!.Gain;
        Assert.Equal(2.5 + 0.3 * gain, outputs[0], 1e-9);
        Assert.Equal(2.5, outputs[1], 1e-9);
        Assert.Equal(2.5 - 0.3 * gain, outputs[2], 1e-9);
    }

    [Theory]
    [InlineData("sallen-key")]
    [InlineData("multiple-feedback")]
    public void A_real_op_amp_s_offset_agrees_with_the_closed_form(string kind)
    {
        var sensor = new Sensor("probe", "IN", new(-1, 1), 0);
        var stage = Build(kind, sensor, ("response.shape", "butterworth"), ("corner.value", Hertz(1e3)), ("opamp.type", "bipolar-general"));
        double[] outputs = With(sensor, stage).ToCircuit().Compile().Sweep("probe", [-1, 1]).Voltage("OUT");
        Assert.Equal(stage.Expected!.Output(-1), outputs[0], 1e-6);
        Assert.Equal(stage.Expected!.Output(1), outputs[1], 1e-6);
    }

    [Theory]
    [InlineData("jfet-input", 1e3, true)]
    [InlineData("precision-bipolar", 300e3, false)] // 0.6 MHz of gain-bandwidth is no hundred times Q·corner
    public void A_filter_that_its_op_amp_is_too_slow_for_is_not_met(string opAmp, double corner, bool met)
    {
        var sensor = new Sensor("probe", "IN", new(-1, 1), 50);
        var stage = Build("sallen-key", sensor, ("response.shape", "butterworth"), ("corner.value", Hertz(corner)),
            ("impedance.value", new Quantity(2e3, Unit.Ohm)), ("opamp.type", opAmp));
        var result = CheckStudy.Run(With(sensor, stage), cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is StagesAsAsked);
        Assert.Equal(met, result.Met);
    }

    [Fact]
    public void A_ripple_of_what_has_none_is_refused() =>
        Assert.Throws<StageProblemException>(() => Build("sallen-key", new("probe", "IN", new(-1, 1), 0),
        ("response.shape", "bessel"), ("ripple.value", Number(1)), ("corner.value", Hertz(1e3))));
}
