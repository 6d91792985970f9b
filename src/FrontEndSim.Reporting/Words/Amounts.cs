using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.Reporting.Words;

/// <summary>Measured values as a person reads them.</summary>
public static class Amounts
{
    // Below a thousandth of a count nothing is meant any more.
    private const double LeastCounts = 1e-3;

    // Nor below a picoampere, which no bench of those who build such circuits measures.
    private const double LeastAmps = 1e-12;

    /// <summary>Three digits with the unit: "2.13 counts", "35.4 %", "7.5 V"; "never" for a time that does not come.</summary>
    public static string Of(Quantity value) => value.Unit == Unit.Count ? Counts(value.Value)
        : value.Unit == Unit.Seconds ? Figures.Time(value.Value)
        : value.Unit == Unit.Amps ? Amps(value.Value)
        : Figures.Of(value.Value, value.Symbol, 3);

    /// <summary>The same, with a word where there is none.</summary>
    public static string Of(Quantity? value, string none) => value is { } v ? Of(v) : none;

    /// <summary>A voltage, V.</summary>
    public static string Volts(double volts) => Figures.Of(volts, "V", 3);

    /// <summary>A current, A.</summary>
    public static string Amps(double amps) => Math.Abs(amps) is > 0 and < LeastAmps ? "under 1 pA" : Figures.Of(amps, "A", 3);

    /// <summary>A number of counts.</summary>
    public static string Counts(double counts) =>
        Math.Abs(counts) < LeastCounts ? "under 0.001 counts" : Figures.Plain(counts, "counts", 3);
}
