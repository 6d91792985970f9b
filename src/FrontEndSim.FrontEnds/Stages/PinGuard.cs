using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>A series resistor with clamps and a capacitor behind it.</summary>
public sealed class PinGuard : StageKind
{
    /// <inheritdoc/>
    public override string Name => "pin-guard";

    /// <inheritdoc/>
    public override string Summary =>
        "Keeps faults from a pin: a series resistor limits the current, then a zener and Schottky diodes clamp, a capacitor takes fast edges.";

    /// <inheritdoc/>
    public override ImmutableArray<Setting> Settings { get; } =
    [
        Setting.Of("from", true, "Input node and the node of the pin.", Node("input"), new Keyword("to"), Node("output")),
        Setting.Of("series", true, "Series resistor.", Value("value", Unit.Ohm), Tolerance),
        Setting.Of("shunt", false, "Capacitor from the pin to ground.", Value("value", Unit.Farad), Tolerance),
        Setting.Of("zener", false, "Zener from ground (anode) to the pin (cathode): bounds the pin above, and one diode drop below ground.",
            new Slot("type", SlotKind.PartName)),
        Setting.Of("schottky", false, "Schottky diode from ground (anode) to the pin (cathode): bounds the pin below ground.",
            new Slot("type", SlotKind.PartName)),
        Setting.Of("schottky-high", false, "Schottky diode from the pin (anode) to a rail (cathode): bounds the pin above the rail.",
            new Slot("type", SlotKind.PartName), new Keyword("to"), new Slot("rail", SlotKind.Rail)),
        Setting.Of("pulldown", false, "Resistor from the pin to ground, which holds the pin when nothing is connected.",
            Value("value", Unit.Ohm), Tolerance),
    ];

    /// <inheritdoc/>
    public override Stage Build(StageRequest request)
    {
        string input = request.Text("from.input"), pin = request.Text("from.output"), name = request.Name;
        const string ground = Engine.Circuit.Ground;
        var series = request.Toleranced("series", Unit.Ohm, 0.05);
        var parts = ImmutableArray.CreateBuilder<Part>();
        var math = ImmutableArray.CreateBuilder<HandStep>();
        parts.Add(new ResistorPart(name + ".R", input, pin, series));

        double gain = 1;
        if (request.Has("pulldown"))
        {
            var pulldown = request.Toleranced("pulldown", Unit.Ohm, 0.05);
            parts.Add(new ResistorPart(name + ".Rp", pin, ground, pulldown));
            gain = pulldown.Value / (series.Value + pulldown.Value);
            math.Add(new("gain of series resistor and pull-down", "a = Rp / (R + Rp)",
                $"a = {Ohms(pulldown.Value)} / ({Ohms(series.Value)} + {Ohms(pulldown.Value)})", gain, ""));
        }
        if (request.Has("shunt"))
        {
            var shunt = request.Toleranced("shunt", Unit.Farad, 0.1);
            parts.Add(new CapacitorPart(name + ".C", pin, ground, shunt));
            double seen = series.Value * gain;
            math.Add(new("corner frequency", "fc = 1 / (2π · (R ∥ Rp) · C)",
                $"fc = 1 / (2π · {Ohms(seen)} · {SiText.Format(shunt.Value, "F")})", 1 / (2 * Math.PI * seen * shunt.Value), "Hz"));
        }
        if (request.Has("zener"))
            parts.Add(new DiodePart(name + ".Dz", ground, pin, request.Diode("zener.type", DiodeKind.Zener)));
        if (request.Has("schottky"))
            parts.Add(new DiodePart(name + ".Dl", ground, pin, request.Diode("schottky.type", DiodeKind.Schottky, DiodeKind.Junction)));
        if (request.Has("schottky-high"))
        {
            parts.Add(new DiodePart(name + ".Dh", pin, request.Rail("schottky-high.rail").Name,
                request.Diode("schottky-high.type", DiodeKind.Schottky, DiodeKind.Junction)));
        }
        var line = new LinearExpectation(gain, 0);
        return new Stage(name, Name, [new("from", input), new("to", pin)], parts.ToImmutable())
        {
            HandMath = math.ToImmutable(),
            Ideal = line,
            Expected = line,
        };
    }

    private static string Ohms(double value) => SiText.Format(value, "ohm");
}
