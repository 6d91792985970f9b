using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Differential;

/// <summary>
/// Three op amps that amplify the difference of two nodes and load neither: two with a common gain resistor, and a difference amplifier.
/// Vo = (1 + 2·R1/Rg)·(R3/R2)·(V+ − V−) + Vref (Franco, Design with Operational Amplifiers, 2.4, from memory).
/// </summary>
internal sealed class InstrumentationAmplifier : StageKind
{
    // The resistors of the difference amplifier (common practice, no source).
    private const double DifferenceOhms = 10e3, DividerOhms = 30e3;

    // A level so near to a rail or to ground, in shares of the output's span, is that of the rail or of ground.
    private const double SameShare = 1e-9;

    public override string Name => "instrumentation-amplifier";

    public override string Summary =>
        "Amplifies the difference of two nodes with three op amps, and loads neither: for a bridge or any other source with two ends.";

    internal static Setting<string> Against { get; } =
        Setting.Of("against", true, "The node that is subtracted: the other arm of a bridge.", new NodeBlank("node"));

    internal static AmountSetting CommonVolts { get; } = Amount("common",
        "Voltage of that node; a rail's own if it is one. Not used for a sensor between the two nodes.", Unit.Volts);

    internal static AmountSetting GainWanted { get; } = Amount("gain", "Output over difference; instead of maps.", Unit.None);

    private static AmountSetting Level { get; } =
        Amount("level", "Output at a difference of zero; follows from the mapping if there is one, else 0 V.", Unit.Volts);

    private static PartSetting Upper { get; } =
        Resistor("divider-upper", "Resistor of the reference's divider from that rail, Ra.");

    private static PartSetting Lower { get; } =
        Resistor("divider-lower", "Resistor of the reference's divider to ground, Rb.");

    private static PartSetting GainResistor { get; } =
        Resistor("gain-resistor", "Resistor between the minus inputs of the first two op amps, Rg.");

    private static PartSetting Feedback { get; } = Resistor("feedback", "Feedback resistors of the first two op amps, R1.");

    private static PartSetting DifferenceInput { get; } =
        Resistor("difference-input", "Resistors into the difference amplifier, R2.");

    private static PartSetting DifferenceFeedback { get; } =
        Resistor("difference-feedback", "Its feedback resistor and the one to the reference, R3.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Ends, Against, CommonVolts, Maps, GainWanted, Level, OffsetFrom, Upper, Lower,
        OpAmpOnRails("Class of the three op amps, and of the follower of the reference, and their supply rails."), PreferredResistors,
        GainResistor, Feedback, DifferenceInput, DifferenceFeedback,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, other = request.Get(Against);
        var (input, output) = request.Get(Ends);
        if (other == input)
            throw new StageProblemException("against", new(ProblemKind.SubtractsItself, name, input));
        var amp = request.Get(OpAmp).Checked();
        var (series, tolerance) = request.Preferred(PreferredResistors, ESeries.E96);
        Toleranced? Given(PartSetting setting) => request.Given(setting, tolerance);

        var mapping = request.Mapping(out var sensor);
        double common = Common(request, sensor, input, other);
        double gain = Gain(request, mapping);
        double level = mapping is null ? request.Get(Level, 0) : mapping.Output.Low - gain * (mapping.Input.Low - common);
        if (mapping is not null && request.Has(Level))
            throw new StageProblemException("level", new(ProblemKind.Follows, "", Maps.Name));

        var r = Choose(series, gain, Given(GainResistor), Given(Feedback), Given(DifferenceInput), Given(DifferenceFeedback), request);
        double built = r.Gain;
        // What rounding makes of the gain is made up for by the level in the middle of the span.
        if (mapping is not null)
            level = (mapping.Output.Low + mapping.Output.High) / 2 - built * (mapping.Input.Middle - common);
        var reference = Reference(request, level, mapping?.Output.Width ?? 1, series, tolerance, Given(Upper), Given(Lower), amp);
        var line = new LinearExpectation(built, reference.Volts - built * common);
        if (mapping is not null && Math.Max(Math.Abs(line.Output(mapping.Input.Low) - mapping.Output.Low),
            Math.Abs(line.Output(mapping.Input.High) - mapping.Output.High))
            > 2 * tolerance * mapping.Output.Width + 0.01 * mapping.Output.Width)
        {
            throw new StageProblemException("resistors", new(ProblemKind.SeriesBringsTo, name, series.Name, null,
                new(line.Output(mapping.Input.Low), Unit.Volts), new(line.Output(mapping.Input.High), Unit.Volts)));
        }

        string a = name + ".A", b = name + ".B", na = name + ".NA", nb = name + ".NB", plus = name + ".PLUS", minus = name + ".MINUS";
        Toleranced Of(double ohms, PartSetting setting) => Given(setting) ?? new(ohms, tolerance);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(amp.Part(name + ".U1", input, r.Rg is null ? a : na, a));
        parts.Add(amp.Part(name + ".U2", other, r.Rg is null ? b : nb, b));
        if (r.Rg is { } rg)
        {
            parts.Add(new ResistorPart(name + ".R1a", a, na, Of(r.R1, Feedback)) { Role = Role.FeedbackResistor });
            parts.Add(new ResistorPart(name + ".Rg", na, nb, Of(rg, GainResistor)));
            parts.Add(new ResistorPart(name + ".R1b", b, nb, Of(r.R1, Feedback)) { Role = Role.FeedbackResistor });
        }
        parts.Add(new ResistorPart(name + ".R2a", a, plus, Of(r.R2, DifferenceInput)) { Role = Role.InputResistor });
        parts.Add(new ResistorPart(name + ".R3a", plus, reference.Node, Of(r.R3, DifferenceFeedback)) { Role = Role.ReferenceResistor });
        parts.Add(new ResistorPart(name + ".R2b", b, minus, Of(r.R2, DifferenceInput)) { Role = Role.InputResistor });
        parts.Add(new ResistorPart(name + ".R3b", output, minus, Of(r.R3, DifferenceFeedback)) { Role = Role.FeedbackResistor });
        parts.Add(amp.Part(name + ".U3", plus, minus, output));
        parts.AddRange(reference.Parts);
        return new Stage(name, Name, [new("from", input), new("against", other), new("to", output)], parts.ToImmutable())
        {
            HandMath = [.. reference.HandMath, .. HandMath(r, line, reference.Volts, IsBetween(sensor, input, other)
                ? null : common, mapping, tolerance, a, b, input, output)],
            Ideal = line,
            AgainstVolts = common,
            Mapping = mapping,
        };
    }

    private static double Common(StageRequest request, Sensor? sensor, string input, string other)
    {
        if (IsBetween(sensor, input, other))
            return 0;
        if (request.TryGet(CommonVolts, out double common))
            return common;
        if (other == Circuit.Ground)
            return 0;
        if (request.Rails.FirstOrDefault(r => r.Name == other) is { } rail)
            return rail.Volts.Value;
        return request.Has(Maps) ? throw new StageProblemException("against",
            new(ProblemKind.CommonModeUnknown, other, sensor!.Name) { Known = [input] }) : 0;
    }

    // The span of a sensor between both nodes is that of the difference, whatever both of them stand at.
    private static bool IsBetween(Sensor? sensor, string input, string other) =>
        sensor is not null && sensor.Node == input && sensor.Other == other && other != Circuit.Ground;

    private static double Gain(StageRequest request, WantedMapping? mapping)
    {
        request.HasEither(Maps, GainWanted);
        double gain = mapping is null ? request.Positive(GainWanted) : mapping.Output.Width / mapping.Input.Width;
        return gain is >= 0.01 and <= 1e4 ? gain : throw new StageProblemException(mapping is null ? "gain" : "maps",
            new(ProblemKind.Gain, "", "", Quantity.Number(gain), Quantity.Number(0.01), Quantity.Number(1e4)));
    }

    private static Resistors Choose(ESeries series, double gain, Toleranced? rg, Toleranced? r1,
        Toleranced? r2, Toleranced? r3, StageRequest request)
    {
        double into = r2?.Value ?? r3?.Value ?? DifferenceOhms;
        double difference = r2 is not null && r3 is not null ? r3.Value.Value / r2.Value.Value : gain < 1 ? gain : 1;
        double[] feedbacks = r3 is { } f ? [f.Value] : difference == 1 ? [into] : series.Neighbours(into * difference);
        var found = new List<Resistors>();
        foreach (double feedback in feedbacks.Distinct())
        {
            double first = gain / (feedback / into);
            if (rg is null && r1 is null && Math.Abs(first - 1) < 0.01)
            {
                found.Add(new(null, 0, into, feedback));
                continue;
            }
            if (first <= 1 && !(rg is not null && r1 is not null))
                continue;
            foreach (double ohms in r1 is { } given ? [given.Value] : rg is { } gainResistor
                ? series.Neighbours(Math.Clamp(gainResistor.Value * (first - 1) / 2, 100, 10e6)).Distinct()
                : series.Between(10e3, 99.9e3))
            {
                foreach (double between in rg is { } g ? [g.Value]
                    : series.Neighbours(Math.Clamp(2 * ohms / (first - 1), 1, 100e6)).Distinct())
                    found.Add(new(between, ohms, into, feedback));
            }
        }
        // Of those as near as makes no difference beside the tolerances, the one with the smallest feedback resistors.
        return found.OrderBy(r => Math.Max(1e-4, Math.Abs(r.Gain / gain - 1))).ThenBy(r => r.R1).FirstOrDefault()
            ?? throw new StageProblemException(rg is not null ? "gain-resistor" : "feedback",
                new(ProblemKind.ResistorsMissGain, request.Name) { Wanted = Quantity.Number(gain) });
    }

    private sealed record ReferenceNode(string Node, double Volts, ImmutableArray<Part> Parts, ImmutableArray<HandStep> HandMath);

    private static ReferenceNode Reference(StageRequest request, double level, double scale,
        ESeries series, double tolerance, Toleranced? upper, Toleranced? lower,
        Supplied<OpAmpType> amp)
    {
        string name = request.Name;
        if (Math.Abs(level) < SameShare * scale)
            return new(Circuit.Ground, 0, [], []);
        if (!request.TryGet(OffsetFrom, out var rail))
        {
            throw new StageProblemException("offset", new(ProblemKind.NothingMakesLevel, name, "", new(level, Unit.Volts)));
        }
        double volts = rail.Volts.Value, share = volts == 0 ? double.NaN : level / volts;
        if (Math.Abs(share - 1) < SameShare && rail.SeriesOhms == 0)
            return new(rail.Name, volts, [], []);
        if (!(share > 0 && share < 1))
        {
            throw new StageProblemException("offset", new(ProblemKind.NoDividerMakes, rail.Name, "", new(level, Unit.Volts),
                High: new(volts, Unit.Volts)));
        }
        // Neither the divider nor the follower may load the difference amplifier's balance: it is held by an op amp.
        var pairs = from ra in upper is { } u ? [u.Value]
            : series.Between(DividerOhms * (1 - share) / Math.Sqrt(10), DividerOhms * (1 - share) * Math.Sqrt(10))
                    from rb in lower is { } l ? [l.Value] : series.Neighbours(ra * share / (1 - share)).Distinct()
                    orderby Math.Max(1e-4, Math.Abs(rb / (ra + rb) - share)), Math.Abs(Math.Log((ra + rb) / DividerOhms))
                    select (Upper: ra, Lower: rb);
        var pair = pairs.First();
        double built = volts * pair.Lower / (pair.Upper + pair.Lower);
        string middle = name + ".DIV", node = name + ".REF";
        return new(node, built,
            [
                new ResistorPart(name + ".Ra", rail.Name, middle, upper ?? new(pair.Upper, tolerance)),
                new ResistorPart(name + ".Rb", middle, Circuit.Ground, lower ?? new(pair.Lower, tolerance)),
                amp.Part(name + ".Ub", middle, node, node),
            ],
            [
                new("reference of the divider, held by a follower", "Vref = Vrail·Rb/(Ra + Rb)",
                    $"{ShiftHandMath.V(volts)}·{ShiftHandMath.Ohms(pair.Lower)}/({ShiftHandMath.Ohms(pair.Upper)} + "
                        + $"{ShiftHandMath.Ohms(pair.Lower)})", built, "V")
                {
                    Measure = new VoltageMeasure(node),
                    Allowed = Math.Max(2 * tolerance * Math.Abs(built), 1e-3 * Math.Abs(volts)),
                },
            ]);
    }

    private static IEnumerable<HandStep> HandMath(Resistors r, LinearExpectation line, double reference,
        double? common, WantedMapping? mapping, double tolerance,
        string a, string b, string input, string output)
    {
        string first = SiText.Plain(r.FirstGain, ""), second = SiText.Plain(r.SecondGain, "");
        yield return r.Rg is { } rg
            ? new("gain of the first two op amps", "G1 = 1 + 2·R1/Rg",
                $"1 + 2·{ShiftHandMath.Ohms(r.R1)}/{ShiftHandMath.Ohms(rg)}", r.FirstGain, "")
            : new("gain of the first two op amps, two followers", "G1 = 1", "1", 1, "");
        yield return new("gain of the difference amplifier", "G2 = R3/R2",
            $"{ShiftHandMath.Ohms(r.R3)}/{ShiftHandMath.Ohms(r.R2)}", r.SecondGain, "");
        yield return new("gain", "G = G1·G2", $"{first}·{second}", line.Gain, "")
        {
            Measure = new GainMeasure(mapping is null ? input : null, output),
            Allowed = 4 * tolerance * line.Gain,
        };
        double left = 4 * tolerance * r.SecondGain / (1 + r.SecondGain);
        yield return new("what a volt of common mode makes at the output with all resistors in the worst case", "Ac = 4·t·G2/(1 + G2)",
            $"4·{SiText.Format(tolerance, "%")}·{second}/(1 + {second})", left, "");
        yield return new("common-mode rejection with all resistors in the worst case", "CMRR = G/Ac",
            $"{SiText.Plain(line.Gain, "")}/{SiText.Plain(left, "")}", line.Gain / left, "");
        if (common is { } level && level != 0)
            yield return new("what the common mode makes at the output then", "Vc·Ac",
                $"{ShiftHandMath.V(level)}·{SiText.Plain(left, "")}", level * left, "V");
        if (mapping is null)
            yield break;
        foreach (var (end, volts) in new[] { ("lower", mapping.Input.Low), ("upper", mapping.Input.High) })
        {
            double beside = common ?? 0;
            if (r.Rg is { } between && common is not null)
            {
                double share = r.R1 / between;
                string more = $"{ShiftHandMath.V(volts - beside)}·{ShiftHandMath.Ohms(r.R1)}/{ShiftHandMath.Ohms(between)}";
                yield return new($"output of the first op amp at the {end} end", "Va = V+ + (V+ − V−)·R1/Rg",
                    $"{ShiftHandMath.V(volts)} + {more}", volts + (volts - beside) * share, "V")
                { Measure = new VoltageMeasure(a, null, volts) };
                yield return new($"output of the second op amp at the {end} end", "Vb = V− − (V+ − V−)·R1/Rg",
                    $"{ShiftHandMath.V(beside)} − {more}", beside - (volts - beside) * share, "V")
                { Measure = new VoltageMeasure(b, null, volts) };
            }
            yield return new($"output at the {end} end", "Vo = G·(V+ − V−) + Vref",
                $"{SiText.Plain(line.Gain, "")}·{ShiftHandMath.V(volts - beside)} + {ShiftHandMath.V(reference)}",
                line.Output(volts), "V")
            {
                Measure = new VoltageMeasure(output, null, volts),
                Allowed = Math.Max(4 * tolerance, 0.01) * mapping.Output.Width,
            };
        }
    }

    /// <summary>The resistors; Rg is null and R1 a wire for a first gain of one.</summary>
    private sealed record Resistors(double? Rg, double R1, double R2, double R3)
    {
        public double FirstGain => Rg is { } between ? 1 + 2 * R1 / between : 1;

        public double SecondGain => R3 / R2;

        public double Gain => FirstGain * SecondGain;
    }
}
