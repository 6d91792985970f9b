using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.Reporting.Words;

/// <summary>What hum leaves in a reading, in words.</summary>
internal static class HumWords
{
    /// <summary>A sentence.</summary>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="h">What it leaves.</param>
    public static string Of(string pin, HumLeft h)
    {
        string left = Figures.Volts(h.LeftVolts, 3) + (h.LeftCounts is { } counts ? $" ({Figures.Plain(counts, "counts", 3)})" : "");
        string hum = $"Of {Figures.Of(h.Hum.RmsVolts, "V", 3)} rms at {Figures.Of(h.Hum.Hertz, "Hz")} "
            + (h.Hum.Farads is { } farads ? $"that reach the line of {h.Sensor} through {Figures.Of(farads, "F")}"
                : $"in the line of {h.Sensor}")
            + $" a sine of {Figures.Volts(h.PinVolts, 3)} peak stands at pin {pin}";
        if (h.Averaging is not { } averaging)
            return $"{hum}: one sample is off by up to {left} either way, tolerances of the parts included.";
        string samples = averaging.Count == 1 ? "one sample" : $"the mean of {Figures.Whole(averaging.Count)} samples";
        string back = h.FoldedHertz < 1e-9 * averaging.Hertz ? "always the same, as its samples fall at the same place of the sine"
            : $"coming back at {Figures.Of(h.FoldedHertz!.Value, "Hz", 3)}";
        return $"{hum}. At {Figures.Of(averaging.Hertz, "Hz")} {samples} leaves {Figures.Percent(h.Leaves, 3)} of it where it is "
            + $"{Figures.Of(h.WorstHertz, "Hz", 4)}: {left} either way, tolerances of the parts included, {back}.";
    }
}
