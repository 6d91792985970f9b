using System.Collections.Immutable;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// Classes of operational amplifier. All numbers: typical of the class, from memory; noise densities are those of the flat part, at 1 kHz.
/// </summary>
internal static class OpAmpCatalogue
{
    private const string Memory = "typical of the class, from memory";

    public static ImmutableArray<OpAmpType> Types { get; } =
    [
        new("bipolar-general", new OpAmpModel
        {
            OpenLoopGain = 2e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.5e6, BiasAmps = 80e-9, InputOhms = 2e6, OutputOhms = 75,
            DropHighVolts = 1.5, DropLowVolts = 1.5, OutputLimitAmps = 25e-3, CommonModeHighVolts = 2, CommonModeLowVolts = 2,
            SupplyAmps = 1.7e-3, PhaseMarginDegrees = 60, NoiseVolts = 25e-9, NoiseAmps = 0.5e-12,
        }, 5e-3, 500e-9, 200e-9, 8, 36, Memory) { OffsetVoltsPerKelvin = 15e-6 },
        new("jfet-input", new OpAmpModel
        {
            OpenLoopGain = 2e5, GainBandwidthHertz = 3e6, SlewVoltsPerSecond = 13e6, BiasAmps = 30e-12, InputOhms = 1e12, OutputOhms = 100,
            DropHighVolts = 1.5, DropLowVolts = 1.5, OutputLimitAmps = 20e-3, CommonModeHighVolts = 0, CommonModeLowVolts = 3,
            SupplyAmps = 1.4e-3, PhaseMarginDegrees = 60, NoiseVolts = 18e-9, NoiseAmps = 0.01e-12,
        }, 6e-3, 200e-12, 100e-12, 7, 36, Memory) { OffsetVoltsPerKelvin = 18e-6 },
        new("precision-bipolar", new OpAmpModel
        {
            OpenLoopGain = 5e5, GainBandwidthHertz = 0.6e6, SlewVoltsPerSecond = 0.3e6, BiasAmps = 1.2e-9, InputOhms = 50e6, OutputOhms = 60,
            DropHighVolts = 2, DropLowVolts = 2, OutputLimitAmps = 15e-3, CommonModeHighVolts = 1.5, CommonModeLowVolts = 1.5,
            SupplyAmps = 2.5e-3, PhaseMarginDegrees = 60, NoiseVolts = 10e-9, NoiseAmps = 0.1e-12,
        }, 75e-6, 4e-9, 3.8e-9, 6, 44, Memory) { OffsetVoltsPerKelvin = 1.3e-6 },
        new("rail-to-rail-cmos", new OpAmpModel
        {
            OpenLoopGain = 4e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.6e6, BiasAmps = 1e-12, InputOhms = 1e13, OutputOhms = 100,
            DropHighVolts = 0.025, DropLowVolts = 0.025, OutputLimitAmps = 23e-3, CommonModeHighVolts = -0.3, CommonModeLowVolts = -0.3,
            SupplyAmps = 0.1e-3, PhaseMarginDegrees = 60, NoiseVolts = 28e-9, NoiseAmps = 0.6e-15,
        }, 4.5e-3, 100e-12, 50e-12, 1.8, 6, Memory) { OffsetVoltsPerKelvin = 5e-6 },
    ];
}
