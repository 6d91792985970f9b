using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Stages.Shifting;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>Keeps what follows from a source that is connected the wrong way round: a diode in series, or a p-channel transistor.</summary>
internal sealed class ReverseProtection : StageKind
{
    public override string Name => "reverse-protection";

    public override string Summary =>
        "Keeps a source that is connected the wrong way round from what follows, with a diode in series or a p-channel transistor that "
        + "loses less.";

    private static Setting<DiodeType> InSeries { get; } =
        Diode("diode", "Type of a diode in series.", DiodeKind.Schottky, DiodeKind.Junction);

    private static Setting<TransistorType> Channel { get; } =
        Transistor(false, "Type of a p-channel transistor in series, drain at the source, instead of the diode.");

    private static PartSetting Gate { get; } = Resistor("gate", "Resistor from the transistor's gate to ground; 100 kohm if left out.");

    private static Setting<DiodeType> Zener { get; } =
        Diode("zener", "Zener from the gate to what follows, which bounds the voltage of the gate.", DiodeKind.Zener);

    private static AmountSetting Load { get; } = RequiredAmount("load", "Largest current of what follows.", Unit.Amps, "amps");

    protected override ImmutableArray<Setting> OwnSettings { get; } = [Ends, InSeries, Channel, Gate, Zener, Load];

    protected override Stage Assemble(StageRequest request)
    {
        string name = request.Name, gate = name + ".G";
        var (input, output) = request.Get(Ends);
        double load = request.Get(Load);
        if (!(load > 0))
            throw new StageProblemException("load", new(ProblemKind.NotAbove, Found: new(load, Unit.Amps), Low: new(0, Unit.Amps)));
        request.HasEither(InSeries, Channel);
        var sensor = request.Sensors.FirstOrDefault(s => s.Node == input)?.AsVoltage();
        double open = sensor?.Span.Middle ?? 0, fed = open - load * (sensor?.SourceOhms ?? 0);
        ImmutableArray<Part> parts;
        var math = ImmutableArray.CreateBuilder<HandStep>();
        double drop;
        if (request.TryGet(InSeries, out var diode))
        {
            if (request.Has(Zener) || request.Has(Gate))
                throw new StageProblemException(request.Has(Zener) ? Zener.Name : Gate.Name, new(ProblemKind.DiodeHasNoGate));
            parts = [new DiodePart(name + ".D", input, output, diode) { Role = Role.Rectifier }];
            drop = DiodeCurve.ForwardVolts(diode.Model, load);
            math.Add(new("forward voltage at the largest current", "Vf from its curve",
                $"{diode.Name} at {SiText.Format(load, "A")}", drop, "V"));
            math.Add(new("power of the diode there", "P = Vf·I", $"{SiText.Format(drop, "V", 3)}·{SiText.Format(load, "A")}",
                drop * load, "W"));
        }
        else
        {
            if (request.Get(Channel) is not MosType { Sheet.Polarity: Polarity.P } type)
                throw new StageProblemException("transistor", new(ProblemKind.NotPChannel, request.Get(Channel).Name));
            var resistor = request.Toleranced(Gate, UsualSpread.Resistor.Amount, 100e3);
            parts =
            [
                new MosPart(name + ".Q", input, gate, output, type),
                new ResistorPart(name + ".Rg", gate, Circuit.Ground, resistor) { Role = Role.PullDown },
                .. request.TryGet(Zener, out var zener)
                    ? [new DiodePart(name + ".Dz", gate, output, zener) { Role = Role.Zener }] : Array.Empty<Part>(),
            ];
            var m = type.Model;
            // The channel at first: 1/(β·(Vgs − Vth)), with what is in series.
            double channel = fed > m.ThresholdVolts ? 1 / (m.AmpsPerSquareVolt * (fed - m.ThresholdVolts)) + type.SeriesOhms
                : double.PositiveInfinity;
            if (double.IsInfinity(channel) && sensor is not null)
                throw new StageProblemException("transistor", new(ProblemKind.BelowThreshold, type.Name, "", new(fed, Unit.Volts),
                    new(m.ThresholdVolts, Unit.Volts)));
            drop = load * channel;
            if (sensor is not null)
            {
                math.Add(new("resistance of the channel", "Ron = 1/(β·(V − Vth)) + Rs",
                    $"1/({SiText.Plain(m.AmpsPerSquareVolt, "A/V²")}·({ShiftHandMath.V(fed)} − {ShiftHandMath.V(m.ThresholdVolts)})) + "
                    + ShiftHandMath.Ohms(type.SeriesOhms), channel, "ohm"));
                math.Add(new("power of the transistor at the largest current", "P = I²·Ron",
                    $"({SiText.Format(load, "A")})²·{SiText.Format(channel, "ohm", 3)}", load * drop, "W"));
            }
        }
        double lasting = parts[0].Ratings().Where(r => r.Kind == RatingKind.PeakCurrent || r.Kind == RatingKind.Current)
            .Select(r => r.Limit)
            .DefaultIfEmpty(double.PositiveInfinity).Min();
        double watts = parts[0].Ratings().Where(r => r.Kind == RatingKind.Power)
            .Select(r => r.Limit).DefaultIfEmpty(double.PositiveInfinity).Min();
        if (load > lasting || double.IsFinite(drop) && load * drop > watts)
            throw new StageProblemException("load", load > lasting
                ? new(ProblemKind.CarriesLess, parts[0].ValueText, "", new(load, Unit.Amps), High: new(lasting, Unit.Amps))
                : new Problem(ProblemKind.DissipatesMore, parts[0].ValueText, "", new(load * drop, Unit.Watt),
                    High: watts is { } most ? new(most, Unit.Watt) : null));
        if (sensor is not null)
        {
            math.Add(new("voltage that is left at the largest current, sensor at mid-span", "Vo = Vi − V",
                $"{ShiftHandMath.V(fed)} − {SiText.Format(drop, "V", 3)}", fed - drop, "V")
            { Measure = new PushedMeasure(output, -load, "") });
        }
        return new Stage(name, Name, [new("from", input), new("to", output)], parts) { HandMath = math.ToImmutable() };
    }
}
