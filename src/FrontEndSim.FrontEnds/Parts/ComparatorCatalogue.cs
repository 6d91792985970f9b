using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Classes of comparator: what several makers' sheets of a class have in common, the severe figure where they differ.</summary>
internal static class ComparatorCatalogue
{
    private const string SingleSupply =
        "LM393 and LM2903 classes (TI, onsemi, Fairchild and ST data sheets), supplies and lowest input from memory";
    private const string Quick = "comparators of the 200 ns class with an open collector (LM311 class), from memory";
    private const string Cmos = "CMOS comparators of microamperes with hysteresis, 1.6 V to 5.5 V (MCP6541 class), from memory";

    public static ImmutableArray<PartType> Types { get; } =
    [
        // 0.2 V at 4 mA and 16 mA at 1.5 V, both typical; largest figures over temperature. The offset is that of the plain grade.
        new ComparatorType("open-collector", new ComparatorModel
        {
            DelaySeconds = 1.4e-6, BiasAmps = -50e-9, CommonModeHighVolts = 2, CommonModeLowVolts = -0.3, SinkOhms = 50, SinkAmps = 16e-3,
            LeakageSiemens = 2e-11, LeastSupplyVolts = 1.8, SupplyAmps = 0.6e-3,
        }, SingleSupply)
        {
            MostOffsetVolts = 9e-3, MostBiasAmps = 500e-9, SupplyVolts = (2, 36), MostSupplyVolts = 36,
                HighestInputVolts = 36, InputAmps = 5e-3,
            HighestOutputVolts = 36, OutputAmps = 20e-3, RatedWatts = 0.5, MostLeakageAmps = 1e-6,
        },
        new ComparatorType("quick-open-collector", new ComparatorModel
        {
            DelaySeconds = 200e-9, BiasAmps = 100e-9, CommonModeHighVolts = 1.5, CommonModeLowVolts = 0.5, SinkOhms = 25, SinkAmps = 50e-3,
            LeakageSiemens = 1e-11, LeastSupplyVolts = 3, SupplyAmps = 5e-3,
        }, Quick)
        {
            MostOffsetVolts = 10e-3, MostBiasAmps = 300e-9, SupplyVolts = (5, 36), MostSupplyVolts = 36,
                HighestInputVolts = 30, InputAmps = 5e-3,
            HighestOutputVolts = 40, OutputAmps = 50e-3, RatedWatts = 0.5, MostLeakageAmps = 1e-6,
        },
        new ComparatorType("push-pull-cmos", new ComparatorModel
        {
            DelaySeconds = 4e-6, HysteresisVolts = 3.3e-3, BiasAmps = 1e-12, CommonModeHighVolts = -0.3,
                CommonModeLowVolts = -0.3, SinkOhms = 100, SinkAmps = 20e-3,
            SourceOhms = 100, SourceAmps = 20e-3, LeakageSiemens = 1e-12, LeastSupplyVolts = 1.4, SupplyAmps = 1e-6,
        }, Cmos)
        {
            MostOffsetVolts = 7e-3, MostBiasAmps = 100e-12, SupplyVolts = (1.6, 5.5), MostSupplyVolts = 7,
                InputAmps = 2e-3, OutputAmps = 25e-3, RatedWatts = 0.3,
        },
    ];
}
