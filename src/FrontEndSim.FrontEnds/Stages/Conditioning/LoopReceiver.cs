using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages.Guarding;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>A 4 mA to 20 mA current loop: transmitter, burden resistor, and a guarded way to the pin.</summary>
internal sealed class LoopReceiver : StageKind
{
    public override string Name => "loop-receiver";

    public override string Summary =>
        "Receives a 4 mA to 20 mA loop: a burden resistor turns its current into a voltage, a series resistor, a capacitor and diodes "
        + "guard the pin. The sensor is the transmitter's command, 1 V to 5 V for 4 mA to 20 mA.";

    private static Setting<string> Terminal { get; } =
        Setting.Of("terminal", true, "Node of the loop's terminal, where the burden stands and faults strike.", new NodeBlank("node"));

    private static Setting<Rail> Supply { get; } = Setting.Of("supply", true, "The rail that feeds the loop.", new RailBlank("rail"));

    private static Setting<double> Across { get; } = Setting.Of("compliance", false,
        "Voltage that the transmitter needs across itself at least; 12 V if left out.", new QuantityBlank("value", Unit.Volts));

    private static PartSetting Burden { get; } = Resistor("burden", "Burden resistor; the nearest value of E96, 1 %, if left out.");

    private static PartSetting Series { get; } = new("series", true, "Series resistor to the pin.", Unit.Ohm);

    private static Setting<DiodeType> Low { get; } =
        Diode("schottky", "Diode from ground (anode) to the pin (cathode).", DiodeKind.Schottky);

    private static Setting<(DiodeType Type, Rail Rail)> High { get; } = Setting.Of("schottky-high", false,
        "Diode from the pin (anode) to a rail (cathode).", DiodeBlank(DiodeKind.Schottky), "to", new RailBlank("rail"));

    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        EndNodes("Node of the transmitter's command and the node of the pin."), Terminal, Supply, Across,
        Mapped(true, "The sensor whose span lands on a span of voltage: the burden follows from it."), Burden, Series, GuardParts.Shunt,
        Low, High,
    ];

    protected override Stage Assemble(StageRequest request)
    {
        const string ground = Circuit.Ground;
        const double siemens = TransmitterPart.Siemens;
        string name = request.Name, loop = request.Get(Terminal);
        var (command, pin) = request.Get(Ends);
        var span = request.Get(Maps).Span;
        var mapping = request.Mapping(out _)!;
        double least = siemens * mapping.Input.Low, most = siemens * mapping.Input.High, wanted = span.Width / (most - least);
        if (Math.Abs(span.Low - wanted * least) > 0.01 * span.Width)
        {
            throw new StageProblemException("maps", new(ProblemKind.BurdenRatio, "", "", new(span.Low, Unit.Volts),
                new(least, Unit.Amps), new(most, Unit.Amps))
            {
                Wanted = new(span.High, Unit.Volts),
            });
        }
        var burden = request.Toleranced(Burden, UsualSpread.Burden.Amount, ESeries.E96.Nearest(wanted));
        var series = request.Toleranced(Series, UsualSpread.Resistor.Amount);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new TransmitterPart(name + ".T", command, loop, request.Get(Supply).Name)
        {
            AcrossVolts = request.TryGet(Across, out double across) ? across : null,
        });
        parts.Add(new ResistorPart(name + ".Rb", loop, ground, burden) { Role = Role.Burden });
        parts.Add(new ResistorPart(name + ".R", loop, pin, series) { Role = Role.SeriesResistor });
        var math = ImmutableArray.CreateBuilder<HandStep>();
        math.Add(new("burden wanted", "Rb = (Vhigh − Vlow) / (Ihigh − Ilow)",
            $"Rb = {SiText.Format(span.Width, "V")} / {SiText.Format(most - least, "A")}", wanted, "ohm"));
        math.Add(new("voltage at the upper end", "V = Ihigh · Rb", $"V = {SiText.Format(most, "A")} · {SiText.Format(burden.Value, "ohm")}",
            most * burden.Value, "V")
        { Measure = new VoltageMeasure(loop, null, mapping.Input.High) });
        math.Add(new("power of the burden there", "P = Ihigh² · Rb",
            $"P = ({SiText.Format(most, "A")})² · {SiText.Format(burden.Value, "ohm")}",
            most * most * burden.Value, "W")
        { Measure = new PowerMeasure(name + ".Rb", mapping.Input.High) });
        if (request.Given(GuardParts.Shunt, UsualSpread.Capacitor.Amount) is { } shunt)
        {
            parts.Add(new CapacitorPart(name + ".C", pin, ground, shunt));
            double seen = series.Value + burden.Value;
            math.Add(new("corner frequency", "fc = 1 / (2π · (R + Rb) · C)",
                $"fc = 1 / (2π · {SiText.Format(seen, "ohm")} · {SiText.Format(shunt.Value, "F")})",
                1 / (2 * Math.PI * seen * shunt.Value), "Hz"));
        }
        if (request.TryGet(Low, out var low))
            parts.Add(new DiodePart(name + ".Dl", ground, pin, low) { Role = Role.LowerClamp });
        if (request.TryGet(High, out var high))
            parts.Add(new DiodePart(name + ".Dh", pin, high.Rail.Name, high.Type) { Role = Role.UpperClamp });
        var line = new LinearExpectation(siemens * burden.Value, 0);
        return new Stage(name, Name, [new("from", command), new("to", pin)], parts.ToImmutable())
        {
            HandMath = math.ToImmutable(),
            Ideal = line,
            Expected = line,
            Mapping = mapping,
        };
    }
}
