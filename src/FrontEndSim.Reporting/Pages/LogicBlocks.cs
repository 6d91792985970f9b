using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>How a logic pin reads its sensor, in words and tables.</summary>
internal static class LogicBlocks
{
    /// <summary>Levels with their margins, changes, and what is to be said of them.</summary>
    public static ImmutableArray<Block> Of(LogicResult r) =>
    [
        new Facts(
        [
            new("least noise margin, worst case", Figures.Volts(r.WorstMarginVolts, 3)),
                new("delay of a jump", Figures.Time(r.DelaySeconds)),
            new("changes", r.IsClean ? "all clean" : "not all clean"),
            new("ripple that is covered", r.RippleLimitVolts is { } limit ? Figures.Volts(limit, 3) + " from peak to peak"
                : r.Pin.Logic!.Type.HasHysteresis ? "not asked for" : "none, no hysteresis"),
        ]) { Media = Media.Paper },
        new Table("Levels",
            [
                new("level"), new(r.Sensor, ColumnKind.Number, r.SensorUnit), new("pin", ColumnKind.Number, "V"),
                    new("guaranteed", ColumnKind.Number), new("margin", ColumnKind.Number, "V") { Digits = 3 },
                new("worst case", ColumnKind.Number),
            ],
            [Row(r, "low", "below", r.Low), Row(r, "high", "above", r.High)]),
        new Table("Changes of the sensor over its span",
            [
                new("change"), new("pin"), new("guaranteed level after", ColumnKind.Number),
                    new("gate after", ColumnKind.Number), new("between the levels for", ColumnKind.Number),
                new("gate changes", ColumnKind.Plain), new("clean"),
            ],
            [
                .. r.Edges.Select(e => (ImmutableArray<Cell>)
                [
                    e.IsSudden ? "sudden" : "slowest", e.Rises ? "rises"
                        : "falls", Figures.Time(e.PinDelaySeconds), Figures.Time(e.GateDelaySeconds),
                    Figures.Time(e.PassageSeconds), (double)e.Changes, e.IsClean ? "yes" : "no",
                ]),
            ]),
        new Lines([.. Notes(r)]),
    ];

    /// <summary>Heading of the blocks.</summary>
    public static string Heading(LogicResult r) =>
        $"Levels at pin {r.Pin.Name}: {r.Pin.Logic!.Type.Name} on {Figures.Volts(r.SupplyVolts)}";

    /// <summary>The blocks with their heading and their picture.</summary>
    /// <param name="r">What was found.</param>
    /// <param name="id">Short name of the section.</param>
    public static Section Section(LogicResult r, string id) =>
        new(id, Heading(r), [.. Of(r), new Pictures(LogicPicture.Panels(r))]);

    /// <summary>The same on one line.</summary>
    public static string Summary(LogicResult r)
    {
        int dirty = r.Edges.Count(e => !e.IsClean);
        return $"{r.Sensor} {LogicWords.Place(r, r.Low)} reads low at {r.Pin.Name} with "
            + $"{Figures.Volts(r.Low.MarginVolts, 3)} of margin ({Figures.Volts(r.Low.WorstMarginVolts, 3)} worst case), "
            + $"{LogicWords.Place(r, r.High)} high with {Figures.Volts(r.High.MarginVolts, 3)} "
                + $"({Figures.Volts(r.High.WorstMarginVolts, 3)} worst case); "
            + (double.IsInfinity(r.DelaySeconds) ? "after a jump no guaranteed level is reached; "
                : $"after a jump the level is guaranteed after {Figures.Time(r.DelaySeconds)}; ")
            + (dirty == 0 ? $"{(r.Edges.Any(e => !e.IsSudden) ? "sudden and slowest" : "sudden")} changes are clean."
                : $"{dirty} of {r.Edges.Length} changes looked at are not clean.")
            + (r.Pulses is { } pulses ? " " + LogicWords.Of(r.Sensor, pulses) : "");
    }

    private static ImmutableArray<Cell> Row(LogicResult r, string word, string side, LogicLevel l) =>
        [word, r.States == SensorStates.None ? l.SensorValue : LogicWords.Place(r, l), l.PinVolts,
            $"{side} {Figures.Volts(l.LimitVolts)}", l.MarginVolts, (l.IsExact ? "" : "over ")
            + Figures.Volts(l.WorstMarginVolts, 3)];

    private static IEnumerable<Line> Notes(LogicResult r)
    {
        var type = r.Pin.Logic!.Type;
        var sudden = r.Edges.Where(e => e.IsSudden).ToArray();
        yield return new("Delay", $"The way from sensor to pin adds up to {Figures.Time(r.DelaySeconds)} until the level is guaranteed "
            + $"for any gate of the family; "
            + $"a typical one has changed after {Figures.Time(sudden.Max(e => e.GateDelaySeconds))}.");
        yield return new("Edges", type.HasHysteresis
            ? $"The gate has hysteresis; slow changes are simulated with the least of the family, "
                + $"{Figures.Volts(type.GateAtWorst!.Rising(r.SupplyVolts) - type.GateAtWorst.Falling(r.SupplyVolts), 3)}."
            : "The gate has no hysteresis" + (type.SlowestSecondsPerVolt is not { } most ? ""
                : ": it wants to be taken from level to level within "
                    + Figures.Time(most * (r.High.LimitVolts - r.Low.LimitVolts))) + ".");
        if (r.RippleLimitVolts is { } limit)
            yield return new("Ripple",
                $"At its frequency the hysteresis covers {Figures.Volts(limit, 3)} from peak to peak at the sensor.");
        if (r.Pulses is { } pulses)
            yield return new("Pulses", LogicWords.Of(r.Sensor, pulses));
        if (r.States == SensorStates.None && r.Edges.All(e => e.IsSudden))
            yield return new("Slow", $"The file does not say how slowly {r.Sensor} may change: write edge TIME below it, and ripple VOLTS "
                + $"at FREQUENCY for what rides on it.");
        foreach (var edge in r.Edges.Where(e => !e.IsClean))
            yield return new("! Warning", LogicWords.Of(r, edge)) { Standing = Standing.Warning };
    }
}
