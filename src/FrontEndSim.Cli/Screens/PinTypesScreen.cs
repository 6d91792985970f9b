using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli.Screens;

/// <summary>Types of pin: a line each, or all that is known of one.</summary>
internal static class PinTypesScreen
{
    public static IEnumerable<IRenderable> List(IReadOnlyList<PinType> types)
    {
        yield return Blocks.Table(["pin type", "rated", "into clamps", "leakage", "low, high", "source"], [2, 3], types.Select(t => new[]
        {
            t.Name, Rated(t), SiText.Format(t.InjectionAmps, "A"), SiText.Format(t.LeakageAmps, "A"), Thresholds(t), t.Source,
        }));
        yield return Blocks.Blank;
    }

    public static IEnumerable<IRenderable> Of(PinType type)
    {
        yield return Blocks.Title($"pin type {type.Name}: {type.Summary}");
        yield return Blocks.Table(["number", "value"], [1], PinTypesDocument.Numbers(type).Select(n => new[]
        {
            n.What, n.Unit == "of the supply" ? SiText.Format(n.Value, "%") + " of the supply" : SiText.Format(n.Value, n.Unit),
        }));
        yield return Blocks.Blank;
        if (type.LowBelow(type.Supply.High) is not null && type.LowShare is not null)
        {
            yield return Blocks.Table(["supply", "reads low below", "reads high above"], [0, 1, 2], ((double[])[type.Supply.Low, type.Supply.High]).Select(v => new[]
            {
                SiText.Format(v, "V"), SiText.Format(type.LowBelow(v)!.Value, "V"), SiText.Format(type.HighAbove(v)!.Value, "V"),
            }));
            yield return Blocks.Blank;
        }
        if (type.AboveSupplyVolts is { } above)
            yield return new Text($"With its supply off it stands {SiText.Format(above, "V")}: what drives it then feeds it through its clamps.\n");
        yield return new Text($"In a file, below a pin: type {type.Name} on RAIL. Ratings are limits and not working values.\n");
        yield return new Text($"Source: {type.Source}. The device's own data sheet goes before it.\n");
    }

    private static string Rated(PinType t) => $"{SiText.Plain(-t.BelowGroundVolts, "V")} .. "
        + (t.AboveSupplyVolts is { } above ? $"supply + {SiText.Plain(above, "V")}" : SiText.Plain(t.HighestVolts!.Value, "V"));

    private static string Thresholds(PinType t) => t.LowShare is { } share ? $"{SiText.Format(share, "%")}, {SiText.Format(t.HighShare!.Value, "%")}"
        : t.LowVolts is { } volts ? $"{SiText.Plain(volts, "V")}, {SiText.Plain(t.HighVolts!.Value, "V")}" : "-";
}
