using FrontEndSim.FrontEnds;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>The verdict on one screen: first whether the requirements hold, then why, then what it rests on.</summary>
internal static class CheckScreen
{
    public static IEnumerable<IRenderable> Of(CheckResult check)
    {
        yield return Blocks.Margin([(Blocks.Verdict(check.AllMet), Blocks.Word(Verdict(check))), (Text.Empty, new Text(check.Title))]);
        yield return Blocks.Blank;
        if (!check.Requirements.IsEmpty)
        {
            yield return Blocks.Margin(check.Requirements.SelectMany(Lines));
            yield return Blocks.Blank;
        }
        yield return Blocks.Margin(
        [
            .. check.Mappings.Select(m => ((IRenderable)Blocks.Word("Mapping"), (IRenderable)new Text(Summary(m)))),
            .. check.Logic.Select(l => ((IRenderable)Blocks.Word("Levels"), (IRenderable)new Text(LogicScreen.Summary(l)))),
            .. check.Events.IsEmpty ? [] : new[] { ((IRenderable)Blocks.Word("Events"), Events(check)) },
            (Blocks.Word("Audit"), new Text(Blocks.Audit(check.KirchhoffAmps, check.Events.IsEmpty ? null : check.EnergyImbalance, null))),
            .. check.Warnings.Select(w => ((IRenderable)Blocks.Warning("! Warning"), (IRenderable)new Text(w))),
            .. check.Cautions.Select(c => ((IRenderable)Blocks.Warning("! Caution"), (IRenderable)new Text(c))),
        ]);
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
        yield return (Blocks.Verdict(r.Met), new Text(r.Requirement.Text));
        yield return (Text.Empty, new Text($"{r.Actual}, limit {r.Limit}, margin {r.Margin}. {r.Reason}"));
        if (r.Remedy != "")
            yield return (Text.Empty, new Text($"To mend it: {r.Remedy}"));
    }

    /// <summary>Where the span lands, by how much it is off and why, and how near the op amps come to their limits.</summary>
    public static string Summary(MappingResult m)
    {
        var (first, last, worst) = (m.Points[0], m.Points[^1], m.Worst);
        bool converts = first.Code >= 0;
        string unit = converts ? "counts" : "mV", codes = converts ? $", codes {first.Code:0} .. {last.Code:0}" : "";
        string headroom = string.Concat(m.Headroom.Select(h => "\n" + Blocks.Headroom(h)));
        return $"{m.Sensor} {Blocks.Volts(first.SensorVolts)} .. {Blocks.Volts(last.SensorVolts)} lands on {m.Pin} "
            + $"{Blocks.Volts(first.PinVolts)} .. {Blocks.Volts(last.PinVolts)} (wanted {Blocks.Volts(first.IdealVolts)} .. {Blocks.Volts(last.IdealVolts)}){codes}\n"
            + $"off by at most {Blocks.Signed(worst.ErrorCounts)} {unit} at {Blocks.Volts(worst.SensorVolts)}: offset {Blocks.Signed(m.OffsetErrorCounts)}, gain {Blocks.Signed(m.GainErrorCounts)}, "
            + $"curvature {Blocks.Signed(m.CurvatureCounts)} {unit}" + headroom;
    }

    private static IRenderable Events(CheckResult check) => Blocks.Table(["event", "pin", "lowest", "highest", "outside for", "into clamps", "hardest on"],
        [2, 3, 4, 5], check.Events.SelectMany(e => e.Pins.Select(p => new[]
        {
            e.Event.Name, p.Pin.Name, Blocks.Volts(p.LowestVolts), Blocks.Volts(p.HighestVolts), SiText.Format(p.SecondsOutside, "s", 3),
            SiText.Format(Math.Max(p.UpperInjectionAmps, p.LowerInjectionAmps), "A", 3),
            e.Parts.FirstOrDefault(s => s.Share is not null) is { } hardest ? $"{hardest.Part.Name} {SiText.Format(hardest.Share!.Value, "%", 3)}" : "",
        })));
}
