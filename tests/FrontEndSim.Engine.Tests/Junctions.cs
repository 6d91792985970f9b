using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests;

/// <summary>Junctions for circuits whose closed form does not hang on their numbers.</summary>
internal static class Junctions
{
    /// <summary>Diffusion in silicon: 10 fA, slope of kT/q, a gap of 1.12 eV (Sze), and T cubed.</summary>
    public static readonly DiodeModel Silicon = new()
    {
        SaturationAmps = 1e-14,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12,
        TemperatureExponent = 3,
    };

    /// <summary>The same with a breakdown that carries 1 mA.</summary>
    public static DiodeModel Zener(double volts, double slope = 0.03) =>
        Silicon with { BreakdownVolts = volts, BreakdownAmps = 1e-3, BreakdownSlopeVolts = slope };
}
