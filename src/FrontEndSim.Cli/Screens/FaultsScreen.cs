using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>What reaches the pins with one thing broken: the verdict, the table, and the reason for each fault that breaks a rating.</summary>
internal static class FaultsScreen
{
    public static IEnumerable<IRenderable> Of(FaultsResult faults)
    {
        var broken = faults.Faults.Where(f => !f.Survives).ToArray();
        yield return Blocks.Margin([(Blocks.Verdict(broken.Length == 0), Blocks.Word(Verdict(faults, broken.Length))), (Text.Empty, new Text(faults.Title))]);
        yield return Blocks.Blank;
        yield return Blocks.Table(["broken", "pin", "lower end", "upper end", "in the worst event", "into clamps", "pin"], [2, 3, 4, 5],
            faults.Whole.Concat(faults.Faults).Select(r => new[]
            {
                r.Text, r.Pin, Volts(r.AtLowEnd), Volts(r.AtHighEnd),
                r.InWorstEvent is { } e ? $"{Blocks.Volts(e.LowestVolts)} .. {Blocks.Volts(e.HighestVolts)}" : "",
                r.InWorstEvent is { } i ? SiText.Format(Math.Max(i.UpperInjectionAmps, i.LowerInjectionAmps), "A", 3) : "",
                r.Survives ? "+ survives" : "- BREAKS",
            }));
        if (broken.Length + faults.Cautions.Length == 0)
            yield break;
        yield return Blocks.Blank;
        yield return Blocks.Margin(
        [
            .. broken.SelectMany(f => new[]
            {
                ((IRenderable)Blocks.Warning("- BREAKS"), (IRenderable)new Text(f.Text + ", pin " + f.Pin)), (Text.Empty, new Text(FaultWords.Of(f))),
            }),
            .. faults.Cautions.Select(c => ((IRenderable)Blocks.Warning("! Caution"), (IRenderable)new Text(c))),
        ]);
    }

    private static string Verdict(FaultsResult faults, int broken) => faults.Faults.IsEmpty ? "There is nothing that could be broken."
        : broken == 0 ? $"The pins survive all {faults.Faults.Length} single faults."
        : $"{broken} of {faults.Faults.Length} single faults break a pin's rating.";

    private static string Volts(PinExposure? e) => e is null ? "" : Blocks.Volts(e.HighestVolts);
}
