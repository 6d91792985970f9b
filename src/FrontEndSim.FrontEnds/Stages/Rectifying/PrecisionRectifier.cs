using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Rectifying;

/// <summary>
/// A rectifier whose diodes stand in the feedback of an op amp, so that their forward voltage makes no error: half-wave, max(0, −Vi), or
/// with a second op amp the absolute value, |Vi| (Franco, Design with Operational Amplifiers, 9.4, from memory).
/// </summary>
internal sealed class PrecisionRectifier : StageKind
{
    private const string UsualDiode = "1N4148";

    // Exact in every series from E24 on, and so is twice as much (common practice, no source).
    private const double UsualOhms = 10e3;

    public override string Name => "precision-rectifier";

    public override string Summary =>
        "Rectifies without the loss of a diode's forward voltage: the absolute value of its input, or half of the wave.";

    private static Setting<bool> IsFull { get; } = Setting.Of("wave", true,
        "full for the absolute value of the input, half for the negative inputs alone, inverted.",
        OneOf("part", ("full", true), ("half", false)));

    private static AmountSetting Impedance { get; } =
        Amount("impedance", "The smaller of its resistors, R; 10 kohm if left out.", Unit.Ohm);

    /// <summary>The type of diode of a rectifier.</summary>
    internal static Setting<DiodeType> RectifiedBy(string help) => Diode("diode", help, DiodeKind.Junction, DiodeKind.Schottky);

    /// <summary>The type that is asked for, or the usual one.</summary>
    /// <exception cref="StageProblemException">The catalogue lacks the usual one.</exception>
    internal static DiodeType Rectifier(StageRequest request) => request.TryGet(RectifiedBy(""), out var diode) ? diode
        : request.Catalogue.FindDiode(UsualDiode, DiodeKind.Junction)
            ?? throw new StageProblemException("diode", new(ProblemKind.NoSuch, UsualDiode, "diode type"));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends, IsFull, OpAmpOnRails("Class of the op amps and their supply rails; they work about ground, so that one rail is negative."),
        RectifiedBy("Type of both diodes; 1N4148 if left out."), PreferredResistors, Impedance,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, ground = Circuit.Ground;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp).CheckedAtGround();
        bool full = request.Get(IsFull);
        var diode = Rectifier(request);
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        double small = series.Nearest(request.Positive(Impedance, UsualOhms)), large = series.Nearest(2 * small);
        var sensor = request.Sensors.FirstOrDefault(s => s.Node == input)?.AsVoltage();
        double source = sensor?.SourceOhms ?? 0;

        string minus = name + ".MINUS", drive = name + ".DRIVE", half = full ? name + ".HALF" : output, sum = name + ".SUM";
        Toleranced r = new(small, tolerance), twice = new(large, tolerance), outer = full ? twice : r;
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new ResistorPart(name + ".R1", input, minus, outer) { Role = Role.InputResistor });
        parts.Add(new ResistorPart(name + ".R2", half, minus, outer) { Role = Role.FeedbackResistor });
        // The half of the wave that is rectified comes out negative ahead of a summing stage, positive where it is the output.
        parts.Add(new DiodePart(name + ".D1", full ? half : drive, full ? drive : half, diode) { Role = Role.Rectifier });
        parts.Add(new DiodePart(name + ".D2", full ? drive : minus, full ? minus : drive, diode) { Role = Role.Rectifier });
        parts.Add(amp.Part(name + ".U1", ground, minus, drive));
        if (full)
        {
            parts.Add(new ResistorPart(name + ".R3", half, sum, r));
            parts.Add(new ResistorPart(name + ".R4", input, sum, twice) { Role = Role.InputResistor });
            parts.Add(new ResistorPart(name + ".R5", output, sum, twice) { Role = Role.FeedbackResistor });
            parts.Add(amp.Part(name + ".U2", ground, sum, output));
        }
        double left = 1 / (1 + source * (full ? 2 / large : 1 / small));
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable())
        {
            HandMath = [.. HandMath(full, sensor, left, large / small / 2, small, source, tolerance, diode, amp.Type, output)],
        };
    }

    private static IEnumerable<HandStep> HandMath(bool full, Sensor? sensor, double left, double ratio,
        double small, double source, double tolerance, DiodeType diode,
        OpAmpType type, string output)
    {
        if (source > 0)
        {
            yield return new("what the source resistance leaves of the input", full ? "k = 1/(1 + Rs/R)" : "k = 1/(1 + Rs/R1)",
                $"1/(1 + {ShiftHandMath.Ohms(source)}/{ShiftHandMath.Ohms(small)})", left, "");
        }
        double drop = DiodeCurve.ForwardVolts(diode.Model, 1e-3);
        yield return new("time that the op amp takes from one diode to the other", "t = 2·Vd/SR",
            $"2·{SiText.Format(drop, "V", 3)}/{SiText.Format(type.Model.SlewVoltsPerSecond, "V/s")}",
                2 * drop / type.Model.SlewVoltsPerSecond, "s");
        if (sensor is null)
            yield break;
        double peak = Math.Max(Math.Abs(sensor.Span.Low), Math.Abs(sensor.Span.High));
        double[] inputs = [sensor.Span.Low, sensor.Span.At(0.25), sensor.Span.Middle, sensor.Span.At(0.75), sensor.Span.High];
        foreach (double volts in inputs)
        {
            // The half of the wave that passes the first op amp is counted twice, less the other way straight through.
            double found = full ? volts > 0 ? left * volts * (2 * ratio - 1) : -left * volts : Math.Max(0, -left * volts);
            yield return new($"output at an input of {SiText.Format(volts, "V")}", full
                ? $"Vo = |{(source > 0 ? "k·" : "")}Vi|" : $"Vo = max(0, −{(source > 0 ? "k·" : "")}Vi)",
                full ? $"|{SiText.Format(left * volts, "V")}|" : $"max(0, {SiText.Format(-left * volts, "V")})", found, "V")
            {
                Measure = new VoltageMeasure(output, null, volts),
                Allowed = (full ? 6 : 2) * tolerance * peak,
            };
        }
    }
}
