namespace FrontEndSim.FrontEnds.Parts;

/// <summary>What limits surges: the 400 W series of suppressors by stand-off voltage, and varistors by disk and voltage.</summary>
internal static class SurgeCatalogue
{
    private const string Series = "SMAJ data sheets (Socay, Diodes Inc.), capacitance from memory";
    private const string SeriesAt24 = "SMAJ series, voltages, peak current and capacitance from memory";
    private const string SeriesAt33 =
        "SMAJ series, breakdown voltages and capacitance from memory; clamp voltage that of an SMBJ sheet";
    private const string Arresters = "T90-A90XFSMD and T90-A230X data sheets (Epcos), typical values";
    private const string Disks = "low-voltage and mains disks of several makers, from memory";

    public static ImmutableArray<PartType> Types { get; } =
    [
        Suppressor("5V0", 5, 6.40, 7.00, 10e-3, 9.2, 43.5, 800e-6), Suppressor("6V0", 6, 6.67, 7.37, 10e-3, 10.3, 38.8, 800e-6),
        Suppressor("12V", 12, 13.30, 14.70, 1e-3, 19.9, 20.1, 5e-6), Suppressor("15V", 15, 16.70, 18.50, 1e-3, 24.4, 16.4, 5e-6),
        Suppressor("18V", 18, 20.00, 22.10, 1e-3, 29.2, 13.7, 5e-6), Suppressor("20V", 20, 22.20, 24.50, 1e-3, 32.4, 12.4, 5e-6),
        Suppressor("22V", 22, 24.40, 26.90, 1e-3, 35.5, 11.3, 5e-6),
        Suppressor("24V", 24, 26.70, 29.50, 1e-3, 38.9, 10.3, 5e-6, SeriesAt24),
        Suppressor("28V", 28, 31.10, 34.40, 1e-3, 45.4, 8.8, 5e-6), Suppressor("33V", 33, 36.70, 40.60, 1e-3, 53.3, 7.5, 5e-6, SeriesAt33),
        new GasArresterType("90V", new Toleranced(90, 0.2), 450, 600, 60, 10, 5000, Arresters).Checked(),
        new GasArresterType("230V", new Toleranced(230, 0.2), 550, 700, 60, 10, 5000, Arresters).Checked(),
        Varistor("disk-7mm-18V", 18, 36, 2.5, 14, 100, 0.8, 2.8e-9, 0.02),
            Varistor("disk-7mm-22V", 22, 43, 2.5, 18, 250, 0.9, 2.4e-9, 0.02),
        Varistor("disk-7mm-33V", 33, 65, 2.5, 26, 250, 1.3, 1.5e-9, 0.02),
            Varistor("disk-7mm-56V", 56, 110, 2.5, 45, 250, 2.2, 0.9e-9, 0.02),
        Varistor("disk-14mm-18V", 18, 36, 10, 14, 1000, 4, 12e-9, 0.1), Varistor("disk-14mm-33V", 33, 65, 10, 26, 1000, 8, 6.5e-9, 0.1),
        Varistor("disk-14mm-56V", 56, 110, 10, 45, 1000, 12, 4e-9, 0.1),
            Varistor("disk-14mm-430V", 430, 710, 50, 350, 4500, 70, 0.45e-9, 0.6),
    ];

    // About 1.75 nF at 5 V and 0.3 nF at 33 V, with the voltage to the power of −0.93 between (from memory).
    private static SuppressorType Suppressor(string name, double standOff, double least, double most,
        double test, double clamp, double peak, double leakage, string source = Series) =>
        new SuppressorType(name, standOff, new(least, most), test, clamp, peak, leakage,
            source)
        { Farads = 1.75e-9 * Math.Pow(standOff / 5, -0.93) }.Checked();

    private static VaristorType Varistor(string name, double volts, double clamp, double clampAmps,
        double lasting, double surge, double joules, double farads, double watts) =>
        new VaristorType(name, new Toleranced(volts, 0.1), clamp, clampAmps, lasting, surge, joules,
            Disks)
        { Farads = farads, RatedWatts = watts }.Checked();
}
