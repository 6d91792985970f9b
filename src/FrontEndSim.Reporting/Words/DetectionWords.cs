using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.Reporting.Words;

/// <summary>What firmware sees of faults, in words.</summary>
internal static class DetectionWords
{
    // More names than this in a row nobody reads.
    private const int MostNames = 6;

    /// <summary>What decides, and which codes are valid.</summary>
    public static string Of(DetectionReason reason)
    {
        string bands = string.Join(" ", reason.Bands.Select(Of));
        string others = reason.Hidden.Length > 1
            ? $" Nor can {Figures.And([.. reason.Hidden.Where(h => h != reason.Deciding).Take(MostNames).Select(h => h.Fault.Text)])}"
                + $"{(reason.Hidden.Length - 1 > MostNames ? $" and {reason.Hidden.Length - 1 - MostNames} more" : "")}." : "";
        if (reason.Deciding is not { } row)
            return $"{bands} No fault makes the reading wrong by more than a board may be.";
        return reason.Hidden.IsEmpty
            ? $"{bands} Nearest to them comes {row.Fault.Text}, {Amounts.Counts(row.MarginCounts ?? 0)} away: {Codes(row, reason)}."
                + (reason.Harmless > 0 ? $" {reason.Harmless} of {reason.Faults} faults leave the reading right." : "")
            : $"{bands} {Figures.Sentence(row.Fault.Text)} cannot be told from a valid reading"
                + $"{(row.Sight == FaultSight.AtTimes ? " at every place of the span" : "")}: {Codes(row, reason)}.{others}";
    }

    /// <summary>"Codes 707 .. 3788 of adc are valid readings of pressure (0 bar .. 10 bar)."</summary>
    public static string Of(ValidBand band) => $"Codes {Figures.Whole(band.LowCode)} .. {Figures.Whole(band.HighCode)} of {band.Pin} (of "
        + $"0 .. {Figures.Whole(band.LastCode)}) are valid readings of {band.Sensor} from "
            + $"{Figures.Of(band.Measuring.Low, band.SensorUnit)} to "
        + $"{Figures.Of(band.Measuring.High, band.SensorUnit)} with all tolerances together.";

    /// <summary>Whether it can be told.</summary>
    public static string Of(FaultSight sight) => sight switch
    {
        FaultSight.Detected => "told",
        FaultSight.Harmless => "reads right",
        FaultSight.AtTimes => "told at times",
        FaultSight.Hidden => "READS AS VALID",
        _ => "not known",
    };

    /// <summary>"3.6 .. 4.2", or one code.</summary>
    public static string Codes(FaultCodes codes) => Range(codes.At.Min(a => a.LowCode), codes.At.Max(a => a.HighCode), Figures.Whole);

    /// <summary>What firmware would make of it over the span.</summary>
    public static string Readings(FaultCodes codes, string unit) => codes.Floats ? "undefined, it floats"
        : Range(codes.At.Min(a => a.Reading), codes.At.Max(a => a.Reading), v => Figures.Of(v, unit, 3));

    private static string Range(double low, double high, Func<double, string> words) =>
        words(low) == words(high) ? words(low) : $"{words(low)} .. {words(high)}";

    private static string Codes(DetectionRow row, DetectionReason reason) => string.Join(", ", row.Pins.Select(p =>
        $"{p.Pin} {(p.Floats ? "floats and " : "")}reads {Codes(p)} over the span, which {(p.Floats ? "is " : "stands for ")}"
        + Readings(p, reason.Bands.First(b => b.Pin == p.Pin).SensorUnit)));
}
