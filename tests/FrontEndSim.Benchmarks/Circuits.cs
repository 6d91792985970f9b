using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Benchmarks;

/// <summary>The circuits that are timed.</summary>
internal static class Circuits
{
    private static readonly DiodeModel Silicon = new()
    {
        SaturationAmps = 1e-14,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
        JunctionVolts = 0.7,
        Grading = 0.5,
    };

    private static readonly DiodeModel Zener = Silicon with
    {
        BreakdownVolts = 3.6,
        BreakdownAmps = 5e-3,
        BreakdownSlopeVolts = 0.2,
        SeriesOhms = 5,
        JunctionFarads = 100e-12,
    };

    private static readonly DiodeModel Schottky = Silicon with
    {
        SaturationAmps = 1e-6,
        EmissionCoefficient = 1.05,
        SeriesOhms = 0.05,
        JunctionFarads = 100e-12,
        ActivationVolts = 0.69,
        TemperatureExponent = 2,
    };

    private static readonly DiodeModel PinClamp = Silicon with { SeriesOhms = 10, JunctionFarads = 5e-12 };

    /// <summary>Series resistor, capacitor, pull-down, zener, Schottky and the pin's two clamps, from node LEVEL to node PIN.</summary>
    private static Element[] Guard =>
    [
        new Resistor("RG", "LEVEL", "PIN", 4700), new Capacitor("CG", "PIN", "GND", 10e-9), new Resistor("RPD", "PIN", "GND", 470e3),
        new Diode("Z", "GND", "PIN", Zener), new Diode("D", "GND", "PIN", Schottky),
        new Diode("DH", "PIN", "VDD", PinClamp), new Diode("DL", "GND", "PIN", PinClamp),
    ];

    /// <summary>Two op amp stages before the guard; the sensor is the source S.</summary>
    public static Circuit GuardedShifter => new(
    [
        new VoltageSource("VP", "VP", "GND", 9), new VoltageSource("VN", "VN", "GND", -9), new VoltageSource("VDD", "VDD", "GND", 3.3),
        new VoltageSource("S", "PROBE", "GND", 0), new Resistor("RS", "PROBE", "IN", 220),
        new Resistor("R1", "IN", "SUM1", 100e3), new Resistor("R2", "VDD", "SUM1", 300e3), new Resistor("RF1", "SUM1", "O1", 100e3),
        new OpAmp("U1", "GND", "SUM1", "O1", "VP", "VN", new OpAmpModel()),
        new Resistor("R3", "O1", "SUM2", 100e3), new Resistor("RF2", "SUM2", "LEVEL", 110e3),
        new OpAmp("U2", "GND", "SUM2", "LEVEL", "VP", "VN", new OpAmpModel()),
        .. Guard,
    ]);

    /// <summary>A 1.2/50 µs, 500 V surge through 42 ohm into the guard.</summary>
    public static Circuit GuardUnderSurge => new(
    [
        new VoltageSource("VDD", "VDD", "GND", 3.3), new VoltageSource("S", "GENERATOR", "GND", new DoubleExponential(500, 0.4e-6, 68e-6)),
        new Resistor("RS", "GENERATOR", "LEVEL", 42), .. Guard,
    ]);

    /// <summary>A ladder of 100 ohm and 1 nF, one step in.</summary>
    public static Circuit Ladder(int nodes) => new(
    [
        new VoltageSource("S", "N0", "GND", new Step(0, 1, 0, 1e-9)),
        .. Enumerable.Range(0, nodes).SelectMany(k => (Element[])
            [new Resistor($"R{k}", $"N{k}", $"N{k + 1}", 100), new Capacitor($"C{k}", $"N{k + 1}", "GND", 1e-9)]),
    ]);
}
