using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using static FrontEndSim.FrontEnds.Stages.Shifting.ShiftHandMath;

namespace FrontEndSim.FrontEnds.Stages.Filtering;

/// <summary>A low-pass of second order around a follower, after Sallen and Key (IRE Transactions CT-2, 1955, from memory).</summary>
internal sealed class SallenKey : StageKind
{
    public override string Name => "sallen-key";

    public override string Summary => "A low-pass of second order with a follower: butterworth, bessel or chebyshev, with a gain of one.";

    private static PartSetting Input { get; } = Resistor("input", "Resistor from the input, R1.");

    private static PartSetting Plus { get; } = Resistor("plus", "Resistor to the plus input, R2.");

    private static PartSetting Feedback { get; } = Capacitor("feedback", "Capacitor from the output to between the resistors, C1.");

    private static PartSetting Ground { get; } = Capacitor("ground", "Capacitor from the plus input to ground, C2.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, .. FilterTarget.Settings, OpAmp, PreferredResistors, Input, Plus, Feedback, Ground];

    protected override Stage Assemble(StageRequest request)
    {
        var target = FilterTarget.Read(request);
        var (type, positive, negative) = target.OpAmp;
        Toleranced? givenR1 = target.Given(request, Input), givenR2 = target.Given(request, Plus),
            givenC1 = target.Given(request, Feedback), givenC2 = target.Given(request, Ground);
        if (givenR1 is { } a && givenR2 is { } b)
            target = target with { Ohms = Math.Sqrt(a.Value * b.Value) };
        var v = target.Best(Candidates(target, givenR1, givenR2, givenC1, givenC2), n => n.Response, n => [n.R1, n.R2]);

        string name = request.Name, middle = name + ".MID", plus = name + ".PLUS";
        var (input, output) = request.Get(Ends);
        Toleranced r1 = target.Resistor(v.R1, givenR1), r2 = target.Resistor(v.R2, givenR2);
        var network = new OpAmpNetwork([new Leg(v.R1 + v.R2, 0, IsInput: true)], [], 0);
        string r1s = WithSource("R1", v.SourceOhms);
        string first = Ohms(v.R1 + v.SourceOhms);
        double fullScale = (positive.Volts.Value - type.Model.DropHighVolts - negative.Volts.Value - type.Model.DropLowVolts) / 2;
        double fastest = type.Model.SlewVoltsPerSecond / (2 * Math.PI * fullScale);
        return new Stage(name, Name, [new("from", input), new("to", output)],
        [
            new ResistorPart(name + ".R1", input, middle, r1) { Role = Role.FilterResistor },
            new ResistorPart(name + ".R2", middle, plus, r2) { Role = Role.FilterResistor },
            new CapacitorPart(name + ".C1", output, middle, target.Capacitor(v.C1, givenC1)),
            new CapacitorPart(name + ".C2", plus, Circuit.Ground, target.Capacitor(v.C2, givenC2)),
            target.OpAmp.Part(name + ".U1", plus, output, output),
        ])
        {
            HandMath =
            [
                .. target.HandMath(),
                .. target.Built(v.Response,
                    ($"f0 = 1/(2π·√({r1s}·R2·C1·C2))", $"1/(2π·√({first}·{Ohms(v.R2)}·{Farads(v.C1)}·{Farads(v.C2)}))"),
                    ($"Q = √({r1s}·R2·C1·C2)/(C2·({r1s} + R2))",
                        $"1/(2π·{SiText.Format(v.Response.PoleHertz, "Hz", 4)}·{Farads(v.C2)}·({first} + {Ohms(v.R2)}))"), input, output),
                new("offset that the bias current makes in the resistors", $"Vb = −Ib·({r1s} + R2)",
                    $"−{SiText.Format(type.Model.BiasAmps, "A")}·({first} + {Ohms(v.R2)})",
                        -type.Model.BiasAmps * (v.R1 + v.SourceOhms + v.R2), "V") { Measure = new BiasMeasure(name + ".U1") },
                new("highest frequency of a full swing, by the slew rate", "f = SR/(2π·V)",
                    $"{SiText.Format(type.Model.SlewVoltsPerSecond, "V/s")}/(2π·{SiText.Format(fullScale, "V")})", fastest, "Hz"),
            ],
            Ideal = new LinearExpectation(1, 0),
            Expected = network.Expected(type.Model),
        };
    }

    /// <summary>R1 + R2 = 1/(Q·ω0·C2) and R1·R2 = 1/(ω0²·C1·C2): real where C1 is at least 4·Q² times C2.</summary>
    private static IEnumerable<Values> Candidates(FilterTarget target, Toleranced? givenR1, Toleranced? givenR2,
        Toleranced? givenC1, Toleranced? givenC2)
    {
        double omega = 2 * Math.PI * target.Wanted.PoleHertz, q = target.Wanted.Quality,
            middle = 1 / (2 * q * omega * target.Ohms), least = 4 * q * q;
        foreach (double c2 in target.Farads(givenC2, middle / 5, middle * 5))
        {
            foreach (double c1 in target.Farads(givenC1, least * c2, 4 * least * c2))
            {
                double sum = 1 / (q * omega * c2), product = 1 / (omega * omega * c1 * c2), inside = sum * sum / 4 - product;
                double root = Math.Sqrt(Math.Max(0, inside));
                foreach (double r1 in target.Near(givenR1, sum / 2 + root - target.SourceOhms))
                {
                    foreach (double r2 in target.Near(givenR2, product / (r1 + target.SourceOhms))
                        .Concat(target.Near(givenR2, sum - r1 - target.SourceOhms)).Distinct())
                        yield return new(r1, r2, c1, c2, target.SourceOhms);
                }
            }
        }
    }

    private sealed record Values(double R1, double R2, double C1, double C2, double SourceOhms)
    {
        public SecondOrder Response
        {
            get
            {
                double first = R1 + SourceOhms, root = Math.Sqrt(first * R2 * C1 * C2);
                return new(1 / (2 * Math.PI * root), root / (C2 * (first + R2)));
            }
        }
    }
}
