using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>For each event what reaches the pins, how far that is from the ratings, and where the energy goes.</summary>
internal static class EventsScreen
{
    public static IEnumerable<IRenderable> Of(string title, IReadOnlyList<EventResult> events)
    {
        yield return Blocks.Title(title);
        foreach (var e in events)
        {
            yield return Blocks.Title($"{e.Event.Name}: {e.Event.Disturbance.Text}, at {e.Event.Node}");
            yield return Blocks.Margin(e.Pins.SelectMany(Pin));
            yield return Parts(e);
            yield return Blocks.Margin(
            [
                (Blocks.Word("Audit"), new Text(Blocks.Audit(e.Audit, transient: true))),
                .. e.Event.Disturbance.Cautions.Select(c => ((IRenderable)Blocks.Warning("! Caution"), (IRenderable)new Text(c))),
            ]);
            yield return Blocks.Blank;
        }
    }

    private static IEnumerable<(IRenderable, IRenderable)> Pin(PinExposure p)
    {
        yield return (Blocks.Verdict(p.IsInside), new Text($"pin {p.Pin.Name} inside its rating. {PinWords.Of(p)}"));
        yield return (Text.Empty, new Text(
            $"highest {Blocks.Volts(p.HighestVolts)} at {Time(p.HighestAt)}{Margin(p.UpperMarginVolts, p.UpperRatingVolts)}\n"
            + $"lowest {Blocks.Volts(p.LowestVolts)} at {Time(p.LowestAt)}{Margin(p.LowerMarginVolts, p.LowerRatingVolts)}\n"
            + $"outside its rating for {Time(p.SecondsOutside)}\n"
            + $"into its clamps {Amps(p.UpperInjectionAmps)} up, {Amps(p.LowerInjectionAmps)} down"
            + (p.InjectionMarginAmps is { } margin ? $" (margin {Amps(margin)})" : "") + $", {SiText.Format(p.InjectionCoulombs, "C", 3)} in all"));
        if (!p.Mends.IsEmpty)
            yield return (Text.Empty, new Text($"To mend it: {MendWords.Of(p.Mends)}"));
    }

    private static string Margin(double? margin, double? rating) =>
        margin is { } m && rating is { } r ? $" (rated to {Blocks.Volts(r)}, margin {Blocks.Volts(m)})" : "";

    private static string Time(double seconds) => SiText.Format(seconds, "s", 3);

    private static string Amps(double amps) => SiText.Format(amps, "A", 3);

    // As wide as a terminal of 100 columns allows; the mean power is in the JSON and CSV.
    private static Table Parts(EventResult e) => Blocks.Table(["part", "peak power", "energy", "peak voltage", "peak current", "of its rating"],
        [1, 2, 3, 4, 5], e.Parts.Select(p => new[]
        {
            $"{p.Part.Name} {p.Part.ValueText}", SiText.Format(p.PeakWatts, "W", 3), SiText.Format(p.Joules, "J", 3), SiText.Format(p.PeakVolts, "V", 3), Amps(p.PeakAmps),
            p.Share is { } share && p.Tightest is { } rating ? $"{SiText.Format(share, "%", 2)} of {Limit(rating)}" : "",
        }));

    private static string Limit(Rating rating) => SiText.Format(rating.Limit, rating.Kind.Unit, 3);
}
