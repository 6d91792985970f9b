using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.Reporting.Plots;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What an event does to the pins, as panels: each pin's voltage against time with its rating.</summary>
public static class EventPicture
{
    // A picture is 1,400 points wide: more columns than this would only fatten the file.
    private const int Columns = 1000;

    /// <summary>A panel for each pin.</summary>
    public static ImmutableArray<Panel> Panels(EventResult result) => Panels(result, Shown(result));

    private static ImmutableArray<Panel> Panels(EventResult result, IReadOnlyList<double> shown) =>
        [.. result.Pins.Select(p => Panel(result, p, shown))];

    /// <summary>The same with what comes in and what flows: the terminal where it happens, each pin, and the currents into it.</summary>
    public static ImmutableArray<Panel> WithCauses(EventResult result)
    {
        var shown = Shown(result);
        return
        [
            .. result.Event.Node == Circuit.Ground || result.Pins.Any(p => p.Pin.Node == result.Event.Node) ? Array.Empty<Panel>()
                : [Of(result, result.Event.Node, shown) with { Share = Smaller }],
            .. Panels(result, shown),
            .. result.Pins.Select(p => Currents(result, p.Pin, shown)).OfType<Panel>(),
        ];
    }

    // What explains a picture takes less room than what is judged.
    private const double Smaller = 0.6;

    /// <summary>
    /// The current that comes to a pin through the part that brings most of it, and what the pin's own clamps take of it; null where no
    /// part of two ends brings any.
    /// </summary>
    private static Panel? Currents(EventResult result, Pin pin, IReadOnlyList<double> shown)
    {
        var run = result.Transient;
        Part[] bringing = [.. result.Parts.Select(p => p.Part)
            .Where(p => p.Nodes.Length == 2 && p.Nodes.Contains(pin.Node) && !p.Nodes.Contains(Circuit.Ground)
            && !result.Rails.Any(r => p.Nodes.Contains(r.Rail.Name)))];
        if (bringing.MaxBy(p => Peak(run.Current(p.Name))) is not { } part)
            return null;
        var coming = part.Nodes[0] == pin.Node ? run.Current(part.Name).Times(-1) : run.Current(part.Name);
        var (times, amps) = Outline(shown, coming);
        Curve[] clamps = [];
        if (pin.HasClamps)
        {
            var lower = run.Current(pin.LowerClamp);
            var injected = pin.ClampRail is null ? lower.Times(-1) : run.Current(pin.UpperClamp).Minus(lower);
            var (at, into) = Outline(shown, injected);
            clamps = [new("into the pin's own clamps", at, into, CurveLook.Ideal)];
        }
        return new Panel($"{result.Event.Name}: current to pin {pin.Name}", new("time", "s"), new("current", "A"),
            [new($"through {part.Name}", times, amps, CurveLook.Simulated), .. clamps])
        { Share = Smaller };
    }

    private static double Peak(Trace trace) => Math.Max(trace.Maximum().Value, -trace.Minimum().Value);

    /// <summary>The voltage of a node, such as that of the terminal where it happens.</summary>
    /// <param name="result">The event.</param>
    /// <param name="node">The node.</param>
    public static Panel Of(EventResult result, string node) => Of(result, node, Shown(result, node));

    private static Panel Of(EventResult result, string node, IReadOnlyList<double> shown)
    {
        var (times, volts) = Outline(shown, result.Transient.Voltage(node));
        return new Panel($"{result.Event.Name}: node {node}", new("time", "s"), new("node " + node, "V"),
            [new("", times, volts, CurveLook.Simulated)]);
    }

    private static Panel Panel(EventResult result, PinExposure exposure, IReadOnlyList<double> shown)
    {
        var pin = exposure.Pin;
        var (times, volts) = Outline(shown, result.Transient.Voltage(pin.Node));
        int digits = Figures.Telling(exposure.HighestVolts, exposure.LowestVolts);
        Note Extreme(string name, double volts, double at) =>
            new($"{name}: {SiText.Format(volts, "V", digits)} at {SiText.Format(at, "s")}", at, volts);
        var highest = Extreme("highest", exposure.HighestVolts, exposure.HighestAt);
        var lowest = Extreme("lowest", exposure.LowestVolts, exposure.LowestAt);
        bool lowMatters = exposure.LowerMarginVolts < 0 || exposure.LowerMarginVolts < exposure.UpperMarginVolts;
        bool highMatters = exposure.UpperMarginVolts < 0 || !lowMatters;
        string verdict = exposure.SecondsOutside > 0 ? $"outside its rating for {SiText.Format(exposure.SecondsOutside, "s")}"
            : exposure.IsInside ? "inside its rating"
            : "not inside its rating";
        var bands = RatingBand.Of(pin, times, rail => result.Transient.Voltage(rail).Sample(times));
        var panel = new Panel($"{result.Event.Name}: pin {pin.Name} {verdict}", new("time", "s"), new("pin " + pin.Name, "V"),
            [new("", times, volts, CurveLook.Simulated)]);
        return exposure.IsInside && bands is [{ Low.Y: [var from, ..], High.Y: [var to, ..] }]
            && exposure.HighestVolts - exposure.LowestVolts < Flat * (to - from)
            ? panel with { Notes = [highest, lowest] }
            : panel with
            {
                Bands = bands,
                Notes = [.. highMatters ? [highest] : Array.Empty<Note>(), .. lowMatters ? [lowest] : Array.Empty<Note>()],
            };
    }

    // What moves by less than this share of the rating would be a straight line beside it, and is drawn without it.
    private const double Flat = 0.03;

    // Nothing moves any more once all that is drawn stays within this share of its whole course.
    private const double AtRest = 0.005;

    /// <summary>The steps that are drawn: of a run that is followed until all is at rest, as far as something moves and a third of that
    /// beyond.</summary>
    private static IReadOnlyList<double> Shown(EventResult result, params string[] nodes)
    {
        var times = result.Transient.TimesToDraw();
        var drawn = result.Pins.Select(p => p.Pin.Node).Append(result.Event.Node).Concat(nodes).Where(n => n != Circuit.Ground)
            .Distinct()
            .Select(n => result.Transient.Voltage(n).Sample(times)).ToArray();
        double last = result.Pins.SelectMany(p => new[] { p.HighestAt, p.LowestAt }).Append(0).Max();
        foreach (double[] volts in drawn)
        {
            double near = AtRest * (volts.Max() - volts.Min());
            int moves = Array.FindLastIndex(volts, v => Math.Abs(v - volts[^1]) > near);
            last = Math.Max(last, moves < 0 ? 0 : times[Math.Min(moves + 1, times.Count - 1)]);
        }
        double end = times[0] + (last - times[0]) * 4 / 3;
        return end >= times[^1] || last <= times[0] ? times : [.. times.Where(t => t < end), end];
    }

    /// <summary>
    /// The trace as it is drawn: all steps where there are few, else the highest and lowest of each column of the picture,
    /// so that no peak is lost.
    /// </summary>
    private static (ImmutableArray<double> Times, ImmutableArray<double> Values) Outline(IReadOnlyList<double> steps, Trace trace)
    {
        double[] fine = [.. steps.Zip(steps.Skip(1))
            .SelectMany(s => new[] { 0.0, 0.25, 0.5, 0.75 }.Select(u => s.First + u * (s.Second - s.First))), steps[^1]];
        double[] values = trace.Sample(fine);
        double width = (fine[^1] - fine[0]) / Columns;
        int[] kept = fine.Length <= 2 * Columns
            ? [.. Enumerable.Range(0, fine.Length)]
            : [0, .. Enumerable.Range(0, fine.Length).GroupBy(k => (int)((fine[k] - fine[0]) / width))
                .SelectMany(column => new[] { column.MinBy(k => values[k]), column.MaxBy(k => values[k]) }.Order().Distinct()),
                    fine.Length - 1];
        return ([.. kept.Select(k => fine[k])], [.. kept.Select(k => values[k])]);
    }
}
