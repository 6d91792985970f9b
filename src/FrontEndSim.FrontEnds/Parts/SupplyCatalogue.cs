namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Classes of regulators and shunt references.</summary>
internal static class SupplyCatalogue
{
    private const string Shunt = "two-terminal references of the LM4040 class, from memory";

    public static ImmutableArray<PartType> Types { get; } =
    [
        new RegulatorType("cmos-low-dropout", 0.01, 0.35, 0.25, 0.408, 4e-6, 6.5,
            "MCP1700 class (Microchip), dropout, input and capacitor from memory") { RatedWatts = 0.35, OutputFarads = 1e-6 },
        new RegulatorType("pnp-low-dropout", 0.08, 0.45, 0.1, 0.2, 120e-6, 16,
            "LP2981 and LP2950 classes (TI), from memory; above 0.3 V from output to input a parasitic thyristor may latch")
            { RatedWatts = 0.35, OutputFarads = 2.2e-6 },
        new RegulatorType("npn-low-dropout", 1.1, 1.3, 0.8, 1.2, 5e-3, 15,
            "LM1117 class, from memory; its diode carries ten amperes for microseconds")
            { MostReverseVolts = 1.2, RatedWatts = 1, Tolerance = 0.01, OutputFarads = 10e-6 },
        new RegulatorType("standard-100mA", 1.5, 1.7, 0.1, 0.15, 3e-3, 30,
            "78L05 class, from memory; its junction breaks above 7 V from output to input")
            {
                MostReverseVolts = 7, HasReverseDiode = false, RatedWatts = 0.6, Tolerance = 0.05, TempCo = 200e-6, OutputFarads = 0.1e-6,
            },
        .. new (string Name, double Volts)[] { ("series-2V5", 2.5), ("series-3V", 3), ("series-4V096", 4.096) }.Select(r =>
            new RegulatorType(r.Name, 0.005, 0.25, 25e-3, 45e-3, 60e-6, 5.5, "three-terminal references of the REF30xx class, from memory")
            { ReferenceVolts = r.Volts, Tolerance = 0.002, TempCo = 75e-6, OutputOhms = 0.05, RatedWatts = 0.25 }),
        new RegulatorType("series-5V", 2.5, 3, 10e-3, 30e-3, 1.4e-3, 40, "buried-zener references of the REF02 class, from memory")
        {
            ReferenceVolts = 5, Tolerance = 0.006, TempCo = 25e-6, OutputOhms = 0.05, RatedWatts = 0.5,
            MostReverseVolts = 0.5, HasReverseDiode = true,
        },
        new ReferenceType("shunt-2V5", new Toleranced(2.5, 0.005, 100e-6), 75e-6, 15e-3, 0.5, Shunt).Checked(),
        new ReferenceType("shunt-4V096", new Toleranced(4.096, 0.005, 100e-6), 80e-6, 15e-3, 0.6, Shunt).Checked(),
        new ReferenceType("shunt-5V", new Toleranced(5, 0.005, 100e-6), 90e-6, 15e-3, 0.7, Shunt).Checked(),
    ];
}
