using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>The junction of a small chip that leads from a pin to a supply pin.</summary>
internal static class ChipDiode
{
    /// <summary>About 0.7 V at 1 mA, some tens of ohm (typical, from memory).</summary>
    public static DiodeModel Model { get; } = new()
    {
        SaturationAmps = 1e-15,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12, // diffusion in silicon (Sze)
        TemperatureExponent = 3,
        SeriesOhms = 25,
    };
}
