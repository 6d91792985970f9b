using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>A transistor that pulls its output to ground while its input is high: levels of one supply to those of another,
/// inverted.</summary>
internal sealed class TransistorSwitch : StageKind
{
    // Saturation is stated at a base current of a tenth of the collector's (common practice of data sheets). A silicon junction carries
    // next to nothing below 0.4 V and stands at 0.7 V while it conducts (common practice, no source).
    private const double ForcedGain = 10, OffVolts = 0.4, OnVolts = 0.7;

    // Levels at the output: low by any logic family's input, high within a tenth of its supply.
    private const double LowVolts = 0.4, HighShare = 0.1;

    public override string Name => "transistor-switch";

    public override string Summary =>
        "Translates the levels of one supply into those of another with an npn or n-channel transistor and a pull-up, inverted.";

    private static Setting<TransistorType> Switch { get; } =
        Transistor(true, "Type of the transistor, npn or n-channel; its emitter or source is at ground.");

    private static PartSetting PullUp { get; } = Resistor("pullup", "Pull-up resistor; 10 kohm if left out.");

    private static AmountSetting High { get; } = RequiredAmount("high", "Lowest voltage of the input that is a high.", Unit.Volts);

    private static AmountSetting Low { get; } = RequiredAmount("low", "Highest voltage of the input that is a low.", Unit.Volts);

    private static PartSetting Series { get; } = Resistor("series",
        "Resistor from the input to base or gate; of E24 if left out, so that the base carries a tenth of the collector's current.");

    private static PartSetting Hold { get; } =
        Resistor("hold", "Resistor from base or gate to ground, which keeps the transistor off.");

    protected override ImmutableArray<Setting> OwnSettings { get; } =
        [Ends, Switch, OpenCollectorInput.PulledTo, PullUp, High, Low, Series, Hold];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, ground = Circuit.Ground, gate = name + ".IN";
        var (input, output) = request.Get(Ends);
        var rail = request.Get(OpenCollectorInput.PulledTo);
        double supply = rail.Volts.Value, high = request.Get(High), low = request.Get(Low);
        if (!(supply > 0))
            throw new StageProblemException("rail", new(ProblemKind.RailNotPositive, rail.Name, "pull-up", new(supply, Unit.Volts)));
        if (!(high > low))
            throw new StageProblemException("high", new(ProblemKind.InWrongOrder, "", "low", new(high, Unit.Volts), new(low, Unit.Volts)));
        var pullup = request.Toleranced(PullUp, UsualSpread.Resistor.Amount, 10e3);
        Toleranced? hold = request.Given(Hold, UsualSpread.Resistor.Amount);
        var type = request.Get(Switch);
        if (type.Stated.Polarity != Polarity.N)
        {
            throw new StageProblemException("transistor", new(ProblemKind.PullsUp, type.Name));
        }
        double collector = supply / pullup.Value, held = hold is { } h ? 1 / h.Value : 0;
        var math = ImmutableArray.CreateBuilder<HandStep>();
        math.Add(new("current of the pull-up while the output is low", $"Ic = {rail.Name}/Rc",
            $"{ShiftHandMath.V(supply)}/{ShiftHandMath.Ohms(pullup.Value)}", collector, "A"));
        var parts = ImmutableArray.CreateBuilder<Part>();
        Toleranced series;
        if (type.TakesCurrent)
        {
            double wanted = (high - OnVolts) / (collector / ForcedGain + OnVolts * held);
            if (!(wanted > 0) && !request.Has(Series))
                throw new StageProblemException("high", new(ProblemKind.HighDoesNotTurnOn, type.Name, "", new(high, Unit.Volts)));
            series = request.Given(Series, UsualSpread.Resistor.Amount)
                ?? new(ESeries.E24.Neighbours(wanted)[0], UsualSpread.Resistor.Amount);
            math.Add(new("base resistor wanted", "Rb = (Vhigh − 0.7 V)/(Ic/10 + 0.7 V/Rh)",
                $"({ShiftHandMath.V(high)} − 0.7 V)/({SiText.Format(collector / ForcedGain + OnVolts * held, "A", 3)})", wanted, "ohm"));
            double current = (high - OnVolts) / series.Value - OnVolts * held;
            math.Add(new("collector current over base current, at most 10 for a saturated transistor",
                "Ic/Ib, Ib = (Vhigh − 0.7 V)/Rb − 0.7 V/Rh",
                $"{SiText.Format(collector, "A", 3)}/{SiText.Format(current, "A", 3)}", collector / current, ""));
            double off = hold is { } to ? low * to.Value / (series.Value + to.Value) : low;
            math.Add(new("base voltage at a low, to stay below 0.4 V", hold is null ? "Vb = Vlow" : "Vb = Vlow·Rh/(Rb + Rh)",
                hold is { } toGround
                    ? $"{ShiftHandMath.V(low)}·{ShiftHandMath.Ohms(toGround.Value)}/({ShiftHandMath.Ohms(series.Value)} + "
                    + $"{ShiftHandMath.Ohms(toGround.Value)})" : ShiftHandMath.V(low), off, "V"));
            if (off > OffVolts && !request.Has(Series))
                throw new StageProblemException("low", new(ProblemKind.LowTurnsOn, type.Name, "", new(low, Unit.Volts),
                    High: new(off, Unit.Volts)));
        }
        else
        {
            series = request.Toleranced(Series, UsualSpread.Resistor.Amount, 1e3);
            double share = hold is { } to ? to.Value / (series.Value + to.Value) : 1;
            math.Add(new("gate voltage at a high", hold is null ? "Vg = Vhigh" : "Vg = Vhigh·Rh/(Rg + Rh)",
                $"{SiText.Plain(share, "")}·{ShiftHandMath.V(high)}", share * high, "V"));
            math.Add(new("gate voltage at a low", hold is null ? "Vg = Vlow" : "Vg = Vlow·Rh/(Rg + Rh)",
                $"{SiText.Plain(share, "")}·{ShiftHandMath.V(low)}", share * low, "V"));
        }
        parts.Add(new ResistorPart(name + ".Rs", input, gate, series) { Role = Role.SeriesResistor });
        parts.Add(type.Placed(name + ".Q1", output, gate, ground));
        if (hold is { } r)
            parts.Add(new ResistorPart(name + ".Rh", gate, ground, r) { Role = Role.PullDown });
        parts.Add(new ResistorPart(name + ".Rc", rail.Name, output, pullup));
        math.Add(new("output at a high, to be a low", "Vo < 0.4 V", "0", 0, "V")
        { Measure = new HeldVoltageMeasure(output, input, high), Allowed = LowVolts });
        math.Add(new("output at a low, to be a high", $"Vo = {rail.Name}", ShiftHandMath.V(supply), supply, "V")
        { Measure = new HeldVoltageMeasure(output, input, low), Allowed = HighShare * supply });
        return new Stage(name, Name, [new("from", input), new("to", output)], parts.ToImmutable()) { HandMath = math.ToImmutable() };
    }
}
