using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;
using static FrontEndSim.FrontEnds.Stages.Differential.InstrumentationAmplifier;

namespace FrontEndSim.FrontEnds.Stages.Differential;

/// <summary>
/// An instrumentation amplifier in one part, with its gain resistor: Vo = (1 + Ro/Rg)·(V+ − V−) + Vref (data sheets of the classes in the
/// catalogue).
/// </summary>
internal sealed class BridgeAmplifier : StageKind
{
    public override string Name => "bridge-amplifier";

    public override string Summary =>
        "Amplifies the difference of two nodes with an instrumentation amplifier in one part, and loads neither; its gain resistor is "
        + "chosen.";

    private static Setting<Rail> About { get; } = Setting.Of("about", false,
        "The stiff rail that the reference pin stands at, and the output without a difference; ground if left out.", new RailBlank("rail"));

    private static SuppliedSetting<InAmpType> Amplifier { get; } = new("in-amp", true,
        "Class of the instrumentation amplifier and its supply rails.",
        new NameBlank<InAmpType>("type", "class of instrumentation amplifier", "precision-in-amp",
            c => c.Types.OfType<InAmpType>().Select(t => new Choice<InAmpType>(t.Name, () => t)), t => t.Name));

    private static PartSetting GainResistor { get; } = Resistor("gain-resistor", "Resistor between the gain pins, Rg; chosen if left out.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Against, CommonVolts, Maps, GainWanted, About, Amplifier, PreferredResistors, GainResistor];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, other = request.Get(Against);
        var (input, output) = request.Get(Ends);
        if (other == input)
            throw new StageProblemException(Against.Name, new(ProblemKind.SubtractsItself, name, input));
        var (type, positive, negative) = request.Get(Amplifier);
        double supply = positive.Volts.Value - negative.Volts.Value;
        if (!(supply >= type.SupplyVolts.Low && supply <= type.SupplyVolts.High))
        {
            throw new StageProblemException(Amplifier.Name, new(ProblemKind.SupplyOutside, type.Name, "", new(supply, Unit.Volts),
                new(type.SupplyVolts.Low, Unit.Volts), new(type.SupplyVolts.High, Unit.Volts)));
        }
        var about = request.Get(About, new(Circuit.Ground, 0));
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        var mapping = request.Mapping(out var sensor);
        request.HasEither(Maps, GainWanted);
        bool isBetween = sensor is not null && sensor.Node == input && sensor.Other == other && other != Circuit.Ground;
        double common = isBetween ? 0 : request.TryGet(CommonVolts, out double given) ? given
            : request.Rails.FirstOrDefault(r => r.Name == other)?.Volts.Value ?? 0;
        double wanted = mapping is null ? request.Positive(GainWanted) : mapping.Output.Width / mapping.Input.Width;
        if (!(wanted >= 1 && wanted <= 1e4))
        {
            throw new StageProblemException(mapping is null ? GainWanted.Name : Maps.Name,
                new(ProblemKind.Gain, "", "", Quantity.Number(wanted), Quantity.Number(1), Quantity.Number(1e4)));
        }
        // Within a thousandth of one no resistor is fitted.
        Toleranced? resistor = request.Given(GainResistor, tolerance)
            ?? (wanted < 1.001 ? null : new Toleranced(series.Nearest(type.GainOhms / (wanted - 1)), tolerance));
        double gain = type.Gain(resistor?.Value ?? double.PositiveInfinity), rest = about.Volts.Value;
        var line = new LinearExpectation(gain, rest - gain * common);
        double allowed = 2 * tolerance + type.GainError + 0.01;
        if (mapping is not null && Math.Max(Math.Abs(line.Output(mapping.Input.Low) - mapping.Output.Low),
            Math.Abs(line.Output(mapping.Input.High) - mapping.Output.High)) > allowed * mapping.Output.Width)
        {
            throw new StageProblemException(Maps.Name, new(ProblemKind.ReferenceBringsTo, name, "", new(rest, Unit.Volts),
                new(line.Output(mapping.Input.Low), Unit.Volts), new(line.Output(mapping.Input.High), Unit.Volts)));
        }
        string atPlus = name + ".GP", atMinus = name + ".GM";
        var part = new InAmpPart(name + ".U1", input, other, output, about.Name, positive.Name, negative.Name, type)
        {
            GainPins = resistor is null ? null : (atPlus, atMinus),
        };
        return new Stage(name, Name, [new("from", input), new("against", other), new("to", output)],
            [part, .. resistor is { } ohms ? [new ResistorPart(name + ".Rg", atPlus, atMinus, ohms)] : Array.Empty<Part>()])
        {
            HandMath = [.. HandMath(type, resistor, line, rest, common, mapping, allowed, wanted, input, output, tolerance)],
            Ideal = line,
            Mapping = mapping,
        };
    }

    private static IEnumerable<HandStep> HandMath(InAmpType type, Toleranced? resistor, LinearExpectation line, double rest,
        double common, WantedMapping? mapping, double allowed, double wanted, string input, string output, double tolerance)
    {
        string own = ShiftHandMath.Ohms(type.GainOhms), g = SiText.Plain(line.Gain, "");
        if (resistor is { } rg)
        {
            yield return new("gain resistor wanted", "Rg = Ro/(G − 1)", $"{own}/({SiText.Plain(wanted, "")} − 1)",
                type.GainOhms / (wanted - 1), "ohm");
            yield return new("gain", "G = 1 + Ro/Rg", $"1 + {own}/{ShiftHandMath.Ohms(rg.Value)}", line.Gain, "")
            { Measure = new GainMeasure(mapping is null ? input : null, output), Allowed = allowed * line.Gain };
        }
        else
        {
            yield return new("gain without a resistor", "G = 1", "1", 1, "")
            { Measure = new GainMeasure(mapping is null ? input : null, output), Allowed = allowed };
        }
        yield return new("gain's largest error", "t + e", $"{SiText.Format(tolerance, "%")} + {SiText.Format(type.GainError, "%")}",
            tolerance + type.GainError, "");
        double rejection = Math.Pow(10, type.RejectionDecibels / 20) * line.Gain;
        yield return new("least common-mode rejection", "CMRR = G·10^(CMRR1/20)",
            $"{g}·10^({SiText.Plain(type.RejectionDecibels, "dB")}/20)", rejection, "");
        if (common != 0)
        {
            yield return new("what the common mode makes at the output at most", "Vc·G/CMRR",
                $"{ShiftHandMath.V(common)}·{g}/{SiText.Plain(rejection, "")}", common * line.Gain / rejection, "V");
        }
        yield return new("largest offset at the output", "G·Vi + Vo",
            $"{g}·{ShiftHandMath.V(type.MostOffsetVolts)} + {ShiftHandMath.V(type.MostOutputOffsetVolts)}",
            line.Gain * type.MostOffsetVolts + type.MostOutputOffsetVolts, "V");
        if (mapping is null)
            yield break;
        foreach (var (end, volts) in new[] { ("lower", mapping.Input.Low), ("upper", mapping.Input.High) })
        {
            yield return new($"output at the {end} end", "Vo = G·(V+ − V−) + Vref",
                $"{g}·{ShiftHandMath.V(volts - common)} + {ShiftHandMath.V(rest)}", line.Output(volts), "V")
            { Measure = new VoltageMeasure(output, null, volts), Allowed = allowed * mapping.Output.Width };
        }
    }
}
