using System.Text.Json.Nodes;
using FrontEndSim.FrontEnds.Studies.Bias;

namespace FrontEndSim.Reporting;

/// <summary>An op amp's distance from its limits, for programs to read.</summary>
internal static class HeadroomDocument
{
    /// <summary>An object with "opamp", "swing" ("volts", "side", "at"), "commonMode" (the same) and "outputAmps", "outputLimitAmps".</summary>
    public static JsonNode Json(OpAmpHeadroom headroom) => new JsonObject
    {
        ["opamp"] = headroom.OpAmp,
        ["swing"] = Distance(headroom.SwingVolts, headroom.SwingSide, headroom.SwingAt),
        ["commonMode"] = Distance(headroom.CommonModeVolts, headroom.CommonModeSide, headroom.CommonModeAt),
        ["outputAmps"] = JsonNumber.Of(headroom.OutputAmps),
        ["outputLimitAmps"] = JsonNumber.Of(headroom.OutputLimitAmps),
    };

    private static JsonObject Distance(double volts, string side, double at) => new()
    {
        ["volts"] = JsonNumber.Of(volts),
        ["side"] = side,
        ["at"] = JsonNumber.Of(at),
    };
}
