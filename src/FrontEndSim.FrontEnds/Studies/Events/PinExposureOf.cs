using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>Reads from a transient what reaches a pin, and judges it.</summary>
internal static class PinExposureOf
{
    public static PinExposure Run(FrontEnd frontEnd, Pin pin, FaultEvent fault, TransientResult run)
    {
        var volts = run.Voltage(pin.Node);
        var (highestAt, highest) = volts.Maximum();
        var (lowestAt, lowest) = volts.Minimum();
        var exposure = new PinExposure
        {
            Pin = pin,
            HighestVolts = highest,
            HighestAt = highestAt,
            LowestVolts = lowest,
            LowestAt = lowestAt,
            IsInside = false,
            Reason = "",
        };
        double outside = 0;
        if (pin.RatedHigh is { } upper)
        {
            // Measured from the rail, so that a rail which is lifted or lost moves the rating with it.
            var above = upper.Rail is null ? volts : EventStudy.Between(run, pin.Node, upper.Rail);
            var (at, most) = above.Maximum();
            outside += above.TimeAbove(upper.Volts);
            exposure = exposure with { UpperMarginVolts = upper.Volts - most, UpperRatingVolts = volts.At(at) + (upper.Volts - most) };
        }
        if (pin.RatedLow is { } lower)
        {
            var below = lower.Rail is null ? volts : EventStudy.Between(run, pin.Node, lower.Rail);
            var (at, least) = below.Minimum();
            outside += below.TimeBelow(lower.Volts);
            exposure = exposure with { LowerMarginVolts = least - lower.Volts, LowerRatingVolts = volts.At(at) - (least - lower.Volts) };
        }
        exposure = WithSupply(exposure with { SecondsOutside = outside }, frontEnd, rail => run.Voltage(rail).Maximum().Value);
        if (pin.HasClamps)
        {
            var lowerClamp = run.Current(pin.LowerClamp);
            var upperClamp = pin.ClampRail is null ? null : run.Current(pin.UpperClamp);
            exposure = exposure with
            {
                UpperInjectionAmps = Math.Max(0, upperClamp?.Maximum().Value ?? 0),
                LowerInjectionAmps = Math.Max(0, lowerClamp.Maximum().Value),
                InjectionCoulombs = lowerClamp.IntegralAbove(0) + (upperClamp?.IntegralAbove(0) ?? 0),
            };
            if (pin.InjectionAmps is { } rated)
                exposure = exposure with { InjectionMarginAmps = rated - Math.Max(exposure.UpperInjectionAmps, exposure.LowerInjectionAmps) };
        }
        return Judged(exposure, () => PinRemedy.For(frontEnd, exposure, fault, run));
    }

    /// <summary>What stands at a pin at rest, judged alike. Times are 0, and nothing is counted as outside for any time.</summary>
    public static PinExposure AtRest(FrontEnd frontEnd, Pin pin, OperatingPoint point)
    {
        double volts = Volts(pin.Node);
        var exposure = new PinExposure { Pin = pin, HighestVolts = volts, HighestAt = 0, LowestVolts = volts, LowestAt = 0, IsInside = false, Reason = "" };
        if (pin.RatedHigh is { } upper)
            exposure = exposure with { UpperRatingVolts = upper.Resolve(Volts), UpperMarginVolts = upper.Resolve(Volts) - volts };
        if (pin.RatedLow is { } lower)
            exposure = exposure with { LowerRatingVolts = lower.Resolve(Volts), LowerMarginVolts = volts - lower.Resolve(Volts) };
        if (pin.HasClamps)
        {
            exposure = exposure with
            {
                LowerInjectionAmps = Math.Max(0, point.Parts[pin.LowerClamp].Amps),
                UpperInjectionAmps = pin.ClampRail is null ? 0 : Math.Max(0, point.Parts[pin.UpperClamp].Amps),
            };
            if (pin.InjectionAmps is { } rated)
                exposure = exposure with { InjectionMarginAmps = rated - Math.Max(exposure.UpperInjectionAmps, exposure.LowerInjectionAmps) };
        }
        return Judged(WithSupply(exposure, frontEnd, Volts), () => "");

        double Volts(string node) => node == Circuit.Ground ? 0 : point.Nodes[node];
    }

    private static PinExposure WithSupply(PinExposure exposure, FrontEnd frontEnd, Func<string, double> highest) =>
        frontEnd.Rails.FirstOrDefault(r => r.Name == exposure.Pin.ClampRail) is not { } rail ? exposure : exposure with
        {
            SupplyHighestVolts = highest(rail.Name),
            SupplyMarginVolts = rail.HighestVolts - highest(rail.Name),
        };

    private static PinExposure Judged(PinExposure exposure, Func<string> remedy)
    {
        double?[] margins = [exposure.UpperMarginVolts, exposure.LowerMarginVolts, exposure.InjectionMarginAmps];
        bool isRated = margins.Any(m => m is not null);
        bool inside = isRated && margins.All(m => m is null or >= 0) && exposure.SupplyMarginVolts is null or >= 0;
        string name = exposure.Pin.Name;
        return exposure with
        {
            IsInside = inside,
            Reason = !isRated ? $"Pin {name} has no rating, so nothing shows that it survives." : inside ? Kept(exposure) : Broken(exposure),
            Remedy = inside ? "" : !isRated ? $"Give pin {name} the ratings from its data sheet." : remedy(),
        };
    }

    private static string Kept(PinExposure e)
    {
        List<string> parts = [];
        if (e.UpperMarginVolts is { } upper)
            parts.Add($"peaks at {V(e.HighestVolts)}, {V(upper)} inside {Rated(e.Pin.RatedHigh!, e.UpperRatingVolts!.Value)}");
        if (e.LowerMarginVolts is { } lower)
            parts.Add($"falls to {V(e.LowestVolts)}, {V(lower)} inside {Rated(e.Pin.RatedLow!, e.LowerRatingVolts!.Value)}");
        if (e.InjectionMarginAmps is not null)
            parts.Add($"its clamps carry at most {A(Math.Max(e.UpperInjectionAmps, e.LowerInjectionAmps))} of {A(e.Pin.InjectionAmps!.Value)}");
        return Sentence(e, parts);
    }

    private static string Sentence(PinExposure e, List<string> parts) =>
        $"Pin {e.Pin.Name}{(parts[0].StartsWith("its", StringComparison.Ordinal) ? ":" : "")} {string.Join("; ", parts)}.";

    private static string Broken(PinExposure e)
    {
        List<string> parts = [];
        if (e.UpperMarginVolts is < 0 and { } upper)
            parts.Add($"reaches {V(e.HighestVolts)}, {V(-upper)} above its rating of {Rated(e.Pin.RatedHigh!, e.UpperRatingVolts!.Value)}");
        if (e.LowerMarginVolts is < 0 and { } lower)
            parts.Add($"falls to {V(e.LowestVolts)}, {V(-lower)} below its rating of {Rated(e.Pin.RatedLow!, e.LowerRatingVolts!.Value)}");
        if (e.SecondsOutside > 0)
            parts.Add($"is outside for {SiText.Format(e.SecondsOutside, "s", 3)}");
        if (e.InjectionMarginAmps is < 0)
        {
            string side = e.UpperInjectionAmps > e.LowerInjectionAmps ? "upper" : "lower";
            parts.Add($"its own {side} clamp carries {A(Math.Max(e.UpperInjectionAmps, e.LowerInjectionAmps))}, rated {A(e.Pin.InjectionAmps!.Value)}");
        }
        if (e.SupplyMarginVolts is < 0 and { } supply)
            parts.Add($"its supply {e.Pin.ClampRail} is lifted to {V(e.SupplyHighestVolts!.Value)}, {V(-supply)} more than a device on it can be trusted to stand");
        return Sentence(e, parts);
    }

    private static string Rated(Level level, double volts) => level.Rail is null ? level.ToString() : $"{V(volts)} ({level})";

    private static string V(double volts) => SiText.Format(volts, "V", 3);

    private static string A(double amps) => SiText.Format(amps, "A", 3);
}
