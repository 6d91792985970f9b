using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>The circuits of tests/reference, each built from the parameters in its file.</summary>
internal static class ReferenceCircuits
{
    /// <summary>The transients by the name of their file, with the node whose peak the file gives.</summary>
    public static readonly (string Name, string PeakNode)[] Transients =
    [
        ("clamp_surge_positive", "pin"), ("clamp_surge_negative", "pin"), ("clamp_fast_transient", "pin"),
        ("clamp_discharge", "pin"), ("rlc_ring", "out"), ("rectifier", "out"),
    ];

    public static Circuit Of(ReferenceCase from) => new(from.Name switch
    {
        "clamp_surge_positive" or "clamp_surge_negative" => Surge(from),
        "clamp_fast_transient" => FastTransient(from),
        "clamp_discharge" => Discharge(from),
        "rlc_ring" => Ring(from),
        "rectifier" => Rectifier(from),
        _ => throw new ArgumentException($"No circuit is known for {from.Name}.csv."),
    });

    /// <summary>Series resistor, pull-down, zener, Schottky and the two clamps of the pin; no capacitor.</summary>
    public static IEnumerable<Element> Guard(ReferenceCase from) =>
    [
        new Resistor("series", "in", "pin", from["SeriesOhms"]),
        new Resistor("pulldown", "pin", "GND", from["PulldownOhms"]),
        new Diode("zener", "GND", "pin", from.Diode("zener")),
        new Diode("schottky", "GND", "pin", from.Diode("schottky")),
        new Diode("upper", "pin", "supply", from.Diode("upper")),
        new Diode("lower", "GND", "pin", from.Diode("lower")),
        new VoltageSource("supply", "supply", "GND", from["SupplyVolts"]),
    ];

    private static IEnumerable<Element> Surge(ReferenceCase from) =>
    [
        new VoltageSource("source", "open", "GND",
            new DoubleExponential(from["PeakVolts"], from["RiseConstant"], from["FallConstant"], from["Start"])),
        new Resistor("generator", "open", "in", from["SourceOhms"]),
        new Capacitor("shunt", "pin", "GND", from["ShuntFarads"]),
        .. Guard(from),
    ];

    private static IEnumerable<Element> FastTransient(ReferenceCase from) =>
        [.. Surge(from), new Capacitor("stray", "in", "GND", from["InFarads"])];

    // A charged capacitor is an uncharged one in series with a source that steps to its voltage (Thévenin).
    private static IEnumerable<Element> Discharge(ReferenceCase from) =>
    [
        new VoltageSource("source", "charge", "GND", new Step(0, from["SourceVolts"], from["Start"])),
        new Capacitor("store", "charge", "tip", from["StoreFarads"]),
        new Resistor("generator", "tip", "in", from["SourceOhms"]),
        new Capacitor("stray", "in", "GND", from["InFarads"]),
        new Capacitor("shunt", "pin", "GND", from["ShuntFarads"]),
        .. Guard(from),
    ];

    private static IEnumerable<Element> Ring(ReferenceCase from) =>
    [
        new VoltageSource("source", "in", "GND", new Step(0, from["SourceVolts"], from["Start"])),
        new Resistor("series", "in", "mid", from["SeriesOhms"]),
        new Inductor("coil", "mid", "out", from["Henries"]),
        new Capacitor("shunt", "out", "GND", from["Farads"]),
    ];

    private static IEnumerable<Element> Rectifier(ReferenceCase from) =>
    [
        new VoltageSource("source", "winding", "GND", new Sine(0, from["Amplitude"], from["Frequency"])),
        new Resistor("generator", "winding", "anode", from["SourceOhms"]),
        new Diode("diode", "anode", "out", from.Diode("diode")),
        new Capacitor("reservoir", "out", "GND", from["Farads"]),
        new Resistor("load", "out", "GND", from["LoadOhms"]),
    ];
}
