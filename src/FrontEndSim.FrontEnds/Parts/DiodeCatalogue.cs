using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// Junction and Schottky diodes by registered type number, and indicators by colour. Forward voltages of the Schottky types are the
/// registered maxima, so a clamp is modelled at its worst; leakages are typical at 25 °C where a typical value is known.
/// </summary>
internal static class DiodeCatalogue
{
    private const string Typical = "typical of the type, from memory";
    private const string Signal = "1N4148 data sheets of Panjit, Comchip and Diotech";
    private const string Rectifier = "1N4001 to 1N4007 data sheets of Diodes Inc., FCI and Rectron";
    private const string OneAmpere = "1N5817 to 1N5819 data sheets of Diodes Inc., EIC and RFE; the point at 0.1 A is JEDEC's, from memory";
    private const string ThreeAmperes = "1N5820 to 1N5822 data sheets of Diodes Inc. and Comchip; the point at 1 A is JEDEC's, from memory";
    private const string Ring = "BAS70 data sheets (Diodes Inc., Diodelink), the same crystal; 1N5711 registration, from memory";
    private const string LowBarrier = "BAT54 data sheets of Vishay, Diotech and Infineon";

    public static ImmutableArray<DiodeDataSheet> Sheets { get; } =
    [
        new("1N4148", DiodeKind.Junction,
        [
            Forward(0.48, 1e-4, Typical), Forward(0.72, 10e-3, Typical), Forward(0.92, 0.1, Typical),
            Leakage(25e-9, 20), Leakage(50e-6, 20) with { Celsius = 150 },
        ], Signal)
        {
            ReverseVolts = 75, Farads = 4e-12, TransitSeconds = 6e-9, RatedWatts = 0.5, MostJunctionCelsius = 175,
            RatedAmps = 0.2, RatedPeakAmps = 1,
            // Two makers say 2 A for a microsecond, others 4 A; 1 A for a millisecond (from memory) and 0.5 A for a second.
            Surge = [new(1e-6, 2), new(1e-3, 1), new(1, 0.5)],
        },
        new("1N4007", DiodeKind.Junction,
        [
            Forward(0.59, 1e-3, Typical), Forward(0.75, 0.1, Typical), Forward(0.93, 1, Typical),
            Leakage(5e-6, 1000), Leakage(50e-6, 1000) with { Celsius = 100 },
        ], Rectifier)
        {
            ReverseVolts = 1000, Farads = 30e-12, TransitSeconds = 4e-6, RatedWatts = 1.25, MostJunctionCelsius = 150,
            RatedAmps = 1, RatedPeakAmps = 30,
        },
        Schottky("1N5817", OneAmpere, [(0.32, 0.1), (0.45, 1), (0.75, 3)], (20, 30e-6), 20, 300e-12, 2, 1, 25, most: (1e-3, 10e-3)),
        Schottky("1N5818", OneAmpere, [(0.33, 0.1), (0.55, 1), (0.875, 3)], (30, 30e-6), 30, 270e-12, 2, 1, 25, most: (1e-3, 10e-3)),
        Schottky("1N5819", OneAmpere, [(0.34, 0.1), (0.60, 1), (0.90, 3)], (40, 30e-6), 40, 250e-12, 2, 1, 25, most: (1e-3, 10e-3)),
        Schottky("1N5820", ThreeAmperes, [(0.370, 1), (0.475, 3), (0.850, 9.4)], (20, 60e-6), 20, 900e-12, 2.5, 3, 80, most: (2e-3, 20e-3)),
        Schottky("1N5821", ThreeAmperes, [(0.380, 1), (0.500, 3), (0.900, 9.4)], (30, 60e-6), 30, 800e-12, 2.5, 3, 80, most: (2e-3, 20e-3)),
        Schottky("1N5822", ThreeAmperes, [(0.390, 1), (0.525, 3), (0.950, 9.4)], (40, 60e-6), 40, 750e-12, 2.5, 3, 80, most: (2e-3, 20e-3)),
        // Above some 20 mA the junction of its guard ring carries more than the barrier: about 1.2 V measured in a clamp (Clifton
        // Laboratories, measuring note).
        new("1N5711", DiodeKind.Schottky,
        [
            Limit(0.41, 1e-3), Limit(1.0, 15e-3), Forward(1.2, 50e-3, "Clifton Laboratories, measuring note"),
            new(DataPointKind.Leakage, 50e-9, 50) { Source = Typical }, Leakage(200e-9, 50),
        ], Ring)
        {
            ReverseVolts = 70, Farads = 2e-12, RatedWatts = 0.43, MostJunctionCelsius = 150, RatedAmps = 33e-3, RatedPeakAmps = 100e-3,
        },
        LowBarrierDiode("BAT54"),
        // Two of them in one case, in series: one to the supply and one to ground.
        LowBarrierDiode("BAT54S"),
        Led("red", "data sheets of GaAsP indicators (Vishay TLHR and TLLR series), curve from memory",
            (1.65, 1e-4), (1.80, 2e-3), (2.00, 20e-3)),
        Led("yellow", "data sheets of GaAsP indicators (Vishay TLHY and TLLY series), curve from memory",
            (1.75, 1e-4), (1.92, 2e-3), (2.30, 20e-3)),
        Led("green", "data sheets of GaP indicators (Vishay TLHG and TLLG series), curve from memory",
            (1.80, 1e-4), (1.95, 2e-3), (2.30, 20e-3)),
    ];

    private static DiodeDataSheet LowBarrierDiode(string name) => new(name, DiodeKind.Schottky,
    [
        Limit(0.24, 1e-4), Limit(0.32, 1e-3), Limit(0.40, 10e-3), Limit(0.50, 30e-3), Limit(1.0, 0.1),
        new(DataPointKind.Leakage, 0.5e-6, 25) { Source = LowBarrier }, Leakage(2e-6, 25),
    ], LowBarrier)
    {
        ReverseVolts = 30,
        Farads = 10e-12,
        RatedWatts = 0.2,
        MostJunctionCelsius = 125,
        RatedAmps = 0.2,
        RatedPeakAmps = 0.6,
    };

    private static DataPoint Forward(double volts, double amps, string? source = null) =>
        new(DataPointKind.ForwardVoltage, volts, amps) { Source = source };

    private static DataPoint Limit(double volts, double amps) => Forward(volts, amps) with { IsLimit = true };

    private static DataPoint Leakage(double amps, double volts) => new(DataPointKind.Leakage, amps, volts, IsLimit: true);

    private static DiodeDataSheet Led(string name, string source, params ReadOnlySpan<(double Volts, double Amps)> forward)
    {
        var points = ImmutableArray.CreateBuilder<DataPoint>();
        foreach (var (volts, amps) in forward)
            points.Add(Forward(volts, amps));
        points.Add(Leakage(10e-6, 5));
        return new(name, DiodeKind.Led, points.ToImmutable(), source)
        {
            ReverseVolts = 5,
            Farads = 30e-12,
            RatedWatts = 60e-3,
            MostJunctionCelsius = 100,
            RatedAmps = 30e-3,
            RatedPeakAmps = 100e-3,
            // GaAsP and GaP at constant current (from memory).
            ForwardVoltsPerKelvin = -2e-3,
            // A defect's leakage, which no junction law moves; the limit printed is a tester's floor (from memory).
            LeakageDoublingKelvin = 25,
            Surge = [new(10e-6, 1), new(1e-3, 0.2)],
        };
    }

    private static DiodeDataSheet Schottky(string name, string source, (double Volts, double Amps)[] forward,
        (double Volts, double Amps) leakage,
        double reverse, double farads, double watts, double amps, double surge, (double Cold, double Hot) most) =>
        new(name, DiodeKind.Schottky,
        [
            .. forward.Select(f => Limit(f.Volts, f.Amps)), new(DataPointKind.Leakage, leakage.Amps, leakage.Volts) { Source = Typical },
            Leakage(most.Cold, reverse), Leakage(most.Hot, reverse) with { Celsius = 100 },
        ], source)
        {
            ReverseVolts = reverse,
            Farads = farads,
            RatedWatts = watts,
            MostJunctionCelsius = 125,
            RatedAmps = amps,
            RatedPeakAmps = surge,
        };
}
