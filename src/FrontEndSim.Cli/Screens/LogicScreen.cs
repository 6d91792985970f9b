using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>How a logic pin reads its sensor: levels with their margins, then changes.</summary>
internal static class LogicScreen
{
    public static IEnumerable<IRenderable> Of(LogicResult r)
    {
        var type = r.Pin.Logic!.Type;
        yield return Blocks.Title($"Levels at pin {r.Pin.Name}: {type.Name} on {Blocks.Volts(r.SupplyVolts)}");
        yield return Blocks.Table(["level", r.Sensor, "pin", "certain", "margin", "at worst"], [1, 2, 3, 4, 5], [Row("low", "below", r.Low), Row("high", "above", r.High)]);
        yield return Blocks.Blank;
        yield return Blocks.Title("Changes of the sensor over its span");
        yield return Blocks.Table(["change", "pin", "pin certain after", "gate after", "between the levels for", "gate changes", "clean"], [2, 3, 4, 5],
            r.Edges.Select(e => (string[])[e.IsSudden ? "sudden" : "slowest", e.Rises ? "rises" : "falls", Amounts.Time(e.PinDelaySeconds), Amounts.Time(e.GateDelaySeconds),
                Amounts.Time(e.PassageSeconds), $"{e.Changes}", e.IsClean ? "yes" : "no"]));
        yield return Blocks.Blank;
        yield return Blocks.Margin([.. Notes(r).Select(n => ((IRenderable)Blocks.Word(n.Word), (IRenderable)new Text(n.Text)))]);
        yield return Blocks.Blank;
    }

    /// <summary>The same on one line.</summary>
    public static string Summary(LogicResult r)
    {
        int dirty = r.Edges.Count(e => !e.IsClean);
        return $"{r.Sensor} {Blocks.Volts(r.Low.SensorVolts)} reads low at {r.Pin.Name} with {SiText.Format(r.Low.MarginVolts, "V", 3)} in hand ({SiText.Format(r.Low.WorstMarginVolts, "V", 3)} at worst), "
            + $"{Blocks.Volts(r.High.SensorVolts)} high with {SiText.Format(r.High.MarginVolts, "V", 3)} ({SiText.Format(r.High.WorstMarginVolts, "V", 3)} at worst); "
            + (double.IsInfinity(r.DelaySeconds) ? "after a jump a level is never certain; " : $"a jump is certain after {Amounts.Time(r.DelaySeconds)}; ")
            + (dirty == 0 ? $"{(r.Edges.Any(e => !e.IsSudden) ? "sudden and slowest" : "sudden")} changes are clean." : $"{dirty} of {r.Edges.Length} changes looked at are not clean.");
    }

    private static string[] Row(string word, string side, LogicLevel l) =>
        [word, Blocks.Volts(l.SensorVolts), Blocks.Volts(l.PinVolts), $"{side} {Blocks.Volts(l.LimitVolts)}", SiText.Format(l.MarginVolts, "V", 3), (l.IsExact ? "" : "over ") + SiText.Format(l.WorstMarginVolts, "V", 3)];

    private static IEnumerable<(string Word, string Text)> Notes(LogicResult r)
    {
        var type = r.Pin.Logic!.Type;
        var sudden = r.Edges.Where(e => e.IsSudden).ToArray();
        yield return ("Delay", $"The way from sensor to pin adds up to {Amounts.Time(r.DelaySeconds)} until the level is certain for any gate of the family; "
            + $"a typical one has changed after {Amounts.Time(sudden.Max(e => e.GateDelaySeconds))}.");
        yield return ("Edges", type.HasHysteresis
            ? $"The gate has hysteresis; slow changes are simulated with the least of the family, {SiText.Format(type.GateAtWorst!.Rising(r.SupplyVolts) - type.GateAtWorst.Falling(r.SupplyVolts), "V", 3)}."
            : $"The gate has no hysteresis{(type.SlowestSecondsPerVolt is { } most ? $": it wants to be taken from level to level within {Amounts.Time(most * (r.High.LimitVolts - r.Low.LimitVolts))}" : "")}.");
        if (r.RippleLimitVolts is { } limit)
            yield return ("Ripple", $"At its frequency the hysteresis covers {SiText.Format(limit, "V", 3)} from peak to peak at the sensor.");
        if (r.Edges.All(e => e.IsSudden))
            yield return ("Slow", $"The file does not say how slowly {r.Sensor} may change: write edge TIME below it, and ripple VOLTS at FREQUENCY for what rides on it.");
        foreach (var edge in r.Edges.Where(e => !e.IsClean))
            yield return ("! Warning", LogicWords.Of(r, edge));
    }
}
