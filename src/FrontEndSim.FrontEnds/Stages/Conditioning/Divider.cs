using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>Two resistors that bring a voltage too large for a pin down to a share of itself: k = R2/(R1 + Rs + R2).</summary>
internal sealed class Divider : StageKind
{
    // Where the lower end that is asked for strays from the ratio by more than this share of the span, it is no divider's.
    private const double Rounding = 0.01;

    public override string Name => "divider";

    public override string Summary => "Divides a voltage that is too large for the pin, with two resistors: 0 V stays 0 V.";

    private static AmountSetting Ratio { get; } =
        Amount("ratio", "Output over input, such as 0.1 or 10 %; instead of maps.", Unit.None);

    /// <summary>About what the output's resistance shall be.</summary>
    internal static AmountSetting Impedance { get; } =
        Amount("impedance", "About what the output's resistance shall be; 4.7 kohm if left out.", Unit.Ohm);

    /// <summary>The resistor from the input to the output.</summary>
    internal static PartSetting Input { get; } = Resistor("input", "Resistor from the input to the output, R1.", "R1");

    private static PartSetting Ground { get; } = Resistor("ground", "Resistor from the output to ground, R2.", "R2");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, Maps, Ratio, Impedance, PreferredResistors, Input, Ground];

    protected override Stage Assemble(StageRequest request)
    {
        var (target, sensor) = Target(request);
        var (first, second) = (target.Given(request, Input), target.Given(request, Ground));
        RefuseImpedance(request, Input, Ground);
        var values = target.Mapping is null
            ? new Pair(first?.Value ?? throw Missing(request), second?.Value ?? throw Missing(request), target.SourceOhms)
            : Choose(target, request, first, second);
        var (input, output) = request.Get(Ends);
        return new Stage(request.Name, Name, [new("from", input), new("to", output)],
        [
            new ResistorPart(request.Name + ".R1", input, output, first ?? target.Chosen(values.R1)) { Role = Role.InputResistor },
            new ResistorPart(request.Name + ".R2", output, Circuit.Ground, second
                ?? target.Chosen(values.R2)) { Role = Role.ResistorToGround },
        ])
        {
            HandMath = [.. HandMath(values, target, sensor, request.Name, input, output)],
            Ideal = values.Line,
            Expected = values.Line,
            Mapping = sensor is null ? null : target.Mapping,
        };
    }

    /// <summary>The target, with a ratio turned into a mapping, and the sensor whose span it is; without a sensor, a span of 1 V stands for
    /// it.</summary>
    private static (ShiftTarget Target, Sensor? Sensor) Target(StageRequest request)
    {
        var target = ShiftTarget.Read(request);
        if (!request.TryGet(Ratio, out double ratio))
        {
            CheckEnds(target);
            request.Mapping(out var mapped);
            return (target, mapped);
        }
        if (target.Mapping is not null)
            throw new StageProblemException("ratio", new(ProblemKind.NotBoth, request.Name) { Known = ["maps", "ratio"] });
        if (!(ratio is > 0 and < 1))
            throw new StageProblemException("ratio", new(ProblemKind.Ratio, Found: Quantity.Number(ratio)));
        var sensor = request.Sensors.FirstOrDefault(s => s.Node == request.Get(Ends).Input)?.AsVoltage();
        var span = sensor?.Span ?? new Span(0, 1);
        return (target with
        {
            Mapping = new(sensor?.Name ?? "", span, new(ratio * span.Low, ratio * span.High)),
            SourceOhms = sensor?.SourceOhms ?? 0,
        }, sensor);
    }

    private static void CheckEnds(ShiftTarget target)
    {
        if (target.Mapping is not { } map)
            return;
        if (Math.Abs(target.Offset) > Rounding * map.Output.Width)
        {
            // The end that lies further from 0 V says what ratio was meant.
            double ratio = Math.Abs(map.Input.High) >= Math.Abs(map.Input.Low) ? map.Output.High / map.Input.High
                : map.Output.Low / map.Input.Low;
            var problem = new Problem(ProblemKind.DividerShifts, map.Sensor, "", new(target.Offset, Unit.Volts));
            throw new StageProblemException("maps", ratio is not (> 0 and < 1) ? problem : problem with
            {
                Low = new(ratio * map.Input.Low, Unit.Volts),
                High = new(ratio * map.Input.High, Unit.Volts),
            });
        }
        if (target.Gain >= 1)
            throw new StageProblemException("maps", new(ProblemKind.DividerAmplifies, Found: Quantity.Number(target.Gain)));
    }

    /// <summary>Refuses a target for a resistance that follows from a resistor that is given.</summary>
    /// <exception cref="StageProblemException">Both are given.</exception>
    internal static void RefuseImpedance(StageRequest request, params ReadOnlySpan<PartSetting> given)
    {
        foreach (var setting in given)
        {
            if (request.Has(Impedance) && request.Has(setting))
                throw new StageProblemException(Impedance.Name, new(ProblemKind.Follows, "", setting.Name));
        }
    }

    private static Pair Choose(ShiftTarget target, StageRequest request, Toleranced? first, Toleranced? second)
    {
        double ratio = target.Gain, impedance = request.Positive(Impedance, 4.7e3);
        var candidates = second is { } fixedGround
            ? target.Near(first, fixedGround.Value * (1 - ratio) / ratio - target.SourceOhms)
                .Select(r1 => new Pair(r1, fixedGround.Value, target.SourceOhms))
            : from r1 in target.Decade(first, impedance / ratio / Math.Sqrt(10))
              from r2 in target.Near(null, (r1 + target.SourceOhms) * ratio / (1 - ratio))
              select new Pair(r1, r2, target.SourceOhms);
        return target.Best(candidates, n => n.Line, n => Math.Abs(Math.Log(n.OutputOhms / impedance)));
    }

    private static StageProblemException Missing(StageRequest request) => new(null, new(ProblemKind.NothingWanted, request.Name, "ratio"));

    private static IEnumerable<HandStep> HandMath(Pair n, ShiftTarget target, Sensor? sensor, string name, string input, string output)
    {
        string r1 = ShiftHandMath.Ohms(n.R1), r2 = ShiftHandMath.Ohms(n.R2);
        string source = ShiftHandMath.WithSource("R1", n.SourceOhms);
        string first = n.SourceOhms > 0 ? $"({r1} + {ShiftHandMath.Ohms(n.SourceOhms)})" : r1;
        double k = n.Line.Gain;
        if (target.Mapping is { } map)
        {
            if (sensor is not null)
                yield return new("ratio wanted", "k = (Vo,high − Vo,low)/(Vi,high − Vi,low)",
                    $"({ShiftHandMath.V(map.Output.High)} − {ShiftHandMath.V(map.Output.Low)})/({ShiftHandMath.V(map.Input.High)} − "
                        + $"{ShiftHandMath.V(map.Input.Low)})", target.Gain, "")
                { IsTarget = true };
            yield return new("resistor to ground wanted", $"R2 = {source}·k/(1 − k)",
                $"{first}·{SiText.Format(target.Gain, "")}/(1 − {SiText.Format(target.Gain, "")})",
                (n.R1 + n.SourceOhms) * target.Gain / (1 - target.Gain), "ohm");
        }
        yield return new("ratio", $"k = R2/({source.Trim('(', ')')} + R2)", $"{r2}/({first.Trim('(', ')')} + {r2})", k, "");
        yield return new("output resistance", $"Ro = {source} ∥ R2", $"{first} ∥ {r2}", n.OutputOhms,
            "ohm")
        { Measure = new ResistanceMeasure(output) };
        yield return new("load on what drives it", "Ri = R1 + R2", $"{r1} + {r2}", n.R1 + n.R2, "ohm")
        {
            Measure = sensor?.Node == input
            ? new ResistanceMeasure(input, sensor.Name) : null
        };
        if (sensor is null)
            yield break;
        double most = Math.Abs(sensor.Span.High) >= Math.Abs(sensor.Span.Low) ? sensor.Span.High : sensor.Span.Low;
        double amps = most / (n.R1 + n.SourceOhms + n.R2);
        yield return new("power of R1 at the far end", "P = (Vi/ΣR)²·R1",
            $"({ShiftHandMath.V(most)}/{ShiftHandMath.Ohms(n.R1 + n.SourceOhms + n.R2)})²·{r1}", amps * amps * n.R1, "W")
        { Measure = new PowerMeasure(name + ".R1", most) };
        foreach (var step in ShiftHandMath.Ends(target, n.Line))
            yield return step;
    }

    private sealed record Pair(double R1, double R2, double SourceOhms)
    {
        public double OutputOhms => 1 / (1 / (R1 + SourceOhms) + 1 / R2);

        public LinearExpectation Line => new(R2 / (R1 + SourceOhms + R2), 0);
    }
}
