using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Rectifying;

/// <summary>
/// Holds the highest voltage of its input: an op amp charges a capacitor through a diode inside its feedback and a resistor outside of it,
/// without which the loop would have hardly any phase margin; a follower reads it, another resistor lets it fall again.
/// </summary>
internal sealed class PeakHold : StageKind
{
    public override string Name => "peak-hold";

    public override string Summary => "Holds the highest voltage that its input has had, and lets it fall slowly.";

    private static PartSetting Hold { get; } = new("hold", true, "Capacitor that holds the voltage.", Unit.Farad);

    private static AmountSetting Decay { get; } = RequiredAmount("decay",
        "Time constant with which it falls; the resistor beside the capacitor follows from it.", Unit.Seconds);

    private static PartSetting Damping { get; } = Resistor("damping",
        "Resistor between diode and capacitor, outside of the loop, which keeps it stable; 470 ohm if left out.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends, Hold, Decay, Damping, OpAmpOnRails("Class of both op amps and their supply rails."),
        PrecisionRectifier.RectifiedBy("Type of the diode; 1N4148 if left out."), PreferredResistors,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp).Checked();
        var diode = PrecisionRectifier.Rectifier(request);
        var (type, positive, negative) = amp;
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E24);
        var hold = request.Toleranced(Hold, UsualSpread.FilterCapacitor.Amount);
        double decay = request.Positive(Decay), ohms = series.Nearest(decay / hold.Value);
        if (ohms is < 10e3 or > 100e6)
        {
            throw new StageProblemException("decay", new(ProblemKind.DecayResistor, "", "", new(ohms, Unit.Ohm), new(10e3, Unit.Ohm),
                new(100e6, Unit.Ohm))
            {
                Wanted = new(decay, Unit.Seconds),
            });
        }
        var damping = request.Toleranced(Damping, tolerance, 470);
        string drive = name + ".DRIVE", top = name + ".TOP", held = name + ".HELD";
        var sensor = request.Sensors.FirstOrDefault(s => s.Node == input)?.AsVoltage();
        double charge = type.Model.OutputLimitAmps / hold.Value, droop = 1 - Math.Exp(-1e-3 / (ohms * hold.Value));
        double bias = type.Model.BiasAmps, leak = bias * ohms;
        double gain = ohms / (ohms + damping.Value), lag = damping.Value * hold.Value;
        var line = new LinearExpectation(gain, 0);
        return new Stage(name, Name, [new("from", input), new("to", output)],
        [
            amp.Part(name + ".U1", input, top, drive),
            new DiodePart(name + ".D", drive, top, diode) { Role = Role.Rectifier },
            new ResistorPart(name + ".Rd", top, held, damping),
            new CapacitorPart(name + ".C", held, Circuit.Ground, hold),
            new ResistorPart(name + ".R", held, Circuit.Ground, new(ohms, tolerance)) { Role = Role.PullDown },
            amp.Part(name + ".U2", held, output, output),
        ])
        {
            HandMath =
            [
                new("time constant with which it falls", "τ = R·C", $"{ShiftHandMath.Ohms(ohms)}·{SiText.Format(hold.Value, "F")}",
                    ohms * hold.Value, "s"),
                new("share of the voltage that is lost in a millisecond", "d = 1 − exp(−1 ms/τ)",
                    $"1 − exp(−1 ms/{SiText.Format(ohms * hold.Value, "s")})", droop, ""),
                new("fastest rise, by the op amp's output current", "dV/dt = Imax/C",
                    $"{SiText.Format(type.Model.OutputLimitAmps, "A")}/{SiText.Format(hold.Value, "F")}", charge, "V/s"),
                new("time that a peak has to last to be held to a thousandth", "t = ln(1000)·Rd·C",
                    $"6.91·{ShiftHandMath.Ohms(damping.Value)}·{SiText.Format(hold.Value, "F")}", Math.Log(1000) * lag, "s"),
                new("time that the op amp takes from its lower limit to a peak", "t = (V+ − V−)/SR",
                    $"({ShiftHandMath.V(positive.Volts.Value)} − "
                        + $"{ShiftHandMath.V(negative.Volts.Value)})/{SiText.Format(type.Model.SlewVoltsPerSecond, "V/s")}",
                    (positive.Volts.Value - negative.Volts.Value) / type.Model.SlewVoltsPerSecond, "s"),
                new("gain, less what decay and damping resistor divide", "G = R/(R + Rd)",
                    $"{ShiftHandMath.Ohms(ohms)}/({ShiftHandMath.Ohms(ohms)} + {ShiftHandMath.Ohms(damping.Value)})", gain, "")
                { Measure = sensor is { Span.Low: >= 0 } ? new GainMeasure(input, output) : null },
                new("voltage that the follower's bias current would hold it up by itself", "Vb = Ib·R",
                    $"{SiText.Format(bias, "A")}·{ShiftHandMath.Ohms(ohms)}", leak, "V"),
                .. Held(sensor, gain, output),
            ],
            Ideal = sensor is { Span.Low: < 0 } ? null : line,
        };
    }

    private static IEnumerable<HandStep> Held(Sensor? sensor, double gain, string output)
    {
        if (sensor is null || sensor.Span.High <= 0)
            yield break;
        foreach (double volts in new[] { sensor.Span.At(0.25), sensor.Span.High }.Where(v => v > 0))
        {
            yield return new($"output at an input held at {SiText.Format(volts, "V")}", "Vo = G·Vi",
                $"{SiText.Plain(gain, "")}·{SiText.Format(volts, "V")}", gain * volts, "V")
            {
                Measure = new VoltageMeasure(output, null, volts),
                Allowed = 0.01 * sensor.Span.High,
            };
        }
    }
}
