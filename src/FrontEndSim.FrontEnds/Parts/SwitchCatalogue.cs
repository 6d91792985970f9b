namespace FrontEndSim.FrontEnds.Parts;

/// <summary>Classes of analog switches.</summary>
internal static class SwitchCatalogue
{
    public static ImmutableArray<PartType> Types { get; } =
    [
        new AnalogSwitchType("4000-analog-switch", 270, 1050, 5, 100e-9, 1e-6, 5e-12, 10e-12, 18, 10e-3,
            "4066B and 4051B classes at 5 V, from memory").Checked(),
        new AnalogSwitchType("hc-analog-switch", 60, 180, 4.5, 100e-9, 1e-6, 5e-12, 8e-12, 10, 25e-3,
            "74HC4066 and 74HC4051 classes at 4.5 V, from memory").Checked(),
        new AnalogSwitchType("low-voltage-analog-switch", 15, 30, 3, 100e-9, 1e-6, 10e-12, 15e-12, 6.5, 50e-3,
            "74LVC1G66 class at 3 V, from memory").Checked(),
        new AnalogSwitchType("precision-analog-switch", 25, 45, 15, 0.25e-9, 20e-9, 5e-12, 9e-12, 44, 30e-3,
            "DG411 class at ±15 V, from memory").Checked(),
    ];
}
