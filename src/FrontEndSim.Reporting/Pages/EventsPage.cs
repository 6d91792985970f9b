using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>For each event what reaches the pins, how far that is from the ratings, and where the energy goes.</summary>
public static class EventsPage
{
    /// <summary>The page.</summary>
    public static Page Of(EventRuns runs)
    {
        bool isNamed = runs.Events.Length > 1;
        return new(runs.Title, [.. UnstableWords.Of(runs.SettlesTo, "The events begin where they balance."), .. runs.Events.Select((e, k) =>
            new Section($"event{k}", $"{e.Event.Name}: {e.Event.Disturbance.Text}, at {e.Event.Node}"
                + (e.Where is { IsSensorTornOff: true } ? ", the sensor torn off" : ""), Blocks(e, withCauses: !isNamed)))])
        {
            Data = new Table("",
                [
                    new("time", ColumnKind.Number, "s"), .. runs.Events[0]
                        .NodeVolts.Keys.Select(n => new Column(n, ColumnKind.Number, "V")),
                    .. isNamed ? [new Column("event")] : Array.Empty<Column>(),
                ],
                [
                    .. runs.Events.SelectMany(e => e.Seconds.Select((time, row) => (ImmutableArray<Cell>)
                        [time, .. e.NodeVolts.Values.Select(v => (Cell)v[row]), .. isNamed ? [e.Event.Name] : Array.Empty<Cell>()])),
                ]),
        };
    }

    // Less moves a breakdown voltage by no more than one in a hundred.
    private const double TellingKelvin = 10;

    /// <summary>What an event does.</summary>
    /// <param name="e">The event.</param>
    /// <param name="withCauses">Whether the terminal and the currents are drawn as well.</param>
    public static ImmutableArray<Block> Blocks(EventResult e, bool withCauses = false) =>
    [
        new Lines([.. e.Pins.SelectMany(Pin)]),
        new Pictures(withCauses ? EventPicture.WithCauses(e) : EventPicture.Panels(e)),
        Parts(e),
        new Lines([.. e.Parts.Where(p => p.LastingKelvin > TellingKelvin).Select(p => Warm(e, p))]),
        new Lines([AuditWords.Transient(e.Audit)]),
        new Cautions([.. e.Event.Disturbance.Cautions]) { Media = Media.Screen },
    ];

    /// <summary>All events, a row an event and pin. A column that says nothing is left out, unless all are asked for.</summary>
    public static Table Summary(ImmutableArray<EventResult> events, bool details)
    {
        var rows = events.SelectMany(e => e.Pins.Select(p => (Event: e, Pin: p))).ToArray();
        // No pin leaves its rating, no clamp carries a hundredth of what it may.
        bool leaves = details || rows.Any(r => r.Pin.SecondsOutside > 0), clamps = details
            || rows.Any(r => r.Pin.InjectionAmps > 0.01 * (r.Pin.Pin.InjectionAmps ?? 1e-4));
        return new("",
            [
                new("event"), new("pin"), new("lowest", ColumnKind.Number, "V"), new("highest", ColumnKind.Number, "V"),
                .. leaves ? [new Column("outside for", ColumnKind.Number, "s") { Digits = 3 }] : Array.Empty<Column>(),
                .. clamps ? [new Column("into clamps", ColumnKind.Number, "A") { Digits = 3 }] : Array.Empty<Column>(),
                new("most stressed part"),
            ],
            [
                .. rows.Select(r => (ImmutableArray<Cell>)
                [
                    r.Event.Event.Name, r.Pin.Pin.Name, r.Pin.LowestVolts, r.Pin.HighestVolts, .. leaves
                        ? [r.Pin.SecondsOutside] : Array.Empty<Cell>(),
                    .. clamps ? [r.Pin.InjectionAmps] : Array.Empty<Cell>(),
                    r.Event.Parts.FirstOrDefault(s => s.Share is not null) is { Share: { } share } most
                        ? $"{most.Part.Name} {Figures.Percent(share, 3)}" : "",
                ]),
            ]);
    }

    private static Line Warm(EventResult e, PartStress p) => new("Warm",
        $"{p.Part.Name} gets {Figures.Plain(p.LastingKelvin, "K", 3)} warmer than its surroundings for what it dissipates for ever. "
        + (e.Where?.Ends.Any(x => x.Subject == p.Part.Name && x.Of == ToleranceEnd.JunctionTemperature) == true
            ? "It is as warm as that here."
            : "It is shown as it is at first; check judges it as warm as that, where it gives way at a higher voltage."));

    private static IEnumerable<Line> Pin(PinExposure p)
    {
        yield return new("", $"pin {p.Pin.Name} inside its rating. {PinWords.Of(p)}") { Standing = Standings.Of(p.IsInside) };
        yield return new("",
            $"highest {Figures.Volts(p.HighestVolts)} at {Figures.Time(p.HighestAt)}"
                + $"{Margin(p.UpperMarginVolts, p.UpperRatingVolts, p.HighestVolts, below: true)}\n"
            + $"lowest {Figures.Volts(p.LowestVolts)} at {Figures.Time(p.LowestAt)}"
                + $"{Margin(p.LowerMarginVolts, p.LowerRatingVolts, p.LowestVolts, below: false)}\n"
            + $"outside its rating for {Figures.Time(p.SecondsOutside)}\n"
            + $"into its clamps {Amps(p.UpperInjectionAmps)} up, {Amps(p.LowerInjectionAmps)} down"
            + (p.InjectionMarginAmps is { } margin ? $" (margin {Amps(margin)})" : "")
                + $", {Figures.Of(p.InjectionCoulombs, "C", 3)} in all");
    }

    private static string Amps(double amps) => Figures.Of(amps, "A", 3);

    private static string Margin(double? margin, double? rating, double extreme, bool below)
    {
        if (margin is not { } m || rating is not { } r)
            return "";
        double there = below ? r - m : r + m;
        return $" (rated to {Figures.Volts(r)}{(PinWords.IsSame(extreme, there) ? "" : $" where it stands at {Figures.Volts(there)}")}, "
            + $"margin {Figures.Volts(m)})";
    }

    private static Table Parts(EventResult e) => new("",
        [
            new("part"), new("peak power", ColumnKind.Number, "W") { Digits = 3 }, new("energy", ColumnKind.Number, "J") { Digits = 3 },
            new("peak voltage", ColumnKind.Number, "V") { Digits = 3 },
                new("peak current", ColumnKind.Number, "A") { Digits = 3 }, new("of its rating", ColumnKind.Bar, "%") { Digits = 2 },
        ],
        [
            .. e.Parts.Select(p => (ImmutableArray<Cell>)
            [
                $"{p.Part.Name} {(p.Part is SensorOutput ? e.Where is { IsSensorTornOff: true } ? "sensor, if it stays" : "sensor"
                    : p.Part.ValueText)}", p.PeakWatts, p.Joules, p.PeakVolts, p.PeakAmps,
                p.Load is { } load ? new Cell { Number = load.Share, Share = load.Share, Words = $"of {Amounts.Of(load.Limit)}" } : "",
            ]),
        ]);
}
