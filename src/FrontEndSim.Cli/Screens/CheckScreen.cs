using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The verdict on one screen: first whether the requirements hold, then why, then what it rests on.</summary>
internal static class CheckScreen
{
    /// <summary>The screen: the number that decides each requirement, or with details the reason of each, met or not.</summary>
    public static IEnumerable<IRenderable> Of(CheckResult check, bool details)
    {
        yield return Blocks.Margin([(Blocks.Verdict(check.Verdict), Blocks.Word(Verdict(check))), (Text.Empty, new Text(check.Title))]);
        yield return Blocks.Blank;
        if (!check.Requirements.IsEmpty)
        {
            yield return details ? Blocks.Margin(check.Requirements.SelectMany(Lines)) : Table(check.Requirements);
            yield return Blocks.Blank;
            if (!details && !check.AllMet)
            {
                yield return Blocks.Margin(check.Requirements.Where(r => !r.Met).SelectMany(Why));
                yield return Blocks.Blank;
            }
        }
        yield return Blocks.Margin(
        [
            .. check.Mappings.Select(m => ((IRenderable)Blocks.Word("Mapping"), (IRenderable)new Text(details ? Summary(m) : Line(m)))),
            .. check.Costs.Where(c => !c.Parts.IsEmpty).Select(c => ((IRenderable)Blocks.Word("Cost"), (IRenderable)new Text(CostWords.Of(c)))),
            .. check.Logic.Select(l => ((IRenderable)Blocks.Word("Levels"), (IRenderable)new Text(LogicScreen.Summary(l)))),
            .. check.Events.IsEmpty ? [] : new[] { ((IRenderable)Blocks.Word("Events"), Events(check, details)) },
            (Blocks.Word("Audit"), new Text(Blocks.Audit(check.KirchhoffShare, check.Events.IsEmpty ? null : check.EnergyImbalance, null))),
            .. check.Warnings.Select(w => ((IRenderable)Blocks.Warning("! Warning"), (IRenderable)new Text(WarningWords.Of(w)))),
            .. check.Cautions.Select(c => ((IRenderable)Blocks.Warning("! Caution"), (IRenderable)new Text(c))),
            .. details || check.Requirements.IsEmpty ? [] : new[]
            {
                ((IRenderable)Blocks.Word("More"), (IRenderable)new Text("--details: the reasons of what holds, headroom, what the clamps carry.")),
            },
        ]);
    }

    private static Table Table(IEnumerable<RequirementResult> requirements)
    {
        var table = Blocks.Table(["", "requirement", "found", "limit", "margin"], [2, 3, 4],
            requirements.Select(r => (IRenderable[])[Blocks.Verdict(r.Verdict), new Text(r.Requirement.Text), new Text(RequirementWords.Found(r)), new Text(RequirementWords.Limit(r)),
                new Text(RequirementWords.Margin(r))]));
        table.Columns[0].Width(9).NoWrap(); // as wide as the margin of what follows
        return table;
    }

    private static IEnumerable<(IRenderable, IRenderable)> Why(RequirementResult r)
    {
        yield return (Blocks.Word("Why"), new Text($"{r.Requirement.Text}: {RequirementWords.Reason(r)}"));
        if (!r.Mends.IsEmpty)
            yield return (Blocks.Word("To mend"), new Text(RequirementWords.Remedy(r)));
    }

    private static string Verdict(CheckResult check)
    {
        int all = check.Requirements.Length, failed = check.Requirements.Count(r => !r.Met);
        return all == 0 ? "No requirement is written, so nothing is judged. Write one, such as: require adc inside rating in every event"
            : failed == 0 ? all switch { 1 => "The requirement holds.", 2 => "Both requirements hold.", _ => $"All {all} requirements hold." }
            : all == 1 ? "The requirement does not hold." : $"{failed} of {all} requirements {(failed == 1 ? "does" : "do")} not hold.";
    }

    private static IEnumerable<(IRenderable, IRenderable)> Lines(RequirementResult r)
    {
        yield return (Blocks.Verdict(r.Verdict), new Text(r.Requirement.Text));
        yield return (Text.Empty, new Text($"{RequirementWords.Found(r)}, limit {RequirementWords.Limit(r)}, margin {RequirementWords.Margin(r)}. {RequirementWords.Reason(r)}"));
        if (!r.Mends.IsEmpty)
            yield return (Text.Empty, new Text($"To mend it: {RequirementWords.Remedy(r)}"));
    }

    /// <summary>Where the span lands, by how much it is off and why, and how near the op amps come to their limits.</summary>
    public static string Summary(MappingResult m) => Line(m) + string.Concat(m.Headroom.Select(h => "\n" + Blocks.Headroom(h)));

    /// <summary>Where the span lands, by how much it is off and why.</summary>
    private static string Line(MappingResult m)
    {
        var (first, last, worst) = (m.Points[0], m.Points[^1], m.Worst);
        bool converts = first.Code >= 0;
        string unit = converts ? "counts" : "mV", codes = converts ? $", codes {first.Code:0} .. {last.Code:0}" : "";
        return $"{m.Sensor} {Blocks.Volts(first.SensorVolts)} .. {Blocks.Volts(last.SensorVolts)} lands on {m.Pin} "
            + $"{Blocks.Volts(first.PinVolts)} .. {Blocks.Volts(last.PinVolts)} (wanted {Blocks.Volts(first.IdealVolts)} .. {Blocks.Volts(last.IdealVolts)}){codes}\n"
            + $"off by at most {SiText.Signed(worst.ErrorCounts)} {unit} at {Blocks.Volts(worst.SensorVolts)}: offset {SiText.Signed(m.OffsetErrorCounts)}, gain {SiText.Signed(m.GainErrorCounts)}, "
            + $"curvature {SiText.Signed(m.CurvatureCounts)} {unit}";
    }

    private static Table Events(CheckResult check, bool details)
    {
        var rows = check.Events.SelectMany(e => e.Pins.Select(p => (Event: e, Pin: p))).ToArray();
        // A column that says nothing is left out: no pin leaves its rating, no clamp carries a hundredth of what it may.
        bool leaves = details || rows.Any(r => r.Pin.SecondsOutside > 0), clamps = details || rows.Any(r => Injected(r.Pin) > 0.01 * (r.Pin.Pin.InjectionAmps ?? 1e-4));
        string[] header = ["event", "pin", "lowest", "highest", .. leaves ? ["outside for"] : Array.Empty<string>(), .. clamps ? ["into clamps"] : Array.Empty<string>(), "hardest on"];
        return Blocks.Table(header, [.. Enumerable.Range(2, header.Length - 3)], rows.Select(r => (string[])
        [
            r.Event.Event.Name, r.Pin.Pin.Name, Blocks.Volts(r.Pin.LowestVolts), Blocks.Volts(r.Pin.HighestVolts),
            .. leaves ? [SiText.Format(r.Pin.SecondsOutside, "s", 3)] : Array.Empty<string>(),
            .. clamps ? [SiText.Format(Injected(r.Pin), "A", 3)] : Array.Empty<string>(),
            r.Event.Parts.FirstOrDefault(s => s.Share is not null) is { } hardest ? $"{hardest.Part.Name} {SiText.Format(hardest.Share!.Value, "%", 3)}" : "",
        ]));
    }

    private static double Injected(PinExposure pin) => Math.Max(pin.UpperInjectionAmps, pin.LowerInjectionAmps);
}
