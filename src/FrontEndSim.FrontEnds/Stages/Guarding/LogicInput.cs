using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Pins;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A gate that reads a node, and an indicator that shows what it reads.</summary>
internal sealed class LogicInput : StageKind
{
    public override string Name => "logic-input";

    public override string Summary =>
        "Reads a node with a logic gate and shows it with an indicator. Set a pin-guard ahead of it, and a pin of the gate's family at "
        + "its input.";

    private static Setting<(PinType Family, Rail Rail)> Gate { get; } = Setting.Of("gate", true,
        "Family of the gate and the rail that supplies it; one with hysteresis keeps slow edges clean.",
        new NameBlank<PinType>("family", "logic family", "cmos-hc-hysteresis",
            _ => PinType.All.Where(t => t.Gate is not null).Select(t => new Choice<PinType>(t.Name, () => t)), t => t.Name),
        "on", new RailBlank("rail"));

    private static Setting<bool> Inverts { get; } = Setting.Flag("inverts", "The gate's output is low while its input is high.");

    private static Setting<(DiodeType Type, double Amps)> IndicatorHigh { get; } =
        Indicator("indicator-high", "Indicator from the output to ground, lit while the output is high, and its current.");

    private static Setting<(DiodeType Type, double Amps)> IndicatorLow { get; } =
        Indicator("indicator-low", "Indicator from the rail to the output, lit while the output is low, and its current.");

    private static SeriesSetting IndicatorResistors { get; } = new("resistors",
        "Series of preferred numbers and tolerance of the indicators' resistors; E24 and 5 % if left out.");

    private static Setting<(DiodeType Type, double Amps)> Indicator(string name, string help) =>
        Setting.Of(name, false, help, DiodeBlank(DiodeKind.Led), "at", new QuantityBlank("amps", Unit.Amps));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Gate, Inverts, IndicatorHigh, IndicatorLow, IndicatorResistors];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name;
        var (input, output) = request.Get(Ends);
        var (type, rail) = request.Get(Gate);
        double supply = rail.Volts.Value;
        if (supply < type.Supply.Low || supply > type.Supply.High)
        {
            throw new StageProblemException("gate", new(ProblemKind.SupplyOutside, type.Name, "", new(supply, Unit.Volts),
                new(type.Supply.Low, Unit.Volts), new(type.Supply.High, Unit.Volts)));
        }
        var gate = type.Gate!;
        var parts = ImmutableArray.CreateBuilder<Part>();
        var math = ImmutableArray.CreateBuilder<HandStep>();
        parts.Add(new GatePart(name + ".U", input, output, rail.Name, type, request.Has(Inverts)));
        math.Add(Threshold("rising threshold, typical", "V+", gate.RisingShare, gate.RisingVolts,
            gate.Rising(supply), rail) with
        { Measure = new ThresholdMeasure(name + ".U", true) });
        if (type.HasHysteresis)
        {
            math.Add(Threshold("falling threshold, typical", "V−", gate.FallingShare, gate.FallingVolts,
                gate.Falling(supply), rail) with
            { Measure = new ThresholdMeasure(name + ".U", false) });
            math.Add(new("hysteresis, typical", "H = V+ − V−", $"H = {V(gate.Rising(supply))} − {V(gate.Falling(supply))}",
                gate.Rising(supply) - gate.Falling(supply), "V")
            { Measure = new ThresholdMeasure(name + ".U", null) });
        }
        var (series, tolerance) = request.Preferred(IndicatorResistors, ESeries.E24, UsualSpread.Resistor.Amount);
        foreach (bool high in new[] { true, false })
        {
            var setting = high ? IndicatorHigh : IndicatorLow;
            if (!request.TryGet(setting, out var indicator))
                continue;
            var (led, amps) = indicator;
            double forward = DiodeCurve.ForwardVolts(led.Model, amps);
            if (!(amps > 0) || !(supply > forward))
            {
                throw new StageProblemException(setting.Name, !(amps > 0)
                    ? new(ProblemKind.NotAbove, Found: new(amps, Unit.Amps), Low: new(0, Unit.Amps))
                    : new Problem(ProblemKind.IndicatorTakes, rail.Name, "", new(forward, Unit.Volts), High: new(supply, Unit.Volts))
                    {
                        Wanted = new(amps, Unit.Amps),
                    });
            }
            double wanted = (supply - forward) / amps - gate.OutputOhms;
            if (!(wanted > 0))
                throw new StageProblemException(setting.Name, new(ProblemKind.GateLimits, "", "", new(gate.OutputOhms, Unit.Ohm),
                    High: new((supply - forward) / gate.OutputOhms, Unit.Amps)));
            double ohms = series.Nearest(wanted);
            string suffix = high ? "h" : "l", middle = $"{name}.{(high ? "high" : "low")}";
            parts.Add(new ResistorPart($"{name}.R{suffix}", high ? output : rail.Name, middle, new(ohms, tolerance)));
            parts.Add(new DiodePart($"{name}.D{suffix}", middle, high ? Circuit.Ground : output, led));
            math.Add(new($"forward voltage of the indicator at {SiText.Format(amps, "A")}", "Vf from its curve", led.Name, forward, "V"));
            math.Add(new("resistor wanted", $"R{suffix} = ({rail.Name} − Vf) / I − Rgate",
                $"R{suffix} = ({V(supply)} − {V(forward)}) / {SiText.Format(amps, "A")} − {SiText.Format(gate.OutputOhms, "ohm")}",
                    wanted, "ohm"));
            math.Add(new("current with the value chosen", $"I = ({rail.Name} − Vf) / (R{suffix} + Rgate)",
                $"I = ({V(supply)} − {V(forward)}) / ({SiText.Format(ohms, "ohm")} + {SiText.Format(gate.OutputOhms, "ohm")})",
                    (supply - forward) / (ohms + gate.OutputOhms), "A")
            {
                // Lit while the output is high: the input high, or low if the gate inverts.
                Measure = new HeldCurrentMeasure($"{name}.D{suffix}", input, high != request.Has(Inverts) ? supply : 0),
            });
        }
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable()) { HandMath = math.ToImmutable() };
    }

    private static HandStep Threshold(string what, string symbol, double share, double volts, double result, Rail rail) => share == 0
        ? new(what, $"{symbol}, fixed", V(volts), result, "V")
        : new(what, $"{symbol} = {SiText.Format(share, "%", 3)} of {rail.Name}",
            $"{symbol} = {SiText.Plain(share, "", 3)} · {V(rail.Volts.Value)}", result, "V");

    private static string V(double volts) => SiText.Format(volts, "V", 3);
}
