using System.Globalization;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// Zener diodes: the 1 W series 1N4728A to 1N4764A, half-watt zeners of E24 voltages named by their voltage ("3V6"),
/// and 1.3 W zeners ("3V6-1W3") with the test currents of their European series.
/// </summary>
internal static class ZenerCatalogue
{
    private const string Registered = "1N4728A to 1N4764A data sheets of Digitron, Crea-tek, Formosa and Multicomp, all alike";
    private const string Big =
        "BZX85C data sheet (Diotech) to 7.5 V, leakages, knees and the impedance at 3.3 V those of the 1 W series, the rest from memory";
    private const string Small =
        "BZX55C data sheet (Goodark) to 7.5 V, but its leakage at 7.5 V; that and above, typical of that series and BZX79C, from memory";

    // Voltage, test current mA, largest impedance there, largest impedance at the knee, knee current mA, leakage µA at V.
    private static readonly (double Volts, double TestMilliamps, double TestOhms, double KneeOhms, double KneeMilliamps,
        double LeakMicroamps, double LeakVolts)[] OneWatt =
    [
        (3.3, 76, 10, 400, 1, 100, 1), (3.6, 69, 10, 400, 1, 100, 1), (3.9, 64, 9, 400, 1, 50, 1), (4.3, 58, 9, 400, 1, 10, 1),
        (4.7, 53, 8, 500, 1, 10, 1), (5.1, 49, 7, 550, 1, 10, 1), (5.6, 45, 5, 600, 1, 10, 2), (6.2, 41, 2, 700, 1, 10, 3),
        (6.8, 37, 3.5, 700, 1, 10, 4), (7.5, 34, 4, 700, 0.5, 10, 5), (8.2, 31, 4.5, 700, 0.5, 10, 6), (9.1, 28, 5, 700, 0.5, 10, 7),
        (10, 25, 7, 700, 0.25, 10, 7.6), (11, 23, 8, 700, 0.25, 5, 8.4), (12, 21, 9, 700, 0.25, 5, 9.1), (13, 19, 10, 700, 0.25, 5, 9.9),
        (15, 17, 14, 700, 0.25, 5, 11.4), (16, 15.5, 16, 700, 0.25, 5, 12.2), (18, 14, 20, 750, 0.25, 5, 13.7),
        (20, 12.5, 22, 750, 0.25, 5, 15.2), (22, 11.5, 23, 750, 0.25, 5, 16.7), (24, 10.5, 25, 750, 0.25, 5, 18.2),
        (27, 9.5, 35, 750, 0.25, 5, 20.6), (30, 8.5, 40, 1000, 0.25, 5, 22.8), (33, 7.5, 45, 1000, 0.25, 5, 25.1),
        (36, 7, 50, 1000, 0.25, 5, 27.4), (39, 6.5, 60, 1000, 0.25, 5, 29.7), (43, 6, 70, 1500, 0.25, 5, 32.7),
        (47, 5.5, 80, 1500, 0.25, 5, 35.8), (51, 5, 95, 1500, 0.25, 5, 38.8), (56, 4.5, 110, 2000, 0.25, 5, 42.6),
        (62, 4, 125, 2000, 0.25, 5, 47.1), (68, 3.7, 150, 2000, 0.25, 5, 51.7), (75, 3.3, 175, 2000, 0.25, 5, 56),
        (82, 3, 200, 3000, 0.25, 5, 62.2), (91, 2.8, 250, 3000, 0.25, 5, 69.2), (100, 2.5, 350, 3000, 0.25, 5, 76),
    ];

    // The last column is the leakage at 150 °C.
    private static readonly (double Volts, double TestMilliamps, double TestOhms, double KneeOhms, double KneeMilliamps,
        double LeakMicroamps, double LeakVolts, double HotMicroamps)[] HalfWatt =
    [
        (2.4, 5, 85, 600, 1, 50, 1, 100), (2.7, 5, 85, 600, 1, 10, 1, 50), (3.0, 5, 85, 600, 1, 4, 1, 40), (3.3, 5, 85, 600, 1, 2, 1, 40),
        (3.6, 5, 85, 600, 1, 2, 1, 40), (3.9, 5, 85, 600, 1, 2, 1, 40), (4.3, 5, 75, 600, 1, 1, 1, 20), (4.7, 5, 60, 600, 1, 0.5, 1, 10),
        (5.1, 5, 35, 550, 1, 0.1, 1, 2), (5.6, 5, 25, 450, 1, 0.1, 1, 2), (6.2, 5, 10, 200, 1, 0.1, 2, 2), (6.8, 5, 8, 150, 1, 0.1, 3, 2),
        (7.5, 5, 7, 50, 1, 0.1, 5, 2), (8.2, 5, 15, 80, 1, 0.7, 5, 2), (9.1, 5, 15, 100, 1, 0.5, 6, 2), (10, 5, 20, 150, 1, 0.2, 7, 2),
        (11, 5, 20, 150, 1, 0.1, 8, 2), (12, 5, 25, 150, 1, 0.1, 9, 2), (13, 5, 30, 170, 1, 0.1, 9.5, 2), (15, 5, 30, 200, 1, 0.1, 10.5, 2),
        (16, 5, 40, 200, 1, 0.1, 11.2, 2), (18, 5, 45, 225, 1, 0.1, 12.6, 2), (20, 5, 55, 225, 1, 0.1, 14, 2),
            (22, 5, 55, 250, 1, 0.1, 15.4, 2),
        (24, 5, 70, 250, 1, 0.1, 16.8, 2), (27, 2, 80, 300, 0.5, 0.1, 18.9, 2), (30, 2, 80, 300, 0.5, 0.1, 21, 2),
        (33, 2, 80, 325, 0.5, 0.1, 23.1, 2), (36, 2, 90, 350, 0.5, 0.1, 25.2, 2),
    ];

    // Test current mA and largest impedance there of the 1.3 W series; knee and leakage are those of the 1 W series.
    private static readonly (double Volts, double TestMilliamps, double TestOhms)[] Large =
    [
        (3.3, 80, 10), (3.6, 60, 20), (3.9, 60, 15), (4.3, 50, 13), (4.7, 45, 13), (5.1, 45, 10),
            (5.6, 45, 7), (6.2, 35, 4), (6.8, 35, 3.5),
        (7.5, 35, 3), (8.2, 25, 5), (9.1, 25, 5), (10, 25, 7), (11, 20, 8), (12, 20, 9), (13, 20, 10),
            (15, 15, 15), (16, 15, 15), (18, 15, 20),
        (20, 10, 24), (22, 10, 25), (24, 10, 25), (27, 8, 30), (30, 8, 30), (33, 8, 35), (36, 8, 40), (39, 6, 50), (43, 6, 50), (47, 4, 90),
        (51, 4, 115), (56, 4, 120), (62, 4, 125), (68, 4, 130), (75, 4, 135), (82, 2.7, 200), (91, 2.7, 250), (100, 2.7, 350),
    ];

    public static ImmutableArray<DiodeDataSheet> Sheets { get; } =
    [
        .. OneWatt.Select((row, k) => Zener($"1N{4728 + k}A", row, Hot(row.Volts, row.LeakMicroamps), watts: 1, Registered)),
        .. HalfWatt.Select(row =>
            Zener(Code(row.Volts), (row.Volts, row.TestMilliamps, row.TestOhms, row.KneeOhms, row.KneeMilliamps, row.LeakMicroamps,
            row.LeakVolts), row.HotMicroamps, watts: 0.5, Small)),
        .. OneWatt.Zip(Large).Select(pair => Zener(Code(pair.First.Volts) + "-1W3", pair.First with
        {
            TestMilliamps = pair.Second.TestMilliamps,
            TestOhms = pair.Second.TestOhms,
        }, Hot(pair.First.Volts, pair.First.LeakMicroamps), watts: 1.3, Big)),
    ];

    // IEC 60062: the letter V in the place of the decimal point; two significant digits are enough for E24.
    private static string Code(double volts) => volts < 10
        ? volts.ToString("0.0", CultureInfo.InvariantCulture).Replace('.', 'V')
        : volts.ToString("0", CultureInfo.InvariantCulture) + "V";

    // No sheet of these series states a leakage when hot: below 6 V a tunnelling current that grows twentyfold to 150 °C, as that of the
    // half-watt series does; above, what an avalanche junction of four times the area leaks.
    private static double Hot(double volts, double microamps) =>
        Math.Max(2.5 * microamps, volts < 6 ? 20 * Math.Min(microamps, 8 / volts) : 8);

    private static DiodeDataSheet Zener(string name,
        (double Volts, double TestMilliamps, double TestOhms, double KneeOhms, double KneeMilliamps,
        double LeakMicroamps, double LeakVolts) row, double hotMicroamps, double watts, string source) =>
        new(name, DiodeKind.Zener,
        [
            new(DataPointKind.ZenerVoltage, row.Volts, row.TestMilliamps * 1e-3),
            new(DataPointKind.Impedance, row.TestOhms, row.TestMilliamps * 1e-3, IsLimit: true),
            new(DataPointKind.Impedance, row.KneeOhms, row.KneeMilliamps * 1e-3, IsLimit: true),
            new(DataPointKind.Leakage, row.LeakMicroamps * 1e-6, row.LeakVolts, IsLimit: true),
            new(DataPointKind.Leakage, hotMicroamps * 1e-6, row.LeakVolts, IsLimit: true) { Celsius = 150 },
            watts < 1 ? new(DataPointKind.ForwardVoltage, 1.0, 0.1, IsLimit: true)
                : new(DataPointKind.ForwardVoltage, 1.2, 0.2, IsLimit: true),
        ], source)
        {
            Tolerance = 0.05,
            TempCo = TempCo(row.Volts),
            // About 0.4 nF at 3.6 V for half a watt, falling with the voltage and growing with the chip (from memory).
            Farads = 2.8e-9 * watts / row.Volts,
            RatedWatts = watts,
            // The series' half-cycle surge currents are about 4.55 W over the voltage (1.38 A at 3.3 V); from memory.
            RatedPeakAmps = 4.55 * watts / row.Volts,
            RatedAmps = watts / row.Volts,
            MostJunctionCelsius = watts < 1 ? 175 : 200,
            // Half-watt series: 40 W for 100 µs (Silicon Standard BZX79 data sheet), with the square root of the time.
            PulseWatts = watts < 1 ? [new(1e-6, 400), new(0.64, 0.5)] : [],
        };

    /// <summary>
    /// Temperature coefficient of the zener voltage, 1/K: −6e-4 below 3.6 V (tunnelling), none at 5.1 V, rising to 1e-3 at
    /// 36 V (avalanche), straight lines against ln(V) between; typical of all makes, from memory.
    /// </summary>
    private static double TempCo(double volts)
    {
        (double Volts, double TempCo)[] knots = [(3.6, -6e-4), (5.1, 0), (6.8, 4e-4), (10, 6.5e-4), (36, 1e-3)];
        if (volts <= knots[0].Volts)
            return knots[0].TempCo;
        for (int k = 1; k < knots.Length; k++)
        {
            if (volts > knots[k].Volts)
                continue;
            double share = Math.Log(volts / knots[k - 1].Volts) / Math.Log(knots[k].Volts / knots[k - 1].Volts);
            return knots[k - 1].TempCo + share * (knots[k].TempCo - knots[k - 1].TempCo);
        }
        return knots[^1].TempCo;
    }
}
