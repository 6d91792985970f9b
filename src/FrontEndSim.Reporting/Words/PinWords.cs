using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.Reporting.Words;

/// <summary>What reaches a pin, in a sentence.</summary>
public static class PinWords
{
    /// <summary>How far the pin is inside of its ratings, or which it breaks.</summary>
    public static string Of(PinExposure e) => !e.IsRated ? $"Pin {e.Pin.Name} has no rating, so nothing shows that it survives."
        : Sentence(e, e.IsInside ? Kept(e) : Broken(e));

    private static List<string> Kept(PinExposure e)
    {
        List<string> parts = [];
        if (e.UpperMarginVolts is { } upper)
            parts.Add(Beyond("peaks at", e.HighestVolts, e.UpperRatingVolts!.Value - upper,
                $"{From(upper)} {Rated(e.Pin.RatedHigh!, e.UpperRatingVolts.Value)}"));
        if (e.LowerMarginVolts is { } lower)
            parts.Add(Beyond("falls to", e.LowestVolts, e.LowerRatingVolts!.Value + lower,
                $"{From(lower)} {Rated(e.Pin.RatedLow!, e.LowerRatingVolts.Value)}"));
        if (e.InjectionMarginAmps is not null)
            parts.Add($"its clamps carry at most {Amounts.Amps(e.InjectionAmps)} of {Amounts.Amps(e.Pin.InjectionAmps!.Value)}");
        return parts;
    }

    // A pin whose sheet permits a current through its clamps is judged by that current, and may stand beyond the voltage.
    private static string From(double margin) => $"{Amounts.Volts(Math.Abs(margin))} {(margin < 0 ? "beyond" : "inside")}";

    private static List<string> Broken(PinExposure e)
    {
        List<string> parts = [];
        if (e.UpperMarginVolts is < 0 and { } upper)
            parts.Add(Beyond("reaches", e.HighestVolts, e.UpperRatingVolts!.Value - upper, $"{Amounts.Volts(-upper)} above its rating of "
                + Rated(e.Pin.RatedHigh!, e.UpperRatingVolts!.Value)));
        if (e.LowerMarginVolts is < 0 and { } lower)
            parts.Add(Beyond("falls to", e.LowestVolts, e.LowerRatingVolts!.Value + lower, $"{Amounts.Volts(-lower)} below its rating of "
                + Rated(e.Pin.RatedLow!, e.LowerRatingVolts!.Value)));
        if (e.SecondsOutside > 0)
            parts.Add($"is outside for {Figures.Time(e.SecondsOutside)}");
        string side = e.UpperInjectionAmps > e.LowerInjectionAmps ? "upper" : "lower";
        if (e.InjectionMarginAmps is < 0)
            parts.Add($"its own {side} clamp carries {Amounts.Amps(e.InjectionAmps)}, rated {Amounts.Amps(e.Pin.InjectionAmps!.Value)}");
        if (e.IsInjectedTooMuch)
        {
            parts.Add($"its own {side} clamp carries {Amounts.Amps(e.InjectionAmps)}, and no pin of its kind stands more than "
                + $"{Amounts.Amps(e.Pin.MostInjectionAmps)} where nothing is stated");
        }
        if (e.SupplyMarginVolts is < 0 and { } supply)
        {
            parts.Add($"its supply {e.Pin.ClampRail} is lifted to {Amounts.Volts(e.SupplyHighestVolts!.Value)}, {Amounts.Volts(-supply)} "
                + $"more than a device on it "
                + "can be trusted to stand");
        }
        return parts;
    }

    /// <summary>
    /// Whether the pin stands at its extreme where it comes nearest to its rating: a rating that follows a rail may be passed at another
    /// instant.
    /// </summary>
    internal static bool IsSame(double extreme, double there) => Math.Abs(extreme - there) <= 1e-3 * Math.Max(Math.Abs(extreme), 1);

    private static string Beyond(string verb, double extreme, double there, string by) => IsSame(extreme, there)
        ? $"{verb} {Amounts.Volts(extreme)}, {by}" : $"{verb} {Amounts.Volts(extreme)}; at {Amounts.Volts(there)} it is {by}";

    private static string Sentence(PinExposure e, List<string> parts) =>
        $"Pin {e.Pin.Name}{(parts[0].StartsWith("its", StringComparison.Ordinal) ? ":" : "")} {string.Join("; ", parts)}.";

    private static string Rated(Level level, double volts) => level.Rail is null ? level.ToString() : $"{Amounts.Volts(volts)} ({level})";
}
