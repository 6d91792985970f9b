using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests;

/// <summary>Front ends that several tests look at.</summary>
internal static class FrontEndOf
{
    public static readonly Rail Plus = new("VP", 9), Minus = new("VN", -9), Supply = new("VDD", 3.3);

    public static readonly Sensor Probe = new("probe", "IN", new Span(-1.2, 1.8), 220);

    public static readonly Pin Adc = new("adc", "PIN")
    {
        RatedLow = new(null, -0.3),
        RatedHigh = new("VDD", 0.3),
        InjectionAmps = 2e-3,
        Converter = new(12, new(new(null, 0), new("VDD", 0))),
    };

    public static Dictionary<string, object> ShifterSettings(string opamp = "precision-bipolar", string series = "E96") => new()
    {
        ["from.input"] = "IN",
        ["from.output"] = "LEVEL",
        ["maps.sensor"] = "probe",
        ["maps.span"] = new Span(0, 3.3),
        ["offset.rail"] = "VDD",
        ["opamp.type"] = opamp,
        ["opamp.positive"] = "VP",
        ["opamp.negative"] = "VN",
        ["resistors.series"] = series,
        ["resistors.tolerance"] = 0.01,
    };

    public static Stage Shifter(IReadOnlyDictionary<string, object>? settings = null, Sensor? sensor = null) =>
        Asked.Of("two-stage-shifter", "shift", settings ?? ShifterSettings(), [Plus, Minus, Supply], [sensor ?? Probe]).Build();

    public static Stage Guard(params (string Key, object Value)[] settings) => Asked.Of("pin-guard", "guard",
        settings.Append((Key: "from.output", Value: "PIN")).ToDictionary(s => s.Key, s => s.Value), [Plus, Minus, Supply], [Probe]).Build();

    public static Quantity Ohm(double value) => new(value, Unit.Ohm);

    public static FrontEnd Of(params Stage[] stages) => new()
    {
        Title = "test",
        Rails = [Plus, Minus, Supply],
        Sensors = [Probe],
        Stages = [.. stages],
        Pins = [Adc],
    };

    /// <summary>A shifter and a guard of resistor, capacitor and two Schottky diodes of little leakage.</summary>
    public static FrontEnd Guarded() => Of(Shifter(), Guard(("from.input", "LEVEL"), ("series.value", Ohm(1000)),
        ("shunt.value", new Quantity(10e-9, Unit.Farad)), ("schottky.type", "1N5817"), ("schottky-high.type", "1N5817"),
            ("schottky-high.rail", "VDD")));
}
