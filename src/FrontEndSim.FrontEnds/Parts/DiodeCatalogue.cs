using System.Collections.Immutable;
using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>
/// Junction and Schottky diodes by registered type number. Forward voltages of the Schottky types are the registered
/// maxima, so a clamp is modelled at its worst; leakages are typical at 25 °C.
/// </summary>
internal static class DiodeCatalogue
{
    private const string Typical = "typical of the type, from memory";
    private const string Registered = "JEDEC registration of the type, from memory";

    public static ImmutableArray<DiodeType> Types { get; } =
    [
        Silicon(),
        Schottky("1N5817", (0.32, 0.1), (0.45, 1), leakage: (20, 20e-6), breakdown: 20, farads: 300e-12, watts: 1, surge: 25),
        Schottky("1N5818", (0.33, 0.1), (0.55, 1), leakage: (30, 20e-6), breakdown: 30, farads: 270e-12, watts: 1, surge: 25),
        Schottky("1N5819", (0.34, 0.1), (0.60, 1), leakage: (40, 20e-6), breakdown: 40, farads: 250e-12, watts: 1, surge: 25),
        Schottky("1N5711", (0.41, 1e-3), (1.0, 15e-3), leakage: (50, 50e-9), breakdown: 70, farads: 2e-12, watts: 0.43, surge: 50e-3),
    ];

    private static DiodeType Silicon()
    {
        // 0.48 V at 0.1 mA, 0.72 V at 10 mA and 0.92 V at 100 mA, which three fix n·Vt = 50.1 mV.
        const double emission = 1.95;
        var (saturation, ohms) = DiodeFit.Forward((0.48, 1e-4), (0.92, 0.1), emission);
        return new("1N4148", DiodeKind.Junction, new DiodeModel
        {
            SaturationAmps = saturation,
            EmissionCoefficient = emission,
            SeriesOhms = ohms,
            JunctionFarads = 4e-12,
            Grading = 1.0 / 3,
            TransitSeconds = 6e-9,
            BreakdownVolts = 100,
            BreakdownAmps = 100e-6,
            LeakageSiemens = 25e-9 / 20,
        }, 0.5, 1,
        [
            new("forward voltage at 0.1 mA", 0.48, "V", Typical), new("forward voltage at 10 mA", 0.72, "V", Typical),
            new("forward voltage at 100 mA", 0.92, "V", Typical), new("reverse current at 20 V, at most", 25e-9, "A", Registered),
            new("breakdown voltage at 100 µA, at least", 100, "V", Registered), new("capacitance at 0 V, at most", 4e-12, "F", Registered),
        ], Registered);
    }

    private static DiodeType Schottky(string name, (double Volts, double Amps) low, (double Volts, double Amps) high,
        (double Volts, double Amps) leakage, double breakdown, double farads, double watts, double surge)
    {
        const double emission = 1.05;
        var (saturation, ohms) = DiodeFit.Forward(low, high, emission);
        return new(name, DiodeKind.Schottky, new DiodeModel
        {
            SaturationAmps = saturation,
            EmissionCoefficient = emission,
            SeriesOhms = ohms,
            JunctionFarads = farads,
            JunctionVolts = 0.5,
            BreakdownVolts = breakdown * 1.2,
            BreakdownAmps = 1e-3,
            LeakageSiemens = leakage.Amps / leakage.Volts,
            EnergyGapVolts = 0.69,
            SaturationExponent = 2,
        }, watts, surge,
        [
            new($"forward voltage at {SiText.Format(low.Amps, "A")}, at most", low.Volts, "V", Registered),
            new($"forward voltage at {SiText.Format(high.Amps, "A")}, at most", high.Volts, "V", Registered),
            new($"reverse current at {SiText.Format(leakage.Volts, "V")}", leakage.Amps, "A", Typical),
            new("repetitive reverse voltage", breakdown, "V", Registered), new("capacitance at 0 V", farads, "F", Typical),
        ], Registered);
    }
}
