using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>An op amp as a unity follower: what drives it is not loaded, and what follows sees a low resistance.</summary>
internal sealed class BufferStage : StageKind
{
    // Beside an op amp's input resistance, 1 Mohm and more, a wire of a milliohm is none.
    private const double WireOhms = 1e-3;

    public override string Name => "buffer";

    public override string Summary => "Follows its input with an op amp at a gain of one: the source is not loaded, the output is stiff.";

    private static PartSetting Series { get; } =
        Resistor("series", "Resistor from the input to the plus input, which limits the current of a fault.");

    private static PartSetting PullDown { get; } =
        Resistor("pulldown", "Resistor from the plus input to ground, which holds it when nothing is connected.");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, OpAmp, Series, PullDown];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var amp = request.Get(OpAmp).Checked();
        Toleranced? series = request.Given(Series, UsualSpread.Resistor.Amount),
            pulldown = request.Given(PullDown, UsualSpread.Resistor.Amount);

        string plus = series is null ? input : name + ".PLUS";
        var parts = ImmutableArray.CreateBuilder<Part>();
        if (series is { } r)
            parts.Add(new ResistorPart(name + ".R", input, plus, r) { Role = Role.InputResistor });
        if (pulldown is { } rp)
            parts.Add(new ResistorPart(name + ".Rp", plus, Circuit.Ground, rp) { Role = Role.PullDown });
        parts.Add(amp.Part(name + ".U1", plus, output, output));

        var network = new OpAmpNetwork(
            [new Leg(series?.Value ?? WireOhms, 0, IsInput: true), .. pulldown is { } p ? [new Leg(p.Value, 0)] : Array.Empty<Leg>()],
                [], 0);
        // A pull-down at the input itself is a load on what drives it, and not on this stage's gain.
        var ideal = series is null ? new LinearExpectation(1, 0) : network.Ideal();
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable())
        {
            HandMath = [.. HandMath(series, pulldown, ideal, network, amp, plus, output, name + ".U1")],
            Ideal = ideal,
            Expected = network.Expected(amp.Type.Model),
        };
    }

    private static IEnumerable<HandStep> HandMath(Toleranced? series, Toleranced? pulldown,
        LinearExpectation ideal, OpAmpNetwork network, Supplied<OpAmpType> supplied, string plus, string output, string amp)
    {
        var (type, positive, negative) = supplied;
        var model = type.Model;
        if (series is { } r && pulldown is { } rp)
            yield return new("gain", "G = Rp/(R + Rp)",
                $"{ShiftHandMath.Ohms(rp.Value)}/({ShiftHandMath.Ohms(r.Value)} + {ShiftHandMath.Ohms(rp.Value)})", ideal.Gain, "");
        else
            yield return new("gain of a follower", "G = 1", "1", 1, "");
        double loop = model.OpenLoopGain / (1 + model.OpenLoopGain);
        yield return new("share that the op amp's finite gain leaves of it", "A/(1 + A)",
            $"{SiText.Format(model.OpenLoopGain, "")}/(1 + {SiText.Format(model.OpenLoopGain, "")})",
            loop, "")
        { Measure = new GainMeasure(plus, output) };
        if (series is not null)
            yield return new("offset that the bias current makes in the resistance at the plus input", "Vb = −Ib·R+",
                $"−{SiText.Format(model.BiasAmps, "A")}·{ShiftHandMath.Ohms(network.PlusOhms)}", -model.BiasAmps * network.PlusOhms, "V")
            { Measure = new BiasMeasure(amp) };
        // Both the inputs and the output stand at the signal: the narrower of the two limits at each end holds.
        double high = Math.Max(model.DropHighVolts, model.CommonModeHighVolts),
            low = Math.Max(model.DropLowVolts, model.CommonModeLowVolts);
        yield return new("highest voltage that it follows", "V = V+ − larger of output drop and input margin",
            $"{ShiftHandMath.V(positive.Volts.Value)} − {ShiftHandMath.V(high)}", positive.Volts.Value - high, "V");
        yield return new("lowest voltage that it follows", "V = V− + larger of output drop and input margin",
            $"{ShiftHandMath.V(negative.Volts.Value)} + {ShiftHandMath.V(low)}", negative.Volts.Value + low, "V");
    }
}
