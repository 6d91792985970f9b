using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// Junction and Schottky diodes by registered type number. Forward voltages of the Schottky types are the registered
/// maxima, so a clamp is modelled at its worst; leakages are typical at 25 °C.
/// </summary>
internal static class DiodeCatalogue
{
    private const string Typical = "typical of the type, from memory";
    private const string Registered = "JEDEC registration of the type, from memory";

    public static ImmutableArray<DiodeDataSheet> Sheets { get; } =
    [
        new("1N4148", DiodeKind.Junction,
        [
            Forward(0.48, 1e-4, Typical), Forward(0.72, 10e-3, Typical), Forward(0.92, 0.1, Typical),
            new(DataPointKind.Leakage, 25e-9, 20, IsLimit: true),
        ], Registered)
        {
            ReverseVolts = 75, Farads = 4e-12, TransitSeconds = 6e-9, RatedWatts = 0.5, RatedPeakAmps = 1,
        },
        new("1N4007", DiodeKind.Junction,
        [
            Forward(0.59, 1e-3, Typical), Forward(0.75, 0.1, Typical), Forward(0.93, 1, Typical),
            new(DataPointKind.Leakage, 5e-6, 1000, IsLimit: true),
        ], Registered)
        {
            ReverseVolts = 1000, Farads = 30e-12, TransitSeconds = 4e-6, RatedWatts = 3, RatedPeakAmps = 30,
        },
        Schottky("1N5817", [(0.32, 0.1), (0.45, 1)], leakage: (20, 20e-6), reverse: 20, farads: 300e-12, watts: 1, surge: 25),
        Schottky("1N5818", [(0.33, 0.1), (0.55, 1)], leakage: (30, 20e-6), reverse: 30, farads: 270e-12, watts: 1, surge: 25),
        Schottky("1N5819", [(0.34, 0.1), (0.60, 1)], leakage: (40, 20e-6), reverse: 40, farads: 250e-12, watts: 1, surge: 25),
        Schottky("1N5820", [(0.370, 1), (0.475, 3), (0.850, 9.4)], leakage: (20, 60e-6), reverse: 20, farads: 900e-12, watts: 3, surge: 80),
        Schottky("1N5821", [(0.380, 1), (0.500, 3), (0.900, 9.4)], leakage: (30, 60e-6), reverse: 30, farads: 800e-12, watts: 3, surge: 80),
        Schottky("1N5822", [(0.390, 1), (0.525, 3), (0.950, 9.4)], leakage: (40, 60e-6), reverse: 40, farads: 750e-12, watts: 3, surge: 80),
        Schottky("1N5711", [(0.41, 1e-3), (1.0, 15e-3)], leakage: (50, 50e-9), reverse: 70, farads: 2e-12, watts: 0.43, surge: 50e-3),
        Led("red", (1.65, 1e-4), (1.80, 2e-3), (2.00, 20e-3)),
        Led("yellow", (1.75, 1e-4), (1.90, 2e-3), (2.10, 20e-3)),
        Led("green", (1.80, 1e-4), (1.95, 2e-3), (2.20, 20e-3)),
    ];

    private static DataPoint Forward(double volts, double amps, string? source = null) =>
        new(DataPointKind.ForwardVoltage, volts, amps) { Source = source };

    private static DiodeDataSheet Led(string name, params ReadOnlySpan<(double Volts, double Amps)> forward)
    {
        var points = ImmutableArray.CreateBuilder<DataPoint>();
        foreach (var (volts, amps) in forward)
            points.Add(Forward(volts, amps));
        points.Add(new(DataPointKind.Leakage, 10e-6, 5, IsLimit: true));
        return new(name, DiodeKind.Led, points.ToImmutable(), "typical of indicators of that colour, from memory")
        {
            ReverseVolts = 5,
            Farads = 30e-12,
            RatedWatts = 60e-3,
            RatedPeakAmps = 100e-3,
        };
    }

    private static DiodeDataSheet Schottky(string name, (double Volts, double Amps)[] forward, (double Volts, double Amps) leakage,
        double reverse, double farads, double watts, double surge) =>
        new(name, DiodeKind.Schottky,
        [
            .. forward.Select(f => Forward(f.Volts, f.Amps) with { IsLimit = true }),
            new(DataPointKind.Leakage, leakage.Amps, leakage.Volts) { Source = Typical },
        ], Registered)
        {
            ReverseVolts = reverse,
            Farads = farads,
            RatedWatts = watts,
            RatedPeakAmps = surge,
        };
}
