using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Stages.Conditioning;

/// <summary>A 4 mA to 20 mA current loop: transmitter, burden resistor, and a guarded way to the pin.</summary>
public sealed class LoopReceiver : StageKind
{
    /// <inheritdoc/>
    public override string Name => "loop-receiver";

    /// <inheritdoc/>
    public override string Summary =>
        "Receives a 4 mA to 20 mA loop: a burden resistor turns its current into a voltage, a series resistor, a capacitor and diodes "
            + "guard the pin. "
        + "The sensor is the transmitter's command, 1 V to 5 V for 4 mA to 20 mA.";

    /// <inheritdoc/>
    protected override ImmutableArray<Setting> OwnSettings { get; } =
    [
        Setting.Of("from", true, "Node of the transmitter's command and the node of the pin.",
            Node("input"), new Keyword("to"), Node("output")),
        Setting.Of("terminal", true, "Node of the loop's terminal, where the burden stands and faults strike.", Node("node")),
        Setting.Of("supply", true, "The rail that feeds the loop.", new Slot("rail", SlotKind.Rail)),
        Setting.Of("maps", true, "The sensor whose span lands on a span of voltage: the burden follows from it.",
            new Slot("sensor", SlotKind.Sensor), new Keyword("onto"), new Slot("span", SlotKind.Span, Unit.Volts)),
        Setting.Of("burden", false, "Burden resistor; the nearest value of E96, 1 %, if left out.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("series", true, "Series resistor to the pin.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("shunt", false, "Capacitor from the pin to ground.", Value("value", Unit.Farad), Tolerance),
        Setting.Of("schottky", false, "Diode from ground (anode) to the pin (cathode).", new Slot("type", SlotKind.PartName)),
        Setting.Of("schottky-high", false, "Diode from the pin (anode) to a rail (cathode).",
            new Slot("type", SlotKind.PartName), new Keyword("to"), new Slot("rail", SlotKind.Rail)),
    ];

    /// <inheritdoc/>
    protected override Stage Assemble(StageRequest request)
    {
        const string ground = Circuit.Ground;
        const double siemens = TransmitterPart.Siemens;
        string name = request.Name, command = request.Text("from.input"), pin = request.Text("from.output"),
            loop = request.Text("terminal.node");
        var sensor = request.Sensor("maps.sensor");
        var span = request.Span("maps.span");
        double low = siemens * sensor.Span.Low, high = siemens * sensor.Span.High, wanted = span.Width / (high - low);
        if (Math.Abs(span.Low - wanted * low) > 0.01 * span.Width)
        {
            throw new StageProblemException("maps",
                $"A burden turns {SiText.Format(low, "A")} .. {SiText.Format(high, "A")} into voltages in the same ratio, "
                + $"so the lower end cannot be {SiText.Format(span.Low, "V")}.",
                $"For an upper end of {SiText.Format(span.High, "V")} write {SiText.Format(span.High * low / high, "V")} as the lower "
                    + $"end.");
        }
        var burden = request.Toleranced("burden", Unit.Ohm, 0.01, ESeries.E96.Nearest(wanted));
        var series = request.Toleranced("series", Unit.Ohm, 0.05);
        var parts = ImmutableArray.CreateBuilder<Part>();
        parts.Add(new TransmitterPart(name + ".T", command, loop, request.Rail("supply.rail").Name));
        parts.Add(new ResistorPart(name + ".Rb", loop, ground, burden) { Role = Role.Burden });
        parts.Add(new ResistorPart(name + ".R", loop, pin, series) { Role = Role.SeriesResistor });
        var math = ImmutableArray.CreateBuilder<HandStep>();
        math.Add(new("burden wanted", "Rb = (Vhigh − Vlow) / (Ihigh − Ilow)",
            $"Rb = {SiText.Format(span.Width, "V")} / {SiText.Format(high - low, "A")}", wanted, "ohm"));
        math.Add(new("voltage at the upper end", "V = Ihigh · Rb", $"V = {SiText.Format(high, "A")} · {SiText.Format(burden.Value, "ohm")}",
            high * burden.Value, "V")
        { Measure = new VoltageMeasure(loop, null, sensor.Span.High) });
        math.Add(new("power of the burden there", "P = Ihigh² · Rb",
            $"P = ({SiText.Format(high, "A")})² · {SiText.Format(burden.Value, "ohm")}",
            high * high * burden.Value, "W")
        { Measure = new PowerMeasure(name + ".Rb", sensor.Span.High) });
        if (request.Has("shunt"))
        {
            var shunt = request.Toleranced("shunt", Unit.Farad, 0.1);
            parts.Add(new CapacitorPart(name + ".C", pin, ground, shunt));
            double seen = series.Value + burden.Value;
            math.Add(new("corner frequency", "fc = 1 / (2π · (R + Rb) · C)",
                $"fc = 1 / (2π · {SiText.Format(seen, "ohm")} · {SiText.Format(shunt.Value, "F")})",
                1 / (2 * Math.PI * seen * shunt.Value), "Hz"));
        }
        if (request.Has("schottky"))
            parts.Add(new DiodePart(name + ".Dl", ground, pin,
                request.Diode("schottky.type", DiodeKind.Schottky, DiodeKind.Junction))
            { Role = Role.LowerClamp });
        if (request.Has("schottky-high"))
        {
            parts.Add(new DiodePart(name + ".Dh", pin, request.Rail("schottky-high.rail").Name,
                request.Diode("schottky-high.type", DiodeKind.Schottky, DiodeKind.Junction))
            { Role = Role.UpperClamp });
        }
        var line = new LinearExpectation(siemens * burden.Value, 0);
        return new Stage(name, Name, [new("from", command), new("to", pin)], parts.ToImmutable())
        {
            HandMath = math.ToImmutable(),
            Ideal = line,
            Expected = line,
            Mapping = new WantedMapping(sensor.Name, sensor.Span, span),
        };
    }
}
