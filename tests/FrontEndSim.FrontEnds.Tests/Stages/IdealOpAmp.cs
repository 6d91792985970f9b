using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>An op amp good enough to be called ideal: gain errors and loading below 1e-12, output up to its rails.</summary>
internal static class IdealOpAmp
{
    /// <summary>Its numbers.</summary>
    public static OpAmpModel Model { get; } = new()
    {
        OpenLoopGain = 1e13,
        InputOhms = 1e16,
        OutputOhms = 1e-2,
        OutputLimitAmps = 1e3,
        DropHighVolts = 0,
        DropLowVolts = 0,
    };

    /// <summary>A class of such op amps, without offset or bias.</summary>
    public static OpAmpType Type { get; } = Like(Model);

    /// <summary>A class of that name with other numbers.</summary>
    public static OpAmpType Like(OpAmpModel model, double highestSupplyVolts = 100) =>
        new("ideal", model, 0, 0, 0, 1, highestSupplyVolts, "test");
}
