using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using static FrontEndSim.FrontEnds.Stages.Shifting.ShiftHandMath;

namespace FrontEndSim.FrontEnds.Stages.Filtering;

/// <summary>An inverting low-pass of second order with two ways of feedback.</summary>
internal sealed class MultipleFeedback : StageKind
{
    public override string Name => "multiple-feedback";

    public override string Summary =>
        "An inverting low-pass of second order with gain, about a rail or ground: butterworth, bessel or chebyshev.";

    private static AmountSetting Gain { get; } = Amount("gain", "How much it amplifies beside inverting; 1 if left out.", Unit.None);

    private static Setting<Rail> About { get; } = Setting.Of("about", false,
        "The rail that the plus input stands at, about which the signal is inverted; ground if left out.", new RailBlank("rail"));

    private static PartSetting Input { get; } = Resistor("input", "Resistor from the input, R1.");

    private static PartSetting Feedback { get; } = Resistor("feedback", "Resistor from the output, R2.");

    private static PartSetting Minus { get; } = Resistor("minus", "Resistor to the minus input, R3.");

    private static PartSetting Ground { get; } = Capacitor("ground", "Capacitor from between the resistors to ground, C1.");

    private static PartSetting FeedbackCapacitor { get; } =
        Capacitor("feedback-capacitor", "Capacitor from the output to the minus input, C2.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, .. FilterTarget.Settings, Gain, About, OpAmp, PreferredResistors, Input, Feedback, Minus, Ground, FeedbackCapacitor];

    protected override Stage Assemble(StageRequest request)
    {
        var target = FilterTarget.Read(request);
        double gain = request.Positive(Gain, 1);
        if (gain is < 0.01 or > 100)
            throw new StageProblemException("gain",
                new(ProblemKind.InvertedGain, "", "", Quantity.Number(gain), Quantity.Number(0.01), Quantity.Number(100)));
        var about = request.Get(About, new(Circuit.Ground, 0));
        var given = new Given(target.Given(request, Input), target.Given(request, Feedback), target.Given(request, Minus),
            target.Given(request, Ground), target.Given(request, FeedbackCapacitor));
        var v = target.Best(Candidates(target, given, gain), n => n.Response, n => [n.R2, n.R3]);

        string name = request.Name, middle = name + ".MID", minus = name + ".MINUS";
        var (input, output) = request.Get(Ends);
        double first = v.R1 + v.SourceOhms, built = v.R2 / first;
        var line = new LinearExpectation(-v.R2 / v.R1, (1 + v.R2 / v.R1) * about.Volts.Value);
        string r1s = WithSource("R1", v.SourceOhms);
        return new Stage(name, Name, [new("from", input), new("to", output)],
        [
            new ResistorPart(name + ".R1", input, middle, target.Resistor(v.R1, given.R1)) { Role = Role.InputResistor },
            new ResistorPart(name + ".R2", output, middle, target.Resistor(v.R2, given.R2)) { Role = Role.FeedbackResistor },
            new ResistorPart(name + ".R3", middle, minus, target.Resistor(v.R3, given.R3)) { Role = Role.FilterResistor },
            new CapacitorPart(name + ".C1", middle, Circuit.Ground, target.Capacitor(v.C1, given.C1)),
            new CapacitorPart(name + ".C2", output, minus, target.Capacitor(v.C2, given.C2)),
            target.OpAmp.Part(name + ".U1", about.Name, minus, output),
        ])
        {
            HandMath =
            [
                .. target.HandMath(),
                new("DC gain", $"G = −R2/{r1s}", $"−{Ohms(v.R2)}/{Ohms(first)}", -built, "")
                {
                    Measure = new GainMeasure(null, output) { IsFromSensor = target.Sensor is not null },
                    Allowed = 2 * target.ResistorTolerance * built,
                },
                .. target.Built(v.Response,
                    ("f0 = 1/(2π·√(R2·R3·C1·C2))", $"1/(2π·√({Ohms(v.R2)}·{Ohms(v.R3)}·{Farads(v.C1)}·{Farads(v.C2)}))"),
                    ($"Q = √(R2·R3·C1·C2)/(C2·(R2 + R3 + R2·R3/{r1s}))",
                        $"1/(2π·{SiText.Format(v.Response.PoleHertz, "Hz", 4)}·{Farads(v.C2)}·({Ohms(v.R2)} + {Ohms(v.R3)} + "
                            + $"{Ohms(v.R2)}·{Ohms(v.R3)}/{Ohms(first)}))"), input, output),
            ],
            Ideal = line,
            Expected = Expected(v, about.Volts.Value, target.OpAmp.Type),
        };
    }

    /// <summary>At the operating point it is an inverting stage whose bias current flows through R3 as well: Vb = Ib·(R2 + R3·(1 +
    /// R2/R1)) in place of
    /// Ib·R2.</summary>
    private static LinearExpectation Expected(Values v, double about, OpAmpType type)
    {
        // The T of R1, R2 and R3 as seen at the minus input and the output: star into triangle.
        double sum = v.R1 * v.R2 + v.R2 * v.R3 + v.R3 * v.R1, toInput = sum / v.R2, toOutput = sum / v.R1;
        return new OpAmpNetwork([new Leg(1e-3, about)], [new Leg(toInput, 0, IsInput: true)], toOutput).Expected(type.Model);
    }

    /// <summary>
    /// With H the gain: R2 from C2·R2² − A·R2 + (1 + H)·B/C1 = 0, A = 1/(Q·ω0), B = 1/ω0², R3 = B/(R2·C1·C2), R1 = R2/H; real where C1 is
    /// at
    /// least 4·Q²·(1 + H) times C2.
    /// </summary>
    private static IEnumerable<Values> Candidates(FilterTarget target, Given given, double gain)
    {
        double omega = 2 * Math.PI * target.Wanted.PoleHertz, q = target.Wanted.Quality, a = 1 / (q * omega),
            b = 1 / (omega * omega), least = 4 * q * q * (1 + gain);
        double middle = 1 / (2 * q * omega * target.Ohms);
        foreach (double c2 in target.Farads(given.C2, middle / 5, middle * 5))
        {
            foreach (double c1 in target.Farads(given.C1, least * c2, 4 * least * c2))
            {
                double r2Wanted = (a + Math.Sqrt(Math.Max(0, a * a - 4 * c2 * (1 + gain) * b / c1))) / (2 * c2);
                foreach (double r2 in target.Near(given.R2, r2Wanted))
                {
                    foreach (double r1 in target.Near(given.R1, r2 / gain - target.SourceOhms))
                    {
                        foreach (double r3 in target.Near(given.R3, b / (r2 * c1 * c2)))
                        {
                            // The gain is wanted as closely as the resistors of the series come.
                            if (given.R1 is not null || Math.Abs(r2 / (r1 + target.SourceOhms) / gain - 1) < 2
                                * target.Resistors.UsualTolerance)
                                yield return new(r1, r2, r3, c1, c2, target.SourceOhms);
                        }
                    }
                }
            }
        }
    }

    private sealed record Given(Toleranced? R1, Toleranced? R2, Toleranced? R3, Toleranced? C1, Toleranced? C2);

    private sealed record Values(double R1, double R2, double R3, double C1, double C2, double SourceOhms)
    {
        public SecondOrder Response
        {
            get
            {
                double root = Math.Sqrt(R2 * R3 * C1 * C2);
                return new(1 / (2 * Math.PI * root), root / (C2 * (R2 + R3 + R2 * R3 / (R1 + SourceOhms))));
            }
        }
    }
}
