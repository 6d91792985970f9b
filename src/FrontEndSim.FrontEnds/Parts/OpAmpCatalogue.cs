using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// Classes of operational amplifier: what several makers' sheets of a class have in common, the severe figure where they differ. Noise
/// densities are those of the flat part, at 1 kHz. Capacitances of inputs, which many sheets do not give, are typical and from memory.
/// </summary>
internal static class OpAmpCatalogue
{
    // What the sources name, beside numbers from memory.
    private const string General =
        "general-purpose bipolar op amps with one or two on a chip (Rohm and Philips data sheets), the rest from memory";
    private const string Jfet =
        "JFET-input op amps of the 13 V/µs class (TI, onsemi and National Semiconductor data sheets), the rest from memory";
    private const string Precision = "OP07 and OP97 classes (Analog Devices data sheets, several grades), the rest from memory";
    private const string Cmos =
        "CMOS op amps of 0.6 to 1.4 MHz for 1.8 V to 6 V (Microchip data sheets of five families), the rest from memory";
    private const string SingleSupply = "LM358 and LM324 classes (ST, HTC and Philips data sheets), the rest from memory";
    private const string ZeroDrift = "zero-drift CMOS op amps (TI data sheets), the rest from memory";

    public static ImmutableArray<OpAmpType> Types { get; } =
    [
        new("bipolar-general", new OpAmpModel
        {
            OpenLoopGain = 1e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.5e6, BiasAmps = 80e-9, InputOhms = 1e6, OutputOhms = 75,
            DropHighVolts = 1.5, DropLowVolts = 1.5, OutputLimitAmps = 25e-3, CommonModeHighVolts = 2, CommonModeLowVolts = 2,
            SupplyAmps = 2e-3, PhaseMarginDegrees = 60, NoiseVolts = 12e-9, NoiseAmps = 0.5e-12,
        }, 6e-3, 500e-9, 200e-9, 8, 36, General)
        {
            InputFarads = 0.7e-12, BetweenFarads = 0.7e-12,
            OffsetVoltsPerKelvin = 15e-6,
            // Makers give no current; every input has a junction to either supply, and 5 mA through it is the usual bound (from memory).
            Inputs = new(InputProtection.ToBothRails, BeyondVolts: 0.3, Amps: 5e-3, DifferentialVolts: 30),
        },
        new("bipolar-single-supply", new OpAmpModel
        {
            OpenLoopGain = 1e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.3e6, BiasAmps = -20e-9, InputOhms = 2e6, OutputOhms = 100,
            DropHighVolts = 2, DropLowVolts = 0.02, OutputLimitAmps = 20e-3, CommonModeHighVolts = 2, CommonModeLowVolts = 0,
            SupplyAmps = 1e-3, PhaseMarginDegrees = 60, NoiseVolts = 40e-9, NoiseAmps = 0.2e-12,
        }, 7e-3, 250e-9, 50e-9, 3, 32, SingleSupply)
        {
            InputFarads = 1.5e-12, BetweenFarads = 0.1e-12,
            OffsetVoltsPerKelvin = 20e-6,
            Inputs = new(InputProtection.ToNegativeRail, BeyondVolts: 0.3, Amps: 5e-3, DifferentialVolts: 32) { HighestVolts = 32 },
        },
        new("jfet-input", new OpAmpModel
        {
            OpenLoopGain = 2e5, GainBandwidthHertz = 3e6, SlewVoltsPerSecond = 13e6, BiasAmps = 30e-12, InputOhms = 1e12, OutputOhms = 100,
            DropHighVolts = 1.5, DropLowVolts = 1.5, OutputLimitAmps = 20e-3, CommonModeHighVolts = 0, CommonModeLowVolts = 3,
            SupplyAmps = 1.4e-3, PhaseMarginDegrees = 60, NoiseVolts = 18e-9, NoiseAmps = 0.01e-12,
            // Somewhere below the common mode that sheets state; half of its distance from the supply (from memory).
            ReversesBelowVolts = 1.5,
        }, 6e-3, 200e-12, 100e-12, 7, 36, Jfet)
        {
            InputFarads = 1e-12, BetweenFarads = 2e-12,
            OffsetVoltsPerKelvin = 18e-6, IsDriftTypical = true,
            BiasDoublingKelvin = 10, MostBiasHot = (85, 20e-9),
            // Makers give no current; every input has a junction to either supply, and 5 mA through it is the usual bound (from memory).
            Inputs = new(InputProtection.ToBothRails, BeyondVolts: 0.3, Amps: 5e-3, DifferentialVolts: 30),
        },
        new("precision-bipolar", new OpAmpModel
        {
            OpenLoopGain = 5e5, GainBandwidthHertz = 0.6e6, SlewVoltsPerSecond = 0.2e6, BiasAmps = 1e-9, InputOhms = 30e6, OutputOhms = 60,
            DropHighVolts = 2, DropLowVolts = 2, OutputLimitAmps = 20e-3, CommonModeHighVolts = 1.5, CommonModeLowVolts = 1.5,
            SupplyAmps = 2e-3, PhaseMarginDegrees = 60, NoiseVolts = 10e-9, NoiseAmps = 0.1e-12,
        }, 150e-6, 4e-9, 4e-9, 6, 36, Precision)
        {
            InputFarads = 3e-12, BetweenFarads = 3e-12,
            OffsetVoltsPerKelvin = 1.5e-6,
            Inputs = new(InputProtection.BackToBack, BeyondVolts: 0.3, Amps: 10e-3, DifferentialVolts: 30) { SeriesOhms = 500 },
        },
        new("rail-to-rail-cmos", new OpAmpModel
        {
            OpenLoopGain = 4e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.6e6, BiasAmps = 1e-12, InputOhms = 1e13, OutputOhms = 100,
            DropHighVolts = 0.025, DropLowVolts = 0.025, OutputLimitAmps = 23e-3, CommonModeHighVolts = -0.3, CommonModeLowVolts = -0.3,
            SupplyAmps = 0.1e-3, PhaseMarginDegrees = 60, NoiseVolts = 28e-9, NoiseAmps = 0.6e-15,
        }, 4.5e-3, 100e-12, 50e-12, 1.8, 6, Cmos)
        {
            InputFarads = 6e-12, BetweenFarads = 3e-12,
            OffsetVoltsPerKelvin = 3.5e-6, IsDriftTypical = true,
            // 1 pA at 25 °C and 20 pA at 85 °C typical; no maximum is printed at 25 °C that means more than a tester's floor.
            BiasDoublingKelvin = 14,
            MostSupplyVolts = 7,
            Inputs = new(InputProtection.ToBothRails, BeyondVolts: 1, Amps: 2e-3, DifferentialVolts: null),
        },
        new("zero-drift-cmos", new OpAmpModel
        {
            OpenLoopGain = 1e6, GainBandwidthHertz = 350e3, SlewVoltsPerSecond = 0.16e6, BiasAmps = 70e-12,
                InputOhms = 1e12, OutputOhms = 200,
            DropHighVolts = 0.05, DropLowVolts = 0.05, OutputLimitAmps = 5e-3, CommonModeHighVolts = -0.1, CommonModeLowVolts = -0.1,
            SupplyAmps = 25e-6, PhaseMarginDegrees = 60, NoiseVolts = 55e-9, NoiseAmps = 0.1e-12,
        }, 10e-6, 200e-12, 400e-12, 1.8, 5.5, ZeroDrift)
        {
            InputFarads = 4e-12, BetweenFarads = 2e-12,
            OffsetVoltsPerKelvin = 0.05e-6,
            MostSupplyVolts = 7,
            Inputs = new(InputProtection.ToBothRails, BeyondVolts: 0.3, Amps: 10e-3, DifferentialVolts: null),
        },
    ];
}
